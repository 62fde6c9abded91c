import type { CutBlock } from '../cutting/cuts.js';
import { type Problem, Refusal } from '../problem.js';
import { type PreparedBlock, prepareBlock } from '../station/block.js';
import { minutesOf, type ProgramHead, programFrame } from '../station/program.js';
import { proveBlock } from '../station/prove.js';
import { type Run, runFor } from '../station/run.js';
import { proudest } from '../surface/keepouts.js';
import { encodeText, type TextChunks } from '../text-chunks.js';
import type { Load } from './loads.js';
import { named, type Workshop } from './workshop.js';

/** Writes the programs of one load, piece by piece. Each distinct block is written and read back once. */
export interface ProgramMaker {
  readonly load: Load;
  readonly run: Run;
  readonly head: Omit<ProgramHead, 'label'>;
  program(label: string, blocks: readonly CutBlock[]): SetProgram;
}

/** A program as it is put on disk: chunks that pieces share are encoded once. */
export interface SetProgram {
  readonly text: TextChunks;
  readonly minutes: number;
}

/** Throws a Refusal (exit 1) when the station cannot run the load, or a block does not read back as laid out. */
export function programMaker(
  workshop: Workshop,
  editionId: string,
  stationId: string,
  load: Load,
): ProgramMaker {
  const { documents } = workshop;
  const station = named(documents.stations, 'station', stationId);
  const cutter = documents.cutters.get(load.cutter)!;
  const { surface, part, designId } = load.marks[0]!.fitted.of;
  const run = runFor(station, surface, cutter, documents.materials.get(part.material)!, proudest(part));
  if (Array.isArray(run)) throw new Refusal(1, run);
  const head = {
    edition: editionId,
    digest: workshop.digests.get(`design/${designId}`)!,
    part: load.part,
    surface: load.surfaceId,
    cutter: load.cutter,
    setup: `${station.setup}, station ${stationId}`,
  };
  const frame = programFrame(run, head);
  const closing = encodeText(frame.closing);
  const prepared = new Map<string, EncodedBlock>();
  const prepare = (label: string, block: CutBlock): EncodedBlock => {
    const known = prepared.get(block.key);
    if (known) return known;
    const made = prepareBlock(run, block);
    const problems: Problem[] = Array.isArray(made) ? made : proveBlock(run, { ...head, label }, block, made);
    if (problems.length > 0 || Array.isArray(made)) throw new Refusal(1, problems);
    const one = { block: made, text: encodeText(made.text) };
    prepared.set(block.key, one);
    return one;
  };
  return {
    load,
    run,
    head,
    program: (label, blocks) => {
      const cuts = blocks.map((b) => prepare(label, b));
      return {
        text: [frame.opening(label), ...cuts.map((c) => c.text), closing],
        minutes: minutesOf(
          run,
          cuts.map((c) => c.block),
        ),
      };
    },
  };
}

interface EncodedBlock {
  readonly block: PreparedBlock;
  readonly text: Uint8Array;
}
