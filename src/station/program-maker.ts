import type { CutBlock } from '../cutting/cuts.js';
import { type Problem, Refusal } from '../problem.js';
import { encodeText, type TextChunks } from '../text-chunks.js';
import { type PreparedBlock, prepareBlock } from './block.js';
import type { MachineSetup } from './machine-setup.js';
import { refuse } from './messages.js';
import { minutesOf, type ProgramHead, programFrame, programHead } from './program.js';
import { checkProgramFile, type ExpectedProgram } from './program-file.js';
import { type ProvedBlock, proveBlock } from './prove.js';
import { frameProblems } from './prove-frame.js';
import { MOST_COMPARE_STEPS, MOST_PROGRAM_BYTES } from './reader-budget.js';

/** A program as it is put on disk: chunks that pieces share are encoded once. */
export interface PieceProgram {
  readonly text: TextChunks;
  readonly minutes: number;
  /** Of each block, in cutting order. */
  readonly blockBytes: readonly number[];
  /** Looks at pieces of line that the proof of each took. */
  readonly blockSteps: readonly number[];
  /** Holds bytes against the piece and its proved blocks. */
  check(bytes: Uint8Array): Problem | undefined;
}

/**
 * Writes the program of one piece from its label and its blocks in cutting order. Throws a Refusal (exit 1) when a block
 * does not read back as laid out, or the program is longer, or more to compare, than a read-back takes.
 */
export type ProgramMaker = (label: string, blocks: readonly CutBlock[]) => PieceProgram;

/** A block that many pieces carry. */
interface SharedBlock {
  readonly prepared: PreparedBlock;
  readonly proof: ProvedBlock;
}

/**
 * Makes the programs for one set-up, piece by piece. Throws a Refusal (exit 1) where a program of no blocks at all does
 * not read back. Each distinct block is written and read back once, none of a
 * program that comes to more than `mostBytes`; nor one whose proof, or read-back as a whole, takes more than `mostSteps`
 * looks at pieces of line.
 */
export function programMaker(
  setup: MachineSetup,
  head: Omit<ProgramHead, 'label'>,
  mostBytes = MOST_PROGRAM_BYTES,
  mostSteps = MOST_COMPARE_STEPS,
): ProgramMaker {
  const frame = programFrame(setup);
  const faults = frameProblems(setup, head);
  if (faults.length > 0) throw new Refusal(faults);
  const opening = encodeText(frame.opening);
  const closing = encodeText(frame.closing);
  const known = new Map<string, SharedBlock>();
  const expectedFor = (label: string, blocks: readonly CutBlock[]) => (): ExpectedProgram => ({
    head: { label, ...head },
    opening,
    blocks: blocks.map(({ key }) => known.get(key)!.proof),
    closing,
  });
  const prepare = (block: CutBlock): PreparedBlock => {
    const prepared = known.get(block.key)?.prepared ?? prepareBlock(setup, block);
    if (Array.isArray(prepared)) throw new Refusal(prepared);
    return prepared;
  };
  const prove = (label: string, block: CutBlock, prepared: PreparedBlock): SharedBlock => {
    const before = known.get(block.key);
    if (before) return before;
    const proof = proveBlock(setup, { label, ...head }, block, prepared);
    if (Array.isArray(proof)) throw new Refusal(proof);
    const one = { prepared, proof };
    known.set(block.key, one);
    return one;
  };
  return (label, blocks) => {
    let bytes = encodeText(programHead({ label, ...head })).length + opening.length + closing.length;
    const written = new Map<string, PreparedBlock>();
    for (const block of blocks) {
      const prepared = written.get(block.key) ?? prepare(block);
      written.set(block.key, prepared);
      bytes += prepared.text.length;
      if (bytes > mostBytes) throw refuse('station.program-too-long', '', { most: mostBytes });
    }
    let steps = 0;
    const all = blocks.map((block) => {
      const one = prove(label, block, written.get(block.key)!);
      steps += one.proof.steps;
      if (steps > mostSteps) throw refuse('station.compare-too-much', '', { most: mostSteps });
      return one;
    });
    const minutes = minutesOf(
      setup,
      all.map((one) => one.prepared),
    );
    return pieceProgram(expectedFor(label, blocks), minutes);
  };
}

/** Its check is kept until all is written: made here, so that it holds nothing more than what it asks `expected` for. */
function pieceProgram(expected: () => ExpectedProgram, minutes: number): PieceProgram {
  const { head, opening, blocks, closing } = expected();
  return {
    text: [programHead(head), opening, ...blocks.map((block) => block.text), closing],
    minutes,
    blockBytes: blocks.map((block) => block.text.length),
    blockSteps: blocks.map((block) => block.steps),
    check: (bytes) => checkProgramFile(bytes, expected()),
  };
}
