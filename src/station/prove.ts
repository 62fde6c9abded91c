import type { CutBlock } from '../cutting/cuts.js';
import { type Problem, problem } from '../problem.js';
import type { PreparedBlock } from './block.js';
import { type ProgramHead, writeProgram } from './program.js';
import { readback } from './readback.js';
import { type Comparison, compare, type Expected, type ExpectedLine } from './readback-compare.js';
import { readProgram } from './reader.js';
import type { Run } from './run.js';

/** The lines of blocks as read-back wants them: where on the surface, and how deep. */
export const expectedLines = (blocks: readonly CutBlock[]): ExpectedLine[] =>
  blocks.flatMap((b) =>
    b.lines.map((l) => ({
      name: b.name,
      turn: b.turn,
      points: l.points,
      closed: l.closed,
      depth: b.depth,
      depths: l.depths,
    })),
  );

export const expectedOf = (run: Run, blocks: readonly CutBlock[]): Expected => ({
  lines: expectedLines(blocks),
  feed: run.feed,
  plunge: run.plunge,
  speed: run.speed,
});

/** Reads a whole program again and compares it with what was to be cut. */
export function proveText(run: Run, text: string, blocks: readonly CutBlock[]): Comparison | Problem[] {
  const reading = readProgram(text);
  if (!reading.ok) return [...reading.problems];
  // Where burin starts the spindle it also stops it; a bench that starts its own may leave that to M2.
  if (run.speed !== undefined && reading.program.leftTurning)
    return [problem('', 'the spindle is not stopped by M5 before the end.', 'Write the program again.')];
  return compare(
    run.surface,
    readback(reading.program, run.surface, run.station, run.proud),
    expectedOf(run, blocks),
  );
}

/** What is wrong with one block's text, read again as a program by itself; nothing when it is right. */
export function proveBlock(run: Run, head: ProgramHead, block: CutBlock, prepared: PreparedBlock): Problem[] {
  const proof = proveText(run, writeProgram(run, head, [prepared]).text, [block]);
  if (Array.isArray(proof)) return proof;
  if (proof.ok) return [];
  const found =
    proof.problems.length > 0 ? proof.problems : [problem('', 'read-back differs.', 'Report this to burin.')];
  return found.map((p) => ({ ...p, where: `mark ${block.mark}, ${block.name}: ${p.where}` }));
}
