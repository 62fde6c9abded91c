import type { Path, Point } from '../geometry/path.js';

/** How near two sets of lines come, mm, and the middle of the shortest way between them. */
export interface Nearest {
  readonly distance: number;
  readonly at: Point;
}

/** Where lines come nearest one another; undefined where nowhere nearer than `below`, mm. */
export function nearest(a: readonly Path[], b: readonly Path[], below: number): Nearest | undefined {
  let best: Nearest = { distance: below, at: [0, 0] };
  for (const [p, q] of pairs(a, b)) {
    const away = boxesApart(p, q);
    if (away >= best.distance) continue;
    const found = segmentsApart(p, q);
    if (found.distance < best.distance) best = found;
  }
  return best.distance < below ? best : undefined;
}

export type Segment4 = readonly [ax: number, ay: number, bx: number, by: number];

export function segmentsOf({ points, closed }: Path): Segment4[] {
  const n = points.length / 2;
  return Array.from({ length: closed ? n : n - 1 }, (_, i) => {
    const j = (i + 1) % n;
    return [points[2 * i]!, points[2 * i + 1]!, points[2 * j]!, points[2 * j + 1]!];
  });
}

/** Distance of a point from the nearest of some segments, mm. */
export const toSegments = (x: number, y: number, segments: readonly Segment4[]): number =>
  segments.reduce((least, s) => Math.min(least, toSegment(x, y, s).distance), Number.POSITIVE_INFINITY);

function* pairs(a: readonly Path[], b: readonly Path[]): Generator<[Segment4, Segment4]> {
  const other = b.flatMap(segmentsOf);
  for (const path of a) for (const p of segmentsOf(path)) for (const q of other) yield [p, q];
}

function boxesApart(p: Segment4, q: Segment4): number {
  const gap = (i: 0 | 1) =>
    Math.max(
      0,
      Math.min(p[i], p[i + 2]!) - Math.max(q[i], q[i + 2]!),
      Math.min(q[i], q[i + 2]!) - Math.max(p[i], p[i + 2]!),
    );
  return Math.max(gap(0), gap(1));
}

function segmentsApart(p: Segment4, q: Segment4): Nearest {
  const met = meeting(p, q);
  if (met) return { distance: 0, at: met };
  return [
    toSegment(p[0], p[1], q),
    toSegment(p[2], p[3], q),
    toSegment(q[0], q[1], p),
    toSegment(q[2], q[3], p),
  ].reduce((x, y) => (y.distance < x.distance ? y : x));
}

function toSegment(x: number, y: number, [ax, ay, bx, by]: Segment4): Nearest {
  const [vx, vy] = [bx - ax, by - ay];
  const l = vx * vx + vy * vy;
  const t = l === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * vx + (y - ay) * vy) / l));
  const [qx, qy] = [ax + t * vx, ay + t * vy];
  return { distance: Math.hypot(x - qx, y - qy), at: [(x + qx) / 2, (y + qy) / 2] };
}

/** Where two segments cross. */
function meeting([ax, ay, bx, by]: Segment4, [cx, cy, dx, dy]: Segment4): Point | undefined {
  const side = (px: number, py: number, qx: number, qy: number, x: number, y: number) =>
    (qx - px) * (y - py) - (qy - py) * (x - px);
  const [a, b] = [side(cx, cy, dx, dy, ax, ay), side(cx, cy, dx, dy, bx, by)];
  const [c, d] = [side(ax, ay, bx, by, cx, cy), side(ax, ay, bx, by, dx, dy)];
  if (a > 0 === b > 0 || c > 0 === d > 0) return undefined;
  const t = a / (a - b);
  return [ax + t * (bx - ax), ay + t * (by - ay)];
}
