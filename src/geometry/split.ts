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
export function edgesOf(rings: readonly Polyline[]): Edges {
  const runs = rings.flatMap(runsOf);
  return {
    crossings(x0, y0, x1, y1) {
      const found: number[] = [];
      const left = Math.min(x0, x1) - MARGIN_MM;
      const right = Math.max(x0, x1) + MARGIN_MM;
      const bottom = Math.min(y0, y1) - MARGIN_MM;
      const top = Math.max(y0, y1) + MARGIN_MM;
      for (const run of runs)
        if (run.right >= left && run.left <= right && run.top >= bottom && run.bottom <= top)
          addCrossings(run, x0, y0, x1, y1, found);
      return found;
    },
    holds: (x, y) => containsPoint(rings, x, y),
  };
}

/** Edges of a ring that follow one another, with their bounds: a segment elsewhere need not look at each. */
interface EdgeRun {
  /** From the first point of the first edge to the last of the last. */
  readonly points: readonly number[];
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

const EDGES_PER_RUN = 32;
/** Far more than rounding can move a crossing. */
const MARGIN_MM = 1e-6;

function runsOf(ring: Polyline): EdgeRun[] {
  const closed = [...ring.slice(-2), ...ring];
  const runs: EdgeRun[] = [];
  for (let at = 0; at + 2 < closed.length; at += 2 * EDGES_PER_RUN) {
    const points = closed.slice(at, at + 2 * EDGES_PER_RUN + 2);
    let [left, right, bottom, top] = [points[0]!, points[0]!, points[1]!, points[1]!];
    for (let i = 2; i < points.length; i += 2) {
      left = Math.min(left, points[i]!);
      right = Math.max(right, points[i]!);
      bottom = Math.min(bottom, points[i + 1]!);
      top = Math.max(top, points[i + 1]!);
    }
    runs.push({ points, left, right, bottom, top });
  }
  return runs;
}

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

/** Where a segment crosses the edges of a run, as parts of the way along it. */
function addCrossings(
  { points }: EdgeRun,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  found: number[],
): void {
  const dx = x1 - x0;
  const dy = y1 - y0;
  for (let i = 2; i < points.length; i += 2) {
    const ax = points[i - 2]! - x0;
    const ay = points[i - 1]! - y0;
    const ex = points[i]! - points[i - 2]!;
    const ey = points[i + 1]! - points[i - 1]!;
    const d = dx * ey - dy * ex;
    if (d === 0) continue;
    const t = (ax * ey - ay * ex) / d;
    const u = (ax * dy - ay * dx) / d;
    if (t > 0 && t < 1 && u >= 0 && u <= 1) found.push(t);
  }
}
