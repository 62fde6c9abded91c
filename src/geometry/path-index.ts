import { type Bounds, boundsOf } from './bounds.js';
import type { Path } from './path.js';
import { distanceBetweenSegments } from './segment.js';

/** A path taken in stretches with bounds round each, so that what is far apart by its bounds is never measured. */
export interface PathIndex {
  readonly path: Path;
  readonly bounds: Bounds;
  /** Segments of the path. */
  readonly count: number;
  /** Left, bottom, right, top of each stretch. */
  readonly boxes: Float64Array;
}

/** Segments to a stretch. */
export const STRETCH = 8;

/** An index of a path, for many distances. Time and memory grow with its points. */
export function indexPath(path: Path): PathIndex {
  const { points, closed } = path;
  const n = points.length / 2;
  const count = closed ? n : n - 1;
  const boxes = new Float64Array(4 * Math.ceil(count / STRETCH));
  for (let s = 0; 4 * s < boxes.length; s++) {
    let left = Number.POSITIVE_INFINITY;
    let bottom = Number.POSITIVE_INFINITY;
    let right = Number.NEGATIVE_INFINITY;
    let top = Number.NEGATIVE_INFINITY;
    for (let i = s * STRETCH; i <= Math.min(count, (s + 1) * STRETCH); i++) {
      const k = i < n ? 2 * i : 0;
      left = Math.min(left, points[k]!);
      bottom = Math.min(bottom, points[k + 1]!);
      right = Math.max(right, points[k]!);
      top = Math.max(top, points[k + 1]!);
    }
    boxes[4 * s] = left;
    boxes[4 * s + 1] = bottom;
    boxes[4 * s + 2] = right;
    boxes[4 * s + 3] = top;
  }
  return { path, bounds: boundsOf(points), count, boxes };
}

/** The least distance between two paths, mm, 0 where they cross; or `below` when they are no nearer than that. */
export function distanceBetweenPaths(a: PathIndex, b: PathIndex, below: number): number {
  if (!boundsNearer(...a.bounds, ...b.bounds, below)) return below;
  let least = below;
  const [p, q] = [a.path.points, b.path.points];
  const [u, v] = [a.boxes, b.boxes];
  for (let s = 0; s < u.length; s += 4) {
    for (let t = 0; t < v.length; t += 4) {
      if (
        !boundsNearer(u[s]!, u[s + 1]!, u[s + 2]!, u[s + 3]!, v[t]!, v[t + 1]!, v[t + 2]!, v[t + 3]!, least)
      )
        continue;
      const lastA = Math.min(a.count, (s / 4 + 1) * STRETCH);
      const lastB = Math.min(b.count, (t / 4 + 1) * STRETCH);
      for (let i = (s / 4) * STRETCH; i < lastA; i++) {
        const h = 2 * i;
        const k = h + 2 < p.length ? h + 2 : 0;
        for (let j = (t / 4) * STRETCH; j < lastB; j++) {
          const m = 2 * j;
          const n = m + 2 < q.length ? m + 2 : 0;
          const d = distanceBetweenSegments(
            p[h]!,
            p[h + 1]!,
            p[k]!,
            p[k + 1]!,
            q[m]!,
            q[m + 1]!,
            q[n]!,
            q[n + 1]!,
            least,
          );
          if (d < least) least = d;
        }
      }
    }
  }
  return least;
}

/** Whether two bounds, left, bottom, right, top each, are nearer than `below`. */
function boundsNearer(
  ax0: number,
  ay0: number,
  ax1: number,
  ay1: number,
  bx0: number,
  by0: number,
  bx1: number,
  by1: number,
  below: number,
): boolean {
  const dx = Math.max(0, ax0 - bx1, bx0 - ax1);
  const dy = Math.max(0, ay0 - by1, by0 - ay1);
  return below > 0 && dx * dx + dy * dy < below * below;
}
