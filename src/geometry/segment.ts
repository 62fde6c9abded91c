import { orientation } from './orientation.js';
import type { Path, Point } from './path.js';

/** A straight segment from a to b, mm. */
export type Segment = readonly [ax: number, ay: number, bx: number, by: number];

/** The segments of a path in order; of a closed one, the side from its last point to its first comes last. */
export function segmentsOf({ points, closed }: Path): Segment[] {
  const n = points.length / 2;
  return Array.from({ length: closed ? n : n - 1 }, (_, i) => {
    const j = (i + 1) % n;
    return [points[2 * i]!, points[2 * i + 1]!, points[2 * j]!, points[2 * j + 1]!];
  });
}

/** Where on a segment the point nearest (x, y) lies: 0 at a, 1 at b. A segment of no length is its point a. */
export function nearestParameter(
  x: number,
  y: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number {
  const vx = bx - ax;
  const vy = by - ay;
  const square = vx * vx + vy * vy;
  return square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * vx + (y - ay) * vy) / square));
}

/** Square of the distance from (x, y) to the segment ab, mm2. */
export function squaredDistanceToSegment(
  x: number,
  y: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number {
  const t = nearestParameter(x, y, ax, ay, bx, by);
  const dx = x - ax - t * (bx - ax);
  const dy = y - ay - t * (by - ay);
  return dx * dx + dy * dy;
}

/** Distance from (x, y) to the segment ab, mm. */
export function distanceToSegment(
  x: number,
  y: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number {
  const t = nearestParameter(x, y, ax, ay, bx, by);
  return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay));
}

/** Distance from (x, y) to the nearest of some segments, mm; infinite when there are none. */
export const distanceToSegments = (x: number, y: number, segments: readonly Segment[]): number =>
  segments.reduce(
    (least, [ax, ay, bx, by]) => Math.min(least, distanceToSegment(x, y, ax, ay, bx, by)),
    Number.POSITIVE_INFINITY,
  );

/**
 * Whether the segments ab and cd cross. An end that lies on the other segment counts as lying to its right, so that a
 * line through a corner of a ring crosses one of the two sides there and not both; segments on one line do not cross.
 */
export function segmentsCross(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): boolean {
  return (
    orientation(ax, ay, bx, by, cx, cy) > 0 !== orientation(ax, ay, bx, by, dx, dy) > 0 &&
    orientation(cx, cy, dx, dy, ax, ay) > 0 !== orientation(cx, cy, dx, dy, bx, by) > 0
  );
}

/** Whether the segments ab and cd have a point in common, an end included. */
export function segmentsTouch(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): boolean {
  if (Math.max(ax, bx) < Math.min(cx, dx) || Math.max(cx, dx) < Math.min(ax, bx)) return false;
  if (Math.max(ay, by) < Math.min(cy, dy) || Math.max(cy, dy) < Math.min(ay, by)) return false;
  const opposite = (p: number, q: number) => Math.sign(p) * Math.sign(q) <= 0;
  return (
    opposite(orientation(ax, ay, bx, by, cx, cy), orientation(ax, ay, bx, by, dx, dy)) &&
    opposite(orientation(cx, cy, dx, dy, ax, ay), orientation(cx, cy, dx, dy, bx, by))
  );
}

/** Where the segments ab and cd cross, as `segmentsCross` says; undefined where they do not. */
export function crossingPoint([ax, ay, bx, by]: Segment, [cx, cy, dx, dy]: Segment): Point | undefined {
  if (!segmentsCross(ax, ay, bx, by, cx, cy, dx, dy)) return undefined;
  const a = orientation(cx, cy, dx, dy, ax, ay);
  const b = orientation(cx, cy, dx, dy, bx, by);
  const t = a / (a - b);
  return [ax + t * (bx - ax), ay + t * (by - ay)];
}

/**
 * Distance between the segments ab and cd, mm; 0 where they cross. When they are no nearer than `below`, the answer is
 * some distance not less than that.
 */
export function distanceBetweenSegments(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
  below: number,
): number {
  const gx = Math.max(0, Math.min(ax, bx) - Math.max(cx, dx), Math.min(cx, dx) - Math.max(ax, bx));
  if (gx >= below) return gx;
  const gy = Math.max(0, Math.min(ay, by) - Math.max(cy, dy), Math.min(cy, dy) - Math.max(ay, by));
  if (gx * gx + gy * gy >= below * below) return below;
  if (segmentsCross(ax, ay, bx, by, cx, cy, dx, dy)) return 0;
  return Math.sqrt(
    Math.min(
      squaredDistanceToSegment(ax, ay, cx, cy, dx, dy),
      squaredDistanceToSegment(bx, by, cx, cy, dx, dy),
      squaredDistanceToSegment(cx, cy, ax, ay, bx, by),
      squaredDistanceToSegment(dx, dy, ax, ay, bx, by),
    ),
  );
}
