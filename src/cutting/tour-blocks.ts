import type { Surface } from '../surface/surface.js';
import { nearDeg, toRad } from '../units.js';
import type { CutBlock, CutLine } from './cuts.js';
import { MOST_STEPS } from './tour.js';
import { reverseLine, startAt } from './tour-lines.js';
import { type Metric, optimizeOrder, type Stop, type Visit } from './tour-stops.js';

/** What an order must keep to, beside short moves in the air. */
export interface OrderOptions {
  /** Small marks before larger ones, each size about twice the one before. Common practice, no source. */
  readonly smallFirst?: boolean;
  /** Every line runs the way it was drawn. */
  readonly keepDirection?: boolean;
  /** Called with the number of distances that each search asked for. */
  readonly countSteps?: (steps: number) => void;
}

/**
 * Blocks of artwork in the order that moves the cutter least in the air, measured along the surface and across the seam.
 * An open line may be run from either end, and a block that is one closed line may begin at any of its points. A
 * block that changes in this way gets a key of its own. Not for text, which is cut in reading order.
 */
export function orderTour(
  surface: Surface,
  blocks: readonly CutBlock[],
  { smallFirst = false, keepDirection = false, countSteps }: OrderOptions = {},
): CutBlock[] {
  const metric = surfaceMetric(surface);
  const ordered: CutBlock[] = [];
  const groups = smallFirst ? groupBySize(blocks) : [blocks];
  for (const group of groups) {
    const stops = group.map((block) => stopOf(surface, block));
    const search = { metric, eitherWay: !keepDirection, mostSteps: MOST_STEPS, countSteps };
    const order = optimizeOrder(stops, search);
    const from = ordered.length > 0 ? endsOf(surface, ordered.at(-1)!)[1] : undefined;
    const near = from && !keepDirection ? beginNear(stops, order, from, metric) : order;
    for (const visit of near) ordered.push(blockOfVisit(group[visit.stop]!, visit));
  }
  return ordered;
}

/**
 * The distance on the sheet between two places, mm; each place is an angle in degrees and a z in mm. About the apex, at p and q
 * from it and f apart, it is the root of (p - q)^2 + 4 p q sin^2(f / 2), and p = radius / sin(taper).
 */
export function surfaceMetric(surface: Surface): Metric {
  const sin = Math.abs(Math.sin(toRad(surface.taper)));
  return {
    distance: (angle0, z0, angle1, z1) => {
      const half = toRad(nearDeg(angle1 - angle0)) / 2;
      const around = sin < 1e-9 ? half : Math.sin(half * sin) / sin;
      const along = surface.slant(z1) - surface.slant(z0);
      return Math.sqrt(along * along + 4 * surface.radius(z0) * surface.radius(z1) * around * around);
    },
    height: (_, z) => surface.slant(z),
  };
}

/** The angle and z on the part of a point of a block. */
function placeOf(surface: Surface, turn: number, { points }: CutLine, k: number): [number, number] {
  const { z, angle } = surface.toSurfaceNear(points[2 * k]!, points[2 * k + 1]!);
  return [turn + angle, z];
}

/** Where the cut of a block begins and where it ends. */
function endsOf(surface: Surface, { turn, lines }: CutBlock): [[number, number], [number, number]] {
  const last = lines.at(-1)!;
  const end = last.closed ? 0 : last.points.length / 2 - 1;
  return [placeOf(surface, turn, lines[0]!, 0), placeOf(surface, turn, last, end)];
}

/** More starts than this of a closed line would gain little. */
const MOST_STARTS = 64;

/** The points of a closed line that it may begin at: all, or so many of them evenly. */
const startPoints = ({ points }: CutLine): number[] => {
  const count = points.length / 2;
  const starts = Math.min(count, MOST_STARTS);
  return Array.from({ length: starts }, (_, k) => Math.floor((k * count) / starts));
};

function stopOf(surface: Surface, block: CutBlock): Stop {
  const [line] = block.lines;
  if (block.lines.length > 1 || !line!.closed)
    return { places: Float64Array.from(endsOf(surface, block).flat()), closed: false };
  const places = startPoints(line!).flatMap((k) => placeOf(surface, block.turn, line!, k));
  return { places: Float64Array.from(places), closed: true };
}

function blockOfVisit(block: CutBlock, { turned, start }: Visit): CutBlock {
  if (turned)
    return { ...block, key: `${block.key} turned`, lines: [...block.lines].reverse().map(reverseLine) };
  const [line] = block.lines;
  const point = start === 0 ? 0 : startPoints(line!)[start]!;
  if (point === 0) return block;
  return { ...block, key: `${block.key} from ${point}`, lines: [startAt(line!, point)] };
}

/** The same order from its other end where that is nearer to a place. */
function beginNear(
  stops: readonly Stop[],
  order: readonly Visit[],
  [angle, z]: [number, number],
  metric: Metric,
): readonly Visit[] {
  const back = [...order].reverse().map((v) => ({ ...v, turned: !v.turned && !stops[v.stop]!.closed }));
  const begin = ({ stop, turned, start }: Visit): number => {
    const { places, closed } = stops[stop]!;
    const at = closed ? 2 * start : turned ? places.length - 2 : 0;
    return metric.distance(angle, z, places[at]!, places[at + 1]!);
  };
  return begin(back[0]!) < begin(order[0]!) ? back : order;
}

/** Blocks in groups of about one size, the smallest first. */
function groupBySize(blocks: readonly CutBlock[]): CutBlock[][] {
  const groups = new Map<number, CutBlock[]>();
  for (const block of blocks) {
    const size = Math.floor(Math.log2(Math.max(1e-3, extent(block.lines))));
    const group = groups.get(size);
    if (group) group.push(block);
    else groups.set(size, [block]);
  }
  return [...groups].sort(([a], [b]) => a - b).map(([, group]) => group);
}

/** The longer side of the box around lines, mm. */
function extent(lines: readonly CutLine[]): number {
  const [low, high] = [
    [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY],
    [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY],
  ];
  for (const { points } of lines) {
    points.forEach((v, i) => {
      low[i % 2] = Math.min(low[i % 2]!, v);
      high[i % 2] = Math.max(high[i % 2]!, v);
    });
  }
  return Math.max(high[0]! - low[0]!, high[1]! - low[1]!);
}
