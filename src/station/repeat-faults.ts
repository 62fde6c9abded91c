import type { CutBlock, CutLine } from '../cutting/cuts.js';
import type { Problem } from '../problem.js';
import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';
import { problem } from './messages.js';
import type { Readback, ReadStep } from './readback.js';
import type { ReadProgram } from './reader.js';
import { remarkWords } from './remark.js';

/** A block as its remark in a program names it. */
export const nameInProgram = ({ mark, name }: CutBlock): string => remarkWords(`${mark} ${name}`);

/** Rounding makes a way of many short moves a little longer than it was laid out, and a short one by some figures. */
const LONGER_SHARE = 0.02;
const LONGER_MM = 0.02;

/** What the blocks of one name come to. */
interface BlockTotals {
  blocks: number;
  lines: number;
  /** Of all lines in all their passes, mm. */
  way: number;
}

const NO_BLOCKS: BlockTotals = { blocks: 0, lines: 0, way: 0 };

/**
 * What a program cuts more often than it is to be cut, whatever its remarks say: a second time round changes an edge, or
 * breaks a point. Each block is begun once, each of its lines is plunged into once, and followed once in each pass.
 */
export function repeatFaults(
  surface: Surface,
  program: ReadProgram,
  { cuts }: Readback,
  blocks: readonly CutBlock[],
): Problem[] {
  const planned = totalsOf(blocks);
  const begun = new Map<string, number>();
  for (const { name, line } of program.cuts) {
    const times = (begun.get(name) ?? 0) + 1;
    begun.set(name, times);
    if (times > (planned.get(name) ?? NO_BLOCKS).blocks)
      return [problem('station.readback-block-again', `line ${line}`, { name })];
  }
  const done = new Map<string, BlockTotals>();
  for (const { name, steps } of cuts) {
    const [first] = steps;
    if (!first) continue;
    const { lines, way } = planned.get(name) ?? NO_BLOCKS;
    const before = done.get(name) ?? NO_BLOCKS;
    const now = { ...before, lines: before.lines + 1, way: before.way + wayOf(surface, steps) };
    done.set(name, now);
    const where = `line ${first.line}`;
    if (now.lines > lines)
      return [problem('station.readback-line-again', where, { name: name || 'A cut', lines })];
    if (now.way > way * (1 + LONGER_SHARE) + LONGER_MM * lines) {
      const values = { name, way: now.way.toFixed(2), planned: way.toFixed(2) };
      return [problem('station.readback-way-again', where, values)];
    }
  }
  return [];
}

function totalsOf(blocks: readonly CutBlock[]): ReadonlyMap<string, BlockTotals> {
  const totals = new Map<string, BlockTotals>();
  for (const block of blocks) {
    const name = nameInProgram(block);
    const total = totals.get(name) ?? { ...NO_BLOCKS };
    total.blocks++;
    total.lines += block.lines.length;
    for (const line of block.lines) total.way += lengthOf(line) * passesOf(block, line);
    totals.set(name, total);
  }
  return totals;
}

/** How many passes a line needs: all, or those up to where it is deepest. */
export function passesOf({ passes }: CutBlock, { depths }: CutLine): number {
  if (!depths) return passes.length;
  const deepest = depths.reduce((most, depth) => Math.max(most, depth), 0);
  return passes.filter((_, k) => k === 0 || passes[k - 1]! < deepest).length;
}

function lengthOf({ points, closed }: CutLine): number {
  const n = points.length;
  let length = 0;
  for (let i = closed ? 0 : 2; i < n; i += 2) {
    const h = i === 0 ? n - 2 : i - 2;
    length += Math.hypot(points[i]! - points[h]!, points[i + 1]! - points[h + 1]!);
  }
  return length;
}

/** How far a cut goes along the surface, mm. */
function wayOf(surface: Surface, steps: readonly ReadStep[]): number {
  let way = 0;
  for (const { from, to } of steps) {
    const round = toRad(to.angle - from.angle) * surface.radius((from.z + to.z) / 2);
    way += Math.hypot(surface.slant(to.z) - surface.slant(from.z), round);
  }
  return way;
}
