import type { CutBlock } from '../cutting/cuts.js';
import { type Problem, problem } from '../problem.js';
import type { MachineSetup } from './machine-setup.js';
import { formatNumber, formatRoundedDown } from './number-format.js';

export type Span = readonly [least: number, greatest: number];

/** How far a block takes each axis: X and Z in mm, A in degrees. */
export interface Extent {
  readonly x: Span;
  readonly a: Span;
  readonly z: Span;
}

/** The most an axis turns or travels for each mm along the surface, over a block's cuts. */
export interface Demand {
  x: number;
  a: number;
  z: number;
}

export const blockPlace = (block: CutBlock): string => `mark ${block.mark}, ${block.name}`;

/** What is wrong with a block as it came, before it is laid on the surface. */
export function checkBlock(block: CutBlock): Problem[] {
  const where = blockPlace(block);
  const found: Problem[] = [];
  const add = (what: string, cure: string) => found.push(problem(where, what, cure));
  if (!Number.isFinite(block.turn)) add(`its angle is ${block.turn}`, 'Give the mark a finite angle.');
  if (block.lines.length === 0) add('it has no line to cut', 'Give it a line, or leave it out.');
  for (const line of block.lines) {
    const points = line.points.length / 2;
    if (!Number.isInteger(points) || points < 2) {
      add(`a line has ${points} points`, 'A line needs two points or more.');
    } else if (!line.points.every(Number.isFinite)) {
      add('a line has a point that is not a finite number', 'Mend the artwork.');
    } else if (line.depths && !soundDepths(line.depths, points, block.depth)) {
      add(`a line has a depth that is not from 0 to ${block.depth} mm`, 'Mend the way it is cut.');
    }
  }
  if (!(Number.isFinite(block.depth) && block.depth > 0)) {
    add(`its depth is ${block.depth} mm`, 'Give a depth above nought.');
  }
  const rising = block.passes.every((depth, k) => depth > (k === 0 ? 0 : block.passes[k - 1]!));
  if (!rising || block.passes.at(-1) !== block.depth) {
    add(
      `its passes [${block.passes.join(', ')}] do not go down step by step to ${block.depth} mm`,
      'Each pass must be deeper than the one before and the last the full depth.',
    );
  }
  return found;
}

const SLACK = 1e-9;

const soundDepths = (depths: Float64Array, points: number, most: number): boolean =>
  depths.length === points && depths.every((d) => d >= 0 && d <= most + SLACK) && depths.some((d) => d > 0);

/** Axes a block would take past their travel. */
export function checkTravel(setup: MachineSetup, block: CutBlock, extent: Extent): Problem[] {
  const { axes } = setup.station;
  const found: Problem[] = [];
  const look = (axis: string, unit: string, span: Span, min?: number, max?: number) => {
    const past = (what: string, at: number, limit: number) =>
      found.push(
        problem(
          blockPlace(block),
          `${axis} would go to ${formatNumber(at)} ${unit}, ${formatNumber(Math.abs(at - limit))} past its ${what} ${formatNumber(limit)}`,
          'Move the mark, or set the part elsewhere and give the station the new offset.',
        ),
      );
    if (min !== undefined && span[0] < min - SLACK) past('min', span[0], min);
    if (max !== undefined && span[1] > max + SLACK) past('max', span[1], max);
  };
  look('X', 'mm', extent.x, axes.x.min, axes.x.max);
  look('A', 'degrees', extent.a, axes.a.min, axes.a.max);
  look('Z', 'mm', extent.z, axes.z.min, axes.z.max);
  return found;
}

/** Axes that would have to be faster than they are for the feed. `demand` is per mm along the surface. */
export function checkSpeed(setup: MachineSetup, block: CutBlock, demand: Demand): Problem[] {
  const { axes } = setup.station;
  const found: Problem[] = [];
  for (const [axis, unit, most, speed] of [
    ['X', 'mm/min', demand.x, axes.x.speed],
    ['A', 'degrees/min', demand.a, axes.a.speed],
    ['Z', 'mm/min', demand.z, axes.z.speed],
  ] as const) {
    const asked = most * setup.feed;
    if (asked <= speed * (1 + SLACK)) continue;
    found.push(
      problem(
        blockPlace(block),
        `a feed of ${formatNumber(setup.feed)} mm/min asks ${formatNumber(asked)} ${unit} of ${axis}, ${formatNumber(asked - speed)} more than it has`,
        `The largest feed that would do is ${formatRoundedDown(speed / most)} mm/min.`,
      ),
    );
  }
  return found;
}
