import { blocksOf, type Operation } from '../cutting/operation.js';
import type { Edition } from '../documents/schema/edition.js';
import { labelIndexOf } from '../edition/label-index.js';
import type { Numbered } from '../edition/labels.js';
import { type PieceSelection, selectPieces } from '../edition/piece-selection.js';
import { type CuttablePiece, cuttablePieces } from '../register/cuttable/cuttable.js';
import { cutSurfaces, proofScene, runSheetScene, turnedScenes } from '../sheets/edition-scenes.js';
import { fileCanvas } from '../sheets/file-canvas.js';
import { writeProof } from '../sheets/proof.js';
import { type RunPiece, writeRunSheet } from '../sheets/run-sheet.js';
import { sheetWriter } from '../sheets/sheet.js';
import type { Canvas } from '../sheets/svg-canvas.js';
import { turnedView } from '../sheets/turned-view.js';
import type { TextChunks } from '../text-chunks.js';
import type { FileToWrite } from './fill.js';
import { fitEdition, fittedOperations } from './fit.js';
import { operationPrograms } from './programs.js';
import { sceneSources } from './scene-sources.js';
import { checkByDigest } from './staged-files.js';
import { stage } from './staging.js';
import { statusesOf } from './statuses.js';
import { editionOf, named, type Workshop } from './workshop.js';

export interface CutOrder {
  readonly edition: string;
  readonly wanted: PieceSelection;
  readonly station: string;
  readonly out: string;
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
 * Sheets, proved programs, run sheet and proof for issued numbers. Everything is on disk before any of it is shown
 * in the output folder. Throws a Refusal: exit 1 when something does not fit or the station cannot run it, 2 for a
 * wrong order, 3 when a piece may not be cut: not issued, withheld, spoiled, or engraved already.
 */
export async function cutEdition(workshop: Workshop, order: CutOrder): Promise<CutDone> {
  const edition = editionOf(workshop, order.edition);
  named(workshop.documents.stations, 'station', order.station);
  const labels = labelIndexOf(edition, order.edition);
  const selected = selectPieces(labels, order.wanted);
  const wanted = cuttablePieces(order.edition, selected, await statusesOf(workshop, order.edition));
  const staging = await stage(order.out);
  try {
    const job = { edition, id: order.edition, planned: labels.planned, station: order.station, wanted };
    const summary = await staging.fill(writeJob(await fileCanvas(), workshop, job));
    await staging.publish();
    return { ok: true, edition: order.edition, station: order.station, out: order.out, ...summary };
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

/**
 * A whole job, file by file, so that no big edition is ever held in memory; at its end, what it came to. Pure: the
 * same documents and pieces give the same bytes. Throws a Refusal where cutEdition does.
 */
export function* writeJob(canvas: Canvas, workshop: Workshop, job: CutJob): Generator<FileToWrite, Summary> {
  const { edition, wanted } = job;
  const operations = fittedOperations(fitEdition(workshop, job.id, job.planned));
  const cuts = operations.map((operation) => piecesOf(operation, wanted));

  const makers = operations.map((operation) => operationPrograms(workshop, job.id, job.station, operation));
  const queues = makers.map((): RunPiece[] => []);
  const programs = new Map(wanted.map(({ label }) => [label, [] as RunPiece[]]));
  for (const [i, { operation, program }] of makers.entries()) {
    for (const { piece, blocks } of cuts[i]!) {
      const { label } = piece;
      const file = `${folderOf(piece)}/${operation.part}-${operation.surfaceId}-${operation.cutter}.nc`;
      const { text, check, minutes } = program(label, blocks);
      yield { path: file, text, check };
      const written = { label, file, minutes };
      queues[i]!.push(written);
      programs.get(label)!.push(written);
    }
  }

  const sources = sceneSources(workshop, edition, job.planned);
  const surfaces = cutSurfaces(sources, operations);
  const sheets = surfaces.map((s) => ({ ...s, write: sheetWriter(canvas, s.scene) }));
  const pieces: CutPiece[] = [];
  for (const one of wanted) {
    const { series, number, label, done } = one;
    const drawn: string[] = [];
    for (const { part, surfaceId, marks, write } of sheets) {
      if (done?.has(part)) continue;
      const path = `${folderOf(one)}/${part}-${surfaceId}.svg`;
      const blocks = marks.flatMap((m) => m.blocks(label));
      yield { path, text: write(label, blocks) };
      drawn.push(path);
    }
    const own = programs.get(label)!;
    const minutes = own.reduce((sum, p) => sum + p.minutes, 0);
    pieces.push({ series, number, label, sheets: drawn, programs: own.map((p) => p.file), minutes });
  }
  const allRuns = makers.map(({ operation, setup }, i) => {
    const surface = surfaces.find((s) => s.part === operation.part && s.surfaceId === operation.surfaceId)!;
    return { operation, setup, scene: surface.scene, pieces: queues[i]! };
  });
  const runs = allRuns.filter((run) => run.pieces.length > 0);
  const station = workshop.documents.stations.get(job.station)!;
  yield single(RUN_SHEET, [writeRunSheet(canvas, runSheetScene(sources, station, wanted, runs))]);
  yield single(PROOF, writeProof(canvas, proofScene(sources, surfaces)));
  const turned: string[] = [];
  for (const { part, scene } of turnedScenes(edition, surfaces, wanted[0]!.label)) {
    const path = `turned-${part}.svg`;
    yield single(path, [turnedView(canvas, scene)]);
    turned.push(path);
  }
  const minutes = pieces.reduce((sum, p) => sum + p.minutes, 0);
  return { pieces, runSheet: RUN_SHEET, proof: PROOF, turned, minutes };
}

/** The pieces that go through an operation, each with its blocks in cutting order. */
function piecesOf(operation: Operation, wanted: readonly CuttablePiece[]) {
  const left = wanted.filter(({ done }) => !done?.has(operation.part));
  const cut = left.map((piece) => ({ piece, blocks: blocksOf(operation, piece.label) }));
  // A piece without a dedication has nothing cut where others have theirs.
  return cut.filter(({ blocks }) => blocks.length > 0);
}

/** A file that shares nothing with others. */
const single = (path: string, text: TextChunks): FileToWrite => ({ path, text, check: checkByDigest(text) });

const RUN_SHEET = 'run-sheet.html';
const PROOF = 'proof.svg';

/** Made of ids and numbers alone: no text from people ever names a file. */
const folderOf = ({ series, number }: Numbered): string => `${series}-${String(number).padStart(4, '0')}`;
