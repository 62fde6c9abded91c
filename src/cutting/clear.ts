import type { Cutter } from '../documents/schema/cutter.js';
import type { Point, Polyline } from '../geometry/path.js';
import { area, difference, grow, inset, type Polygons } from '../geometry/polygons.js';
import { segmentsCross } from '../geometry/segment.js';
import { sweep } from '../geometry/sweep.js';
import { sweepSteps } from '../geometry/sweep-steps.js';
import { rotateAndMove } from '../geometry/transform.js';
import { toRad } from '../units.js';
import { CutWork } from './cut-work.js';
import type { CutLine } from './cuts.js';
import { checkEdges, insetLevels } from './levels.js';
import { refuse } from './messages.js';

/** Lines this part of the floor's width apart leave no ridge between them, nor in corners down to 25 degrees. */
const STEP_OF_FLOOR = 0.6;
/** Hatching stops so far inside the finishing line, as a part of the floor's width: both reach across what is between. */
const MARGIN_OF_FLOOR = 0.4;
/** A cone that ends in a point leaves ridges whatever is done; lines this part of its cut apart leave low ones. */
const STEP_OF_CUT = 0.1;
/** Ridges a ball may leave, mm. */
const SCALLOP_MM = 0.005;
/** A ridge is looked for where the floor so much narrower would leave one, and taken when it is as long as it is wide. */
const SURE_OF_FLOOR = 0.98;
const RIDGE_OF_FLOOR = 0.02;

export interface ClearCut {
  /** Width of the cut at the surface, mm. */
  readonly width: number;
  /** Width that is flat at its bottom, mm. */
  readonly floor: number;
}

/** In rings that follow the edge, or in parallel lines at an angle to x, degrees. */
export type ClearMethod = { readonly by: 'offset' } | { readonly by: 'hatch'; readonly angle: number };

/**
 * Width of the flat bottom a cutter leaves, mm; for a ball, the step that leaves ridges of a height h no one sees,
 * s = 2 sqrt(R^2 - (R - h)^2) (the standard ball-cutter formula, Machinery's Handbook; from memory).
 */
export function floorWidth(cutter: Cutter): number {
  switch (cutter.shape) {
    case 'cone':
      return cutter.tip;
    case 'flat':
      return cutter.diameter;
    case 'ball': {
      const r = cutter.diameter / 2;
      const h = Math.min(SCALLOP_MM, r);
      return 2 * Math.sqrt(r * r - (r - h) ** 2);
    }
    case 'drag':
    case 'beam':
      return cutter.width;
  }
}

/**
 * The lines that cut an area flat, from the middle outward, so that the last, along the edge, is the finishing one.
 * Rings keep the edge on their right, which is climb milling with a spindle that turns clockwise seen from above
 * (common practice, no source). Places narrower than the cut are not reached.
 */
export function clear(
  rings: readonly Polyline[],
  cut: ClearCut,
  method: ClearMethod = { by: 'offset' },
  work = new CutWork(),
): CutLine[] {
  checkEdges(rings, cut.width / 2);
  const reach = inset(rings, cut.width / 2);
  const step = Math.max(cut.floor * STEP_OF_FLOOR, cut.width * STEP_OF_CUT);
  const floor = step / STEP_OF_FLOOR;
  const finish = closedLines(reach);
  if (method.by === 'offset') {
    const levels = insetLevels(reach, step, step, Number.POSITIVE_INFINITY, work);
    const inner = [...levels].reverse().flatMap(closedLines);
    return [...inner, ...closedLines(ridgesBetween([reach, ...levels], floor)), ...finish];
  }
  const inner = hatch(reach, { margin: floor * MARGIN_OF_FLOOR, step, angle: method.angle }, work);
  let swept = 0;
  const take = (steps: number): void => {
    swept += steps;
    if (swept > MOST_SWEPT) throw refuse('cutting.too-much-hatch', '', { most: MOST_SWEPT });
    work.take(steps, 'sweep');
  };
  const ground = sweep([...inner, ...finish], floor * SURE_OF_FLOOR, take);
  take(sweepSteps([...reach, ...ground]));
  const left = difference(reach, ground);
  return [...inner, ...closedLines(ridges(left, floor)), ...finish];
}

/** Steps of sweeping over a hatch for what it leaves. */
const MOST_SWEPT = 30_000_000;

/** Levels of a hatch by the edges that each is crossed with, and what a level costs beside them, in edges. */
const MOST_LEVEL_WORK = 5_000_000;
const COST_OF_LEVEL = 1000;
/** Edges looked at on the way from one line of a hatch to the next. */
const MOST_HATCH_WORK = 500_000_000;

const closedLines = (rings: Polygons): CutLine[] => rings.map((points) => ({ points, closed: true }));

/**
 * What the floor leaves standing between the rings of levels: necks, and middles between two rings. What lies between
 * two levels is nearer to their rings than to any other, so each pair is looked at by itself.
 */
