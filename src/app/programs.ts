import type { CutBlock } from '../cutting/cuts.js';
import { type Problem, Refusal } from '../problem.js';
import { type PreparedBlock, prepareBlock } from '../station/block.js';
import { type MachineSetup, setupFor } from '../station/machine-setup.js';
import { minutesOf, type ProgramHead, programFrame, programHead } from '../station/program.js';
import { checkProgramFile } from '../station/program-file.js';
import { type ProvedBlock, proveBlock } from '../station/prove.js';
import { proudest } from '../surface/keepouts.js';
import { encodeText, type TextChunks } from '../text-chunks.js';
import type { Load } from './loads.js';
import { named, type Workshop } from './workshop.js';

/** Writes the programs of one load, piece by piece. Each distinct block is written and read back once. */
export interface ProgramMaker {
  readonly load: Load;
  readonly setup: MachineSetup;
  readonly head: Omit<ProgramHead, 'label'>;
  program(label: string, blocks: readonly CutBlock[]): PieceProgram;
}

/** A program as it is put on disk: chunks that pieces share are encoded once. */
export interface PieceProgram {
  readonly text: TextChunks;
  readonly minutes: number;
  /** Holds bytes against the piece and its proved blocks. */
  check(bytes: Uint8Array): Problem | undefined;
}

/** Throws a Refusal (exit 1) when the station cannot setup the load, or a block does not read back as laid out. */
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
  const setup = setupFor(station, surface, cutter, documents.materials.get(part.material)!, proudest(part));
  if (Array.isArray(setup)) throw new Refusal(1, setup);
  const head = {
    edition: editionId,
    digest: workshop.digests.get(`design/${designId}`)!,
    part: load.part,
    surface: load.surfaceId,
    cutter: load.cutter,
    setup: `${station.setup}, station ${stationId}`,
  };
  const frame = programFrame(setup);
  const opening = encodeText(frame.opening);
  const closing = encodeText(frame.closing);
  const known = new Map<string, BlockOfMany>();
  const proved = (label: string, block: CutBlock): BlockOfMany => {
    const before = known.get(block.key);
    if (before) return before;
    const prepared = prepareBlock(setup, block);
    const proof = Array.isArray(prepared) ? prepared : proveBlock(setup, { ...head, label }, block, prepared);
    if (Array.isArray(prepared) || Array.isArray(proof)) throw new Refusal(1, proof as Problem[]);
    const one = { prepared, proof };
    known.set(block.key, one);
    return one;
  };
  return {
    load,
    setup,
    head,
    program: (label, blocks) => {
      const all = blocks.map((b) => proved(label, b));
      const expected = { head: { ...head, label }, opening, blocks: all.map((one) => one.proof), closing };
      return {
        text: [programHead(expected.head), opening, ...expected.blocks.map((block) => block.text), closing],
        minutes: minutesOf(
          setup,
          all.map((one) => one.prepared),
        ),
        check: (bytes) => checkProgramFile(bytes, expected),
      };
    },
  };
}

/** A block that many pieces carry. */
interface BlockOfMany {
  readonly prepared: PreparedBlock;
  readonly proof: ProvedBlock;
}
