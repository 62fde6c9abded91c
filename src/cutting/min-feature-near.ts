import type { Path, Point } from '../geometry/path.js';
import { crossingPoint, nearestParameter, type Segment, segmentsOf } from '../geometry/segment.js';

/** How near two sets of lines come, mm, and the middle of the shortest way between them. */
export interface Nearest {
  readonly distance: number;
  readonly at: Point;
}

/** Where lines come nearest one another; undefined where nowhere nearer than `below`, mm. */
export function nearestPoints(a: readonly Path[], b: readonly Path[], below: number): Nearest | undefined {
  let best: Nearest = { distance: below, at: [0, 0] };
  for (const [p, q] of pairs(a, b)) {
    const away = boxesApart(p, q);
    if (away >= best.distance) continue;
    const found = segmentsApart(p, q);
    if (found.distance < best.distance) best = found;
  }
  return best.distance < below ? best : undefined;
}

function* pairs(a: readonly Path[], b: readonly Path[]): Generator<[Segment, Segment]> {
  const other = b.flatMap(segmentsOf);
  for (const path of a) for (const p of segmentsOf(path)) for (const q of other) yield [p, q];
}

function boxesApart(p: Segment, q: Segment): number {
  const gap = (i: 0 | 1) =>
    Math.max(
      0,
      Math.min(p[i], p[i + 2]!) - Math.max(q[i], q[i + 2]!),
      Math.min(q[i], q[i + 2]!) - Math.max(p[i], p[i + 2]!),
    );
  return Math.max(gap(0), gap(1));
}

function segmentsApart(p: Segment, q: Segment): Nearest {
  const met = crossingPoint(p, q);
  if (met) return { distance: 0, at: met };
  return [
    toSegment(p[0], p[1], q),
    toSegment(p[2], p[3], q),
    toSegment(q[0], q[1], p),
    toSegment(q[2], q[3], p),
  ].reduce((x, y) => (y.distance < x.distance ? y : x));
}

function toSegment(x: number, y: number, [ax, ay, bx, by]: Segment): Nearest {
  const t = nearestParameter(x, y, ax, ay, bx, by);
  const [qx, qy] = [ax + t * (bx - ax), ay + t * (by - ay)];
  return { distance: Math.hypot(x - qx, y - qy), at: [(x + qx) / 2, (y + qy) / 2] };
}
