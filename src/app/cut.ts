import type { CutBlock } from '../cutting/cuts.js';
import { blocksOf, type MarkBlocks, type Operation } from '../cutting/operation.js';
import type { Edition } from '../documents/schema/edition.js';
import { labelIndexOf } from '../edition/label-index.js';
import type { Numbered } from '../edition/labels.js';
import { type PieceSelection, selectPieces } from '../edition/piece-selection.js';
import { pieceFolder, programFile, sheetFile } from '../piece-files.js';
import { within } from '../problem.js';
import { type CuttablePiece, cuttablePieces } from '../register/cuttable/cuttable.js';
import {
  blocksOnSheet,
  cutSurfaces,
  proofScene,
  runSheetScene,
  turnedScenes,
} from '../sheets/edition-scenes.js';
import { fileCanvas } from '../sheets/file-canvas.js';
import { writeProof } from '../sheets/proof.js';
import { type RunPiece, writeRunSheet } from '../sheets/run-sheet.js';
import { type SheetWriter, sheetWriter } from '../sheets/sheet.js';
import type { Canvas } from '../sheets/svg-canvas.js';
import { turnedView } from '../sheets/turned-view.js';
import type { MachineSetup } from '../station/machine-setup.js';
import type { TextChunks } from '../text-chunks.js';
import { cutParts } from './current-terms.js';
import { enterPrograms } from './enter-programs.js';
import { fitEdition, fittedOperations } from './fit.js';
import { editionOf, findDocument } from './open-documents.js';
import { operationPrograms } from './programs.js';
import { noProgress, type Progress } from './progress.js';
import { sceneSources } from './scene-sources.js';
import type { TellProblem } from './sign-log.js';
import { differenceFrom, knownByDigest } from './staged-files.js';
import { stage } from './staging.js';
import { statusesForCutting } from './statuses.js';
import type { Workshop } from './workshop.js';
import type { FileToWrite } from './write-files.js';

export interface CutOrder {
  readonly edition: string;
  readonly wanted: PieceSelection;
  readonly station: string;
  readonly out: string;
  /** Only these parts of each piece; all that are not done when left out. */
  readonly parts?: readonly string[];
  /** Who cuts; the program itself when left out. */
  readonly by?: string;
}

export interface CutPiece extends Numbered {
  /** Paths below the output folder. */
  readonly sheets: readonly string[];
  readonly programs: readonly string[];
  readonly minutes: number;
}

export interface CutDone {
  readonly ok: true;
  readonly edition: string;
  readonly station: string;
  readonly out: string;
  readonly pieces: readonly CutPiece[];
  readonly runSheet: string;
  readonly proof: string;
  /** Each part as the first piece looks from four sides. */
  readonly turned: readonly string[];
  /** Machine time of all programs, minutes. */
  readonly minutes: number;
}

/**
 * Sheets, proved programs, run sheet and proof for issued numbers. Everything is on disk, and entered in the register as
 * made, before any of it is shown in the output folder; `notSigned` gets what kept the log from being signed. Throws a Refusal: exit 1 when something does not fit or the station cannot run it, 2 for a
 * wrong order, 3 when a piece may not be cut: not issued, withheld, spoiled, or engraved already.
 */
export async function cutEdition(
  workshop: Workshop,
  order: CutOrder,
  progress: Progress = noProgress,
  notSigned: TellProblem = () => undefined,
): Promise<CutDone> {
  const edition = editionOf(workshop, order.edition);
  findDocument(workshop.documents.stations, 'station', order.station);
  const labels = labelIndexOf(edition, order.edition);
  const selected = selectPieces(labels, order.wanted);
  const wanted = cuttablePieces(order.edition, selected, await statusesForCutting(workshop, order.edition), {
    all: cutParts(workshop, edition),
    wanted: order.parts,
  });
  const job = { edition, id: order.edition, planned: labels.planned, station: order.station, wanted };
  const { staging, made, summary } = await writeJob(workshop, job, order.out, progress);
  try {
    await staging.publish(() => enterPrograms(workshop, order, edition, made, notSigned));
    return { ok: true, edition: order.edition, station: order.station, out: order.out, ...summary };
  } catch (error) {
    await staging.discard();
    throw error;
  }
}

