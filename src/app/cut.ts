import type { Edition } from '../documents/schema/edition.js';
import { labelIndexOf } from '../edition/label-index.js';
import type { Numbered } from '../edition/labels.js';
import { type PieceSelection, selectPieces } from '../edition/piece-selection.js';
import { type CuttablePiece, cuttablePieces } from '../register/cuttable/cuttable.js';
import { fileCanvas } from '../sheets/file-canvas.js';
import { writeProof } from '../sheets/proof.js';
import { type RunPiece, writeRunSheet } from '../sheets/run-sheet.js';
import { sheetWriter } from '../sheets/sheet.js';
import type { Canvas } from '../sheets/svg-canvas.js';
import { turnedView } from '../sheets/turned-view.js';
import type { TextChunks } from '../text-chunks.js';
import type { FileToWrite } from './fill.js';
import { fitEdition, fittedMarks } from './fit.js';
import { blocksOf, loadsOf } from './loads.js';
import { programMaker } from './programs.js';
import { cutSurfaces, proofOf, runSheetOf, turnedScenes } from './scenes.js';
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
  const selected = selectPieces(labelIndexOf(edition, order.edition), order.wanted);
  const wanted = cuttablePieces(order.edition, selected, await statusesOf(workshop, order.edition));
  const staging = await stage(order.out);
  try {
    const summary = await staging.fill(writeJob(await fileCanvas(), workshop, edition, order, wanted));
    await staging.publish();
    return { ok: true, edition: order.edition, station: order.station, out: order.out, ...summary };
  } catch (error) {
    await staging.discard();
    throw error;
  }
}

type Summary = Pick<CutDone, 'pieces' | 'runSheet' | 'proof' | 'turned' | 'minutes'>;

/**
 * A whole job, file by file, so that no big edition is ever held in memory; at its end, what it came to. Pure: the
 * same documents and pieces give the same bytes. Throws a Refusal where cutEdition does.
 */
export function* writeJob(
  canvas: Canvas,
  workshop: Workshop,
  edition: Edition,
  order: Omit<CutOrder, 'out'>,
  wanted: readonly CuttablePiece[],
): Generator<FileToWrite, Summary> {
  const loads = loadsOf(workshop, fittedMarks(fitEdition(workshop, order.edition)));
  const surfaces = cutSurfaces(workshop, edition, loads);
  const sheets = surfaces.map((s) => ({ ...s, write: sheetWriter(canvas, s.scene) }));
  const makers = loads.map((load) => programMaker(workshop, order.edition, order.station, load));
  const queues = makers.map((): RunPiece[] => []);
  const pieces: CutPiece[] = [];
  for (const one of wanted) {
    const { series, number, label, done } = one;
    const folder = folderOf(one);
    const programs: string[] = [];
    let minutes = 0;
    for (const [i, { load, program }] of makers.entries()) {
      if (done?.has(load.part)) continue;
      const blocks = blocksOf(load, label);
      // A piece without a dedication has nothing cut where others have theirs.
      if (blocks.length === 0) continue;
      const path = `${folder}/${load.part}-${load.surfaceId}-${load.cutter}.nc`;
      const written = program(label, blocks);
      yield { path, text: written.text, check: written.check };
      queues[i]!.push({ label, file: path, minutes: written.minutes });
      programs.push(path);
      minutes += written.minutes;
    }
    const drawn: string[] = [];
    for (const { part, surfaceId, marks, write } of sheets) {
      if (done?.has(part)) continue;
      const path = `${folder}/${part}-${surfaceId}.svg`;
      const blocks = marks.flatMap((m) => m.blocks(label));
      yield { path, text: write(label, blocks) };
      drawn.push(path);
    }
    pieces.push({ series, number, label, sheets: drawn, programs, minutes });
  }
  const allRuns = makers.map((maker, i) => {
    const surface = surfaces.find((s) => s.part === maker.load.part && s.surfaceId === maker.load.surfaceId)!;
    return { maker, scene: surface.scene, pieces: queues[i]! };
  });
  const runs = allRuns.filter((run) => run.pieces.length > 0);
  const runSheet = runSheetOf(workshop, edition, order.station, wanted, runs);
  yield single(RUN_SHEET, [writeRunSheet(canvas, runSheet)]);
  yield single(PROOF, writeProof(canvas, proofOf(workshop, edition, surfaces)));
  const turned: string[] = [];
  for (const { part, scene } of turnedScenes(edition, surfaces, wanted[0]!.label)) {
    const path = `turned-${part}.svg`;
    yield single(path, [turnedView(canvas, scene)]);
    turned.push(path);
  }
  const minutes = pieces.reduce((sum, p) => sum + p.minutes, 0);
  return { pieces, runSheet: RUN_SHEET, proof: PROOF, turned, minutes };
}

/** A file that shares nothing with others. */
const single = (path: string, text: TextChunks): FileToWrite => ({ path, text, check: checkByDigest(text) });

const RUN_SHEET = 'run-sheet.html';
const PROOF = 'proof.svg';

/** Made of ids and figures alone: no text from people ever names a file. */
const folderOf = ({ series, number }: Numbered): string => `${series}-${String(number).padStart(4, '0')}`;
