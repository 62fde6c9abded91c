import { type Bounds, boundsOf } from '../geometry/bounds.js';
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
  const others = b.map((path) => {
    const segments = segmentsOf(path);
    return { box: boundsOf(path.points), segments, boxes: segments.map(boxOf) };
  });
  for (const path of a) {
    const own = boundsOf(path.points);
    const near = others.filter(({ box }) => boxesApart(own, box) < below);
    if (near.length === 0) continue;
    for (const p of segmentsOf(path)) {
      const here = boxOf(p);
      for (const { box, segments, boxes } of near) {
        if (boxesApart(here, box) >= best.distance) continue;
        for (let k = 0; k < segments.length; k++) {
          if (boxesApart(here, boxes[k]!) >= best.distance) continue;
          const found = segmentsApart(p, segments[k]!);
          if (found.distance < best.distance) best = found;
        }
      }
    }
  }
  return best.distance < below ? best : undefined;
}

const boxOf = ([ax, ay, bx, by]: Segment): Bounds => [
  Math.min(ax, bx),
  Math.min(ay, by),
  Math.max(ax, bx),
  Math.max(ay, by),
];

/** How far apart two boxes are, the greater of across and along; nothing within them is nearer. */
export const boxesApart = (p: Bounds, q: Bounds): number =>
  Math.max(0, p[0] - q[2], q[0] - p[2], p[1] - q[3], q[1] - p[3]);

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
