import { containsPoint } from './inside.js';
import type { Polyline } from './path.js';

/** A stretch of a line that lies wholly within areas, or wholly outside them. */
export interface Stretch {
  readonly inside: boolean;
  readonly points: number[];
}

/** Where a line is cut: the edges of areas, and what lies within them. */
export interface Edges {
  /** Where a segment crosses an edge, as parts of the way along, in no order. */
  crossings(x0: number, y0: number, x1: number, y1: number): number[];
  holds(x: number, y: number): boolean;
}

/** Areas bounded by rings by non-zero winding. */
export const edgesOf = (rings: readonly Polyline[]): Edges => ({
  crossings: (x0, y0, x1, y1) => rings.flatMap((ring) => ringCrossings(ring, x0, y0, x1, y1)),
  holds: (x, y) => containsPoint(rings, x, y),
});

/** A flat line cut where it goes into areas and out of them, in order from its first point. */
export function splitLine(
  { points, closed }: { readonly points: Polyline; readonly closed: boolean },
  areas: readonly Edges[],
): Stretch[] {
  const out: Stretch[] = [];
  const n = points.length / 2;
  for (let k = 0; k < (closed ? n : n - 1); k++) {
    const next = (k + 1) % n;
    const [x0, y0, x1, y1] = [points[2 * k]!, points[2 * k + 1]!, points[2 * next]!, points[2 * next + 1]!];
    const at = (t: number): [number, number] =>
      t === 1 ? [x1, y1] : [x0 + t * (x1 - x0), y0 + t * (y1 - y0)];
    const cuts = [1];
    for (const area of areas) for (const cut of area.crossings(x0, y0, x1, y1)) cuts.push(cut);
    cuts.sort((a, b) => a - b);
    let from = 0;
    for (const to of cuts) {
      const inside = areas.some((area) => area.holds(...at((from + to) / 2)));
      const last = out.at(-1);
      if (last?.inside === inside) last.points.push(...at(to));
      else out.push({ inside, points: [...at(from), ...at(to)] });
      from = to;
    }
  }
  return out;
}

/** Where a segment crosses a ring, as parts of the way along it. */
function ringCrossings(ring: Polyline, x0: number, y0: number, x1: number, y1: number): number[] {
  const found: number[] = [];
  const [dx, dy] = [x1 - x0, y1 - y0];
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
    const [ax, ay] = [ring[j]! - x0, ring[j + 1]! - y0];
    const [ex, ey] = [ring[i]! - ring[j]!, ring[i + 1]! - ring[j + 1]!];
    const d = dx * ey - dy * ex;
    if (d === 0) continue;
    const t = (ax * ey - ay * ex) / d;
    const u = (ax * dy - ay * dx) / d;
    if (t > 0 && t < 1 && u >= 0 && u <= 1) found.push(t);
  }
  return found;
}
