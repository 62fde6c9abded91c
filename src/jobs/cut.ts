import type { Edition } from '../documents/schema/edition.js';
import type { Numbered } from '../edition/labels.js';
import { proofSheet } from '../sheets/proof.js';
import { type RunPiece, runSheet } from '../sheets/run-sheet.js';
import { sheetMaker } from '../sheets/sheet.js';
import { type Bench, editionOf, named } from './bench.js';
import { fitEdition, fittedMarks } from './fit.js';
import { blocksOf, loadsOf } from './loads.js';
import { programMaker } from './programs.js';
import { cutSurfaces, proofOf, runSheetOf } from './scenes.js';
import { mustBeIssued, select, standingsOf, type Wanted } from './select.js';
import { stage } from './staging.js';

export interface CutOrder {
  readonly edition: string;
  readonly wanted: Wanted;
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
  /** Machine time of all programs, minutes. */
  readonly minutes: number;
}

/**
 * Sheets, proved programs, run sheet and proof for issued numbers. Everything is on disk before any of it is shown
 * in the output folder. Throws a Refusal: exit 1 when something does not fit or the station cannot run it, 2 for a
 * wrong order, 3 when a piece was not issued.
 */
export async function cutEdition(bench: Bench, order: CutOrder): Promise<CutDone> {
  const edition = editionOf(bench, order.edition);
  named(bench.documents.stations, 'station', order.station);
  const wanted = select(edition, order.edition, order.wanted);
  mustBeIssued(order.edition, wanted, await standingsOf(bench, order.edition));
  const written = writeJob(bench, edition, order, wanted);
  const staging = await stage(order.out);
  try {
    for (const [path, text] of written.files) await staging.write(path, text);
    await staging.show();
  } catch (error) {
    await staging.drop();
    throw error;
  }
  return { ok: true, edition: order.edition, station: order.station, out: order.out, ...written.summary };
}

interface Job {
  readonly files: Iterable<readonly [path: string, text: string]>;
  readonly summary: Pick<CutDone, 'pieces' | 'runSheet' | 'proof' | 'minutes'>;
}

/** A whole job as text. Pure: the same documents and pieces give the same bytes. */
export function writeJob(
  bench: Bench,
  edition: Edition,
  order: Omit<CutOrder, 'out'>,
  wanted: readonly Numbered[],
): Job {
  const loads = loadsOf(bench, fittedMarks(fitEdition(bench, order.edition)));
  const surfaces = cutSurfaces(bench, edition, loads);
  const sheets = surfaces.map((s) => ({ ...s, make: sheetMaker(s.scene) }));
  const makers = loads.map((load) => programMaker(bench, order.edition, order.station, load));
  const queues = makers.map((): RunPiece[] => []);
  const files: [string, string][] = [];
  const pieces = wanted.map((one): CutPiece => {
    const folder = folderOf(one);
    let minutes = 0;
    const programs = makers.map((maker, i) => {
      const { load } = maker;
      const file = `${folder}/${load.part}-${load.surfaceId}-${load.cutter}.nc`;
      const program = maker.program(one.label, blocksOf(load, one.label));
      files.push([file, program.text]);
      queues[i]!.push({ label: one.label, file, minutes: program.minutes });
      minutes += program.minutes;
      return file;
    });
    const drawn = sheets.map((s) => {
      const file = `${folder}/${s.part}-${s.surfaceId}.svg`;
      files.push([
        file,
        s.make(
          one.label,
          s.marks.flatMap((m) => [...m.blocks(one.label)]),
        ),
      ]);
      return file;
    });
    return { ...one, sheets: drawn, programs, minutes };
  });
  const runs = makers.map((maker, i) => {
    const surface = surfaces.find((s) => s.part === maker.load.part && s.surfaceId === maker.load.surfaceId)!;
    return { maker, scene: surface.scene, pieces: queues[i]! };
  });
  files.push(['run-sheet.html', runSheet(runSheetOf(bench, edition, order.station, wanted, runs))]);
  files.push(['proof.svg', proofSheet(proofOf(bench, edition, surfaces))]);
  const minutes = pieces.reduce((sum, p) => sum + p.minutes, 0);
  return { files, summary: { pieces, runSheet: 'run-sheet.html', proof: 'proof.svg', minutes } };
}

/** Made of ids and figures alone: no text from people ever names a file. */
const folderOf = ({ series, number }: Numbered): string => `${series}-${String(number).padStart(4, '0')}`;