const ridgesBetween = (levels: readonly Polygons[], floor: number): Polygons =>
  levels.flatMap((level, k) => {
    const reach = (floor * SURE_OF_FLOOR) / 2;
    const left = inset(level, reach);
    const within = levels[k + 1];
    return ridges(within && left.length > 0 ? difference(left, grow(within, reach)) : left, floor);
  });

/** Edges of what is left standing, where it is large enough to be cut. */
const ridges = (left: Polygons, floor: number): Polygons =>
  left.filter((ring) => area([ring]) > (floor * RIDGE_OF_FLOOR) ** 2);

/** Where a line of the hatch runs, in its own turned frame: level v, from u0 to u1. */
interface Span {
  readonly u0: number;
  readonly u1: number;
  readonly v: number;
}

/** Parallel lines to and fro, each going on to the next where the way to it stays within reach. */
function hatch(
  reach: Polygons,
  { margin, step, angle }: { margin: number; step: number; angle: number },
  work: CutWork,
): CutLine[] {
  const [c, s] = [Math.cos(toRad(angle)), Math.sin(toRad(angle))];
  const bounds = rotateRings(reach, c, -s);
  const levels = spans(rotateRings(inset(reach, margin), c, -s), step, work);
  const edgesInAll = reach.reduce((sum, ring) => sum + ring.length / 2, 0);
  let seen = 0;
  const looked = (): true => {
    seen += edgesInAll;
    work.take(edgesInAll, 'lookedAt');
    if (seen > MOST_HATCH_WORK) throw refuse('cutting.too-much-hatch', '', { most: MOST_HATCH_WORK });
    return true;
  };
  const used = new Set<Span>();
  const lines: CutLine[] = [];
  for (const [k, level] of levels.entries())
    for (const first of level) {
      if (used.has(first)) continue;
      const points: number[] = [];
      let span: Span | undefined = first;
      for (let at = k; span; at++) {
        used.add(span);
        const ahead: boolean = (at - k) % 2 === 0;
        const end: readonly [number, number] = [ahead ? span.u1 : span.u0, span.v];
        points.push(ahead ? span.u0 : span.u1, span.v, ...end);
        span = levels[at + 1]?.find(
          (next) => !used.has(next) && looked() && !crosses(bounds, end, [ahead ? next.u1 : next.u0, next.v]),
        );
      }
      lines.push({ points: rotateRings([Float64Array.from(points)], c, s)[0]!, closed: false });
    }
  return lines;
}

/** The parts of levels a step apart that lie inside rings, by the crossings of their edges. */
function spans(rings: Polygons, step: number, work: CutWork): Span[][] {
  const heights = rings.flatMap((ring) => Array.from(ring).filter((_, i) => i % 2 === 1));
  if (heights.length === 0) return [];
  const low = heights.reduce((a, b) => Math.min(a, b));
  const high = heights.reduce((a, b) => Math.max(a, b));
  const count = Math.ceil((high - low) / step);
  if (count * (heights.length + COST_OF_LEVEL) > MOST_LEVEL_WORK)
    throw refuse('cutting.too-much-hatch', '', { most: MOST_LEVEL_WORK });
  work.take(count * (heights.length + COST_OF_LEVEL), 'crossed');
  return Array.from({ length: count }, (_, k) => {
    const v = low + ((k + 0.5) * (high - low)) / count;
    const us: number[] = [];
    for (const ring of rings) {
      for (let i = 0; i < ring.length; i += 2) {
        const j = i + 2 < ring.length ? i + 2 : 0;
        const ay = ring[i + 1]!;
        const by = ring[j + 1]!;
        if (ay > v !== by > v) us.push(ring[i]! + ((v - ay) / (by - ay)) * (ring[j]! - ring[i]!));
      }
    }
    us.sort((a, b) => a - b);
    return Array.from({ length: us.length / 2 }, (_, i) => ({ u0: us[2 * i]!, u1: us[2 * i + 1]!, v }));
  });
}

/** Whether the way from one point inside rings to another leaves them. */
function crosses(rings: Polygons, [px, py]: Point, [qx, qy]: Point): boolean {
  const left = Math.min(px, qx);
  const right = Math.max(px, qx);
  const low = Math.min(py, qy);
  const high = Math.max(py, qy);
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const j = i + 2 < ring.length ? i + 2 : 0;
      const ay = ring[i + 1]!;
      const by = ring[j + 1]!;
      // Nearly every edge lies wholly to one side of the way, which is a step high.
      if ((ay < low && by < low) || (ay > high && by > high)) continue;
      const ax = ring[i]!;
      const bx = ring[j]!;
      if ((ax < left && bx < left) || (ax > right && bx > right)) continue;
      if (segmentsCross(px, py, qx, qy, ax, ay, bx, by)) return true;
    }
  }
  return false;
}

const rotateRings = (rings: Polygons, c: number, s: number): Polyline[] =>
  rings.map((ring) => rotateAndMove(ring, c, s, 0, 0));
