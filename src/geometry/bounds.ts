import type { Path, Point, Polyline } from './path.js';

/** The upright rectangle round something, mm. That of nothing is inside out: infinite at the left, -infinite at the right. */
export type Bounds = readonly [left: number, bottom: number, right: number, top: number];

/** The bounds of points, mm. */
export function boundsOf(points: ArrayLike<number>): Bounds {
  let left = Number.POSITIVE_INFINITY;
  let bottom = Number.POSITIVE_INFINITY;
  let right = Number.NEGATIVE_INFINITY;
  let top = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < points.length; i += 2) {
    left = Math.min(left, points[i]!);
    right = Math.max(right, points[i]!);
    bottom = Math.min(bottom, points[i + 1]!);
    top = Math.max(top, points[i + 1]!);
  }
  return [left, bottom, right, top];
}

/** The bounds of several lines together, mm. */
export const boundsOfAll = (lines: readonly Polyline[]): Bounds =>
  lines.map(boundsOf).reduce(joinBounds, boundsOf([]));

/** The bounds of several paths together, mm. */
export const boundsOfPaths = (paths: readonly Path[]): Bounds => boundsOfAll(paths.map((p) => p.points));

/** The bounds of two bounds together. */
export const joinBounds = (a: Bounds, b: Bounds): Bounds => [
  Math.min(a[0], b[0]),
  Math.min(a[1], b[1]),
  Math.max(a[2], b[2]),
  Math.max(a[3], b[3]),
];

/** From corner to corner, mm; 0 for the bounds of nothing. */
export const diagonalOf = ([left, bottom, right, top]: Bounds): number =>
  right < left ? 0 : Math.hypot(right - left, top - bottom);

/** The middle of bounds, mm. */
export const centreOf = ([left, bottom, right, top]: Bounds): Point => [
  (left + right) / 2,
  (bottom + top) / 2,
];

/** Whether two bounds have a point in common. */
export const boundsMeet = (a: Bounds, b: Bounds): boolean =>
  a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];

/** Bounds `by` mm farther out on all sides. */
export const growBounds = ([left, bottom, right, top]: Bounds, by: number): Bounds => [
  left - by,
  bottom - by,
  right + by,
  top + by,
];