/** Writes all files of a job. Whoever enters them afterwards holds no more than which pieces they are for. */
async function writeJob(workshop: Workshop, job: CutJob, out: string, progress: Progress) {
  const cut = cutJob(workshop, job, progress);
  const staging = await stage(out);
  try {
    const runs = await staging.writeFiles(writePrograms(workshop, job, cut, progress));
    const canvas = await fileCanvas();
    const summary = await staging.writeFiles(writeSheets(canvas, workshop, job, cut, runs, progress));
    return { staging, summary, made: piecesByPart(cut) };
  } catch (error) {
    await staging.discard();
    throw error;
  }
}

type Summary = Pick<CutDone, 'pieces' | 'runSheet' | 'proof' | 'turned' | 'minutes'>;

/** What is to be cut, and on which station. */
export interface CutJob {
  readonly edition: Edition;
  /** Of the edition. */
  readonly id: string;
  /** Every label the edition plans: all take part in the fit. */
  readonly planned: readonly Numbered[];
  readonly station: string;
  readonly wanted: readonly CuttablePiece[];
}

/** An operation of a job, and the pieces that go through it, each with its blocks in cutting order. */
export interface JobOperation {
  readonly operation: Operation;
  readonly pieces: readonly { readonly piece: CuttablePiece; readonly blocks: readonly CutBlock[] }[];
}

/** Fits and cuts the marks of a job. The proof shows every planned label, so all of them are cut. */
export function cutJob(
  workshop: Workshop,
  { id, planned, wanted }: CutJob,
  progress: Progress = noProgress,
): JobOperation[] {
  const operationsFor = fittedOperations(fitEdition(workshop, id, planned, progress));
  const operations = operationsFor(planned.map(({ label }) => label));
  return operations.map((operation) => ({ operation, pieces: piecesOf(operation, wanted) }));
}

/** An operation with the programs that were written for it. */
export interface ProgramRun {
  readonly operation: Operation;
  readonly setup: MachineSetup;
  readonly pieces: readonly RunPiece[];
}

/**
 * The programs of a job, file by file, so that no big edition is ever held in memory; at their end, what the run sheet
 * says of each. Pure: the same documents and pieces give the same bytes. Throws a Refusal (exit 1) when the station
 * cannot run an operation, or a program does not read back as laid out.
 */
export function* writePrograms(
  workshop: Workshop,
  { id, planned, station }: CutJob,
  cut: readonly JobOperation[],
  progress: Progress = noProgress,
): Generator<FileToWrite, ProgramRun[]> {
  const count = cut.reduce((sum, { pieces }) => sum + pieces.length, 0);
  let written = 0;
  const all = cut.map(({ operation, pieces }) => ({
    ...operationPrograms(workshop, id, station, operation, planned),
    cut: pieces,
    pieces: [] as RunPiece[],
  }));
  for (const { operation, program, cut, pieces } of all) {
    for (const { piece, blocks } of cut) {
      const { label } = piece;
      const file = pathOf(piece, programFile(operation.part, operation.surfaceId, operation.cutter));
      const { text, check, minutes } = within(`label ${label}`, () => program(label, blocks));
      yield { path: file, text, check };
      pieces.push({ label, file, minutes });
      progress('programs', ++written, count);
    }
  }
  return all;
}

