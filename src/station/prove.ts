import type { CutBlock } from '../cutting/cuts.js';
import type { Problem } from '../problem.js';
import { encodeText } from '../text-chunks.js';
import type { PreparedBlock } from './block.js';
import type { MachineSetup } from './machine-setup.js';
import { problem } from './messages.js';
import { type ProgramHead, writeProgram } from './program.js';
import { readback } from './readback.js';
import { type Comparison, compare, type Expected, type ExpectedLine } from './readback-compare.js';
import { type ReadProgram, readProgram } from './reader.js';
import { nameInProgram, passesOf, repeatFaults } from './repeat-faults.js';
import { settingFaults } from './setting-faults.js';

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
      passes: passesOf(b, l),
    })),
  );

export const expectedOf = (setup: MachineSetup, blocks: readonly CutBlock[]): Expected => ({
  lines: expectedLines(blocks),
  feed: setup.feed,
  plunge: setup.plunge,
  speed: setup.speed,
  lift: setup.station.axes.z.speed,
  passes: deepestPasses(blocks),
});

/** The deepest single pass of each block, mm, by the name that the program gives it. */
function deepestPasses(blocks: readonly CutBlock[]): Map<string, number> {
  const deepest = new Map<string, number>();
  for (const block of blocks) {
    const { passes } = block;
    const key = nameInProgram(block);
    const most = passes.reduce((most, pass, k) => Math.max(most, pass - (passes[k - 1] ?? 0)), 0);
    deepest.set(key, Math.max(deepest.get(key) ?? 0, most));
  }
  return deepest;
}

/** Reads a whole program again and compares it with what was to be cut. */
export function proveText(
  setup: MachineSetup,
  text: string,
  blocks: readonly CutBlock[],
): Comparison | Problem[] {
  const reading = readProgram(text);
  return reading.ok ? proveProgram(setup, reading.program, blocks) : [...reading.problems];
}

function proveProgram(setup: MachineSetup, program: ReadProgram, blocks: readonly CutBlock[]): Comparison {
  const { surface, station, proud } = setup;
  const read = readback(program, surface, station, proud, spreadOf(blocks));
  const found = compare(surface, read, expectedOf(setup, blocks));
  const problems = [...settingFaults(setup, program), ...repeatFaults(surface, program, read, blocks)];
  // Where burin starts the spindle it also stops it; a bench that starts its own may leave that to M2.
  if (setup.speed !== undefined && program.leftTurning)
    problems.unshift(problem('station.spindle-left-turning', '', {}));
  if (problems.length === 0) return found;
  return { ...found, ok: false, problems: [...problems, ...found.problems] };
}

/** How many degrees apart blocks lie, the index line among them. */
const spreadOf = (blocks: readonly CutBlock[]): number =>
  blocks.reduce((high, { turn }) => Math.max(high, turn), 0) -
  blocks.reduce((low, { turn }) => Math.min(low, turn), 0);

/** A block as it was proved, in the bytes that every program carrying it must hold. */
export interface ProvedBlock {
  readonly key: string;
  /** What a person would call it. */
  readonly name: string;
  readonly text: Uint8Array;
  /** Looks at pieces of line that its proof took. */
  readonly steps: number;
}

/**
 * Reads one block's text as a program by itself and compares it with what was to be cut. The block must also begin and
 * end at one Z and under the same settings, and say in its first move where X and A go: then it is cut the same after
 * the opening and after any other such block.
 */
export function proveBlock(
  setup: MachineSetup,
  head: ProgramHead,
  block: CutBlock,
  prepared: PreparedBlock,
): ProvedBlock | Problem[] {
  const placed = (found: readonly Problem[]): Problem[] =>
    found.map((p) => ({
      ...p,
      where: [`mark ${block.mark}, ${block.name}`, p.where].filter(Boolean).join(': '),
    }));
  const reading = readProgram(writeProgram(setup, head, [prepared]).text);
  if (!reading.ok) return placed(reading.problems);
  const fault = stateFault(reading.program);
  if (fault) return placed([fault]);
  const proof = proveProgram(setup, reading.program, [block]);
  if (!proof.ok)
    return placed(
      proof.problems.length > 0 ? proof.problems : [problem('station.read-back-differs', '', {})],
    );
  const { key, mark, name } = block;
  return { key, name: `${mark} ${name}`, text: encodeText(prepared.text), steps: proof.steps };
}

/** What makes a block depend on what stands before it, or leaves its mark on what comes after. */
function stateFault({ cuts, moves, afterMoves }: ReadProgram): Problem | undefined {
  const [cut] = cuts;
  if (!cut || cuts.length > 1) return problem('station.block-not-alone', '', { count: cuts.length });
  const { settings, z } = cut.state;
  if (afterMoves.settings !== settings || afterMoves.z !== z)
    return problem('station.block-changes-state', '', {});
  const first = moves.find((move) => move.line > cut.line);
  if (first?.kind !== 'rapid' || first.to.x === undefined || first.to.a === undefined)
    return problem('station.block-starts-anywhere', '', {});
  return undefined;
}
