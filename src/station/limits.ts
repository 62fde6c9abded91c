import type { CutBlock } from '../cutting/cuts.js';
import type { Problem } from '../problem.js';
import type { MachineSetup } from './machine-setup.js';
import { problem } from './messages.js';
import { formatNumber, formatRoundedDown } from './program-numbers.js';

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
  if (!Number.isFinite(block.turn))
    found.push(problem('station.block-angle', where, { angle: String(block.turn) }));
  if (block.lines.length === 0) found.push(problem('station.block-without-lines', where, {}));
  for (const line of block.lines) {
    const points = line.points.length / 2;
    if (!Number.isInteger(points) || points < 2) {
      found.push(problem('station.line-too-few-points', where, { points }));
    } else if (!line.points.every(Number.isFinite)) {
      found.push(problem('station.point-not-finite', where, {}));
    } else if (line.depths && !soundDepths(line.depths, points, block.depth)) {
      found.push(problem('station.line-depth', where, { depth: String(block.depth) }));
    }
  }
  if (!(Number.isFinite(block.depth) && block.depth > 0)) {
    found.push(problem('station.block-depth', where, { depth: String(block.depth) }));
  }
  const rising = block.passes.every((depth, k) => depth > (k === 0 ? 0 : block.passes[k - 1]!));
  if (!rising || block.passes.at(-1) !== block.depth) {
    found.push(
      problem('station.block-passes', where, { passes: block.passes.join(', '), depth: String(block.depth) }),
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
  const checkAxis = (axis: string, unit: string, span: Span, min?: number, max?: number) => {
    const past = (bound: 'min' | 'max', at: number, limit: number) =>
      found.push(
        problem('station.travel-past-limit', blockPlace(block), {
          axis,
          to: formatNumber(at),
          unit,
          over: formatNumber(Math.abs(at - limit)),
          bound,
          limit: formatNumber(limit),
        }),
      );
    if (min !== undefined && span[0] < min - SLACK) past('min', span[0], min);
    if (max !== undefined && span[1] > max + SLACK) past('max', span[1], max);
  };
  checkAxis('X', 'mm', extent.x, axes.x.min, axes.x.max);
  checkAxis('A', 'degrees', extent.a, axes.a.min, axes.a.max);
  checkAxis('Z', 'mm', extent.z, axes.z.min, axes.z.max);
  return found;
}

/** The greatest feed at which no axis has to be faster than it is, mm/min. `demand` is per mm along the surface. */
export function greatestFeed({ station: { axes } }: MachineSetup, demand: Demand): number {
  return Math.min(axes.x.speed / demand.x, axes.a.speed / demand.a, axes.z.speed / demand.z);
}

/** Axes that would have to be faster than they are for the feed. */
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
      problem('station.axis-too-slow', blockPlace(block), {
        axis,
        feed: formatNumber(setup.feed),
        asked: formatNumber(asked),
        unit,
        over: formatNumber(asked - speed),
        largest: formatRoundedDown(greatestFeed(setup, demand)),
      }),
    );
  }
  return found;
}