/** The sheets of a job, its run sheet, proof and views, file by file; at their end, what the whole job came to. */
export function* writeSheets(
  canvas: Canvas,
  workshop: Workshop,
  { edition, planned, station, wanted }: CutJob,
  cut: readonly JobOperation[],
  runs: readonly ProgramRun[],
  progress: Progress = noProgress,
): Generator<FileToWrite, Summary> {
  const sources = sceneSources(workshop, edition, planned);
  const operations = cut.map(({ operation }) => operation);
  const surfaces = cutSurfaces(sources, operations);
  const sheets = surfaces.map((s) => ({ ...s, write: sheetWriter(canvas, s.scene) }));
  const programsOf = inTurn(runs);
  const pieces: CutPiece[] = [];
  for (const one of wanted) {
    const { series, number, label, done } = one;
    const wantedSheets = sheets.filter(({ part }) => !done?.has(part));
    const drawn = wantedSheets.map(({ part, surfaceId }) => pathOf(one, sheetFile(part, surfaceId)));
    for (const [k, { marks, write }] of wantedSheets.entries()) yield sheetOf(drawn[k]!, label, marks, write);
    const own = programsOf(label);
    const minutes = own.reduce((sum, p) => sum + p.minutes, 0);
    pieces.push({ series, number, label, sheets: drawn, programs: own.map((p) => p.file), minutes });
    progress('pieces', pieces.length, wanted.length);
  }
  const drawnRuns = runs
    .filter((run) => run.pieces.length > 0)
    .map((run) => {
      const { part, surfaceId } = run.operation;
      return { ...run, scene: surfaces.find((s) => s.part === part && s.surfaceId === surfaceId)!.scene };
    });
  const stationDocument = workshop.documents.stations.get(station)!;
  const runSheet = runSheetScene(sources, stationDocument, wanted, drawnRuns);
  yield singleFile(RUN_SHEET, [writeRunSheet(canvas, runSheet)]);
  yield singleFile(PROOF, writeProof(canvas, proofScene(sources, surfaces)));
  const turned: string[] = [];
  for (const { part, scene } of turnedScenes(edition, surfaces, wanted[0]!.label)) {
    const path = `turned-${part}.svg`;
    yield singleFile(path, [turnedView(canvas, scene)]);
    turned.push(path);
  }
  const minutes = pieces.reduce((sum, p) => sum + p.minutes, 0);
  return { pieces, runSheet: RUN_SHEET, proof: PROOF, turned, minutes };
}

/** The programs of one piece after another, which every run has in the same order: no list of all is made. */
function inTurn(runs: readonly ProgramRun[]): (label: string) => RunPiece[] {
  const next = runs.map(() => 0);
  return (label) =>
    runs.flatMap(({ pieces }, k) => {
      const piece = pieces[next[k]!];
      if (piece?.label !== label) return [];
      next[k]!++;
      return [piece];
    });
}

/** The pieces of which each part is cut. */
export function piecesByPart(cut: readonly JobOperation[]): ReadonlyMap<string, readonly Numbered[]> {
  const byPart = new Map<string, Map<string, Numbered>>();
  for (const { operation, pieces } of cut) {
    const known = byPart.get(operation.part) ?? new Map<string, Numbered>();
    byPart.set(operation.part, known);
    for (const { piece } of pieces) known.set(piece.label, piece);
  }
  return new Map(Array.from(byPart, ([part, pieces]) => [part, [...pieces.values()]]));
}

/** The pieces that go through an operation, each with its blocks in cutting order. */
function piecesOf(operation: Operation, wanted: readonly CuttablePiece[]) {
  const left = wanted.filter(({ done }) => !done?.has(operation.part));
  const cut = left.map((piece) => ({ piece, blocks: blocksOf(operation, piece.label) }));
  // A piece without a dedication has nothing cut where others have theirs.
  return cut.filter(({ blocks }) => blocks.length > 0);
}

/** Made here, so that its check holds no more than it needs. */
function sheetOf(path: string, label: string, marks: readonly MarkBlocks[], write: SheetWriter): FileToWrite {
  const text = () => write(label, blocksOnSheet(marks, label));
  return { path, text: text(), check: (bytes) => differenceFrom(bytes, text()) };
}

/** A file that shares nothing with others. */
const singleFile = (path: string, text: TextChunks): FileToWrite => ({ path, ...knownByDigest(text) });

const RUN_SHEET = 'run-sheet.html';
const PROOF = 'proof.svg';

/** Joined as a list: a text that is added up keeps its parts for as long as it is kept itself. */
const pathOf = (piece: Numbered, file: string): string => [pieceFolder(piece), file].join('/');
