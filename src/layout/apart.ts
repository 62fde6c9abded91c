import type { Path } from '../geometry/path.js';

/**
 * How far lines on one sheet lie apart. Lines have hundreds of points and the fit asks a hundred thousand times, so
 * each is taken in stretches with a box round each: what is far apart by its boxes is never measured.
 */
export type Box = readonly [x0: number, y0: number, x1: number, y1: number];

/** Segments to a stretch. */
const STRETCH = 8;

/** A line and the boxes of its stretches, four figures each. */
interface Boxed {
  readonly points: Float64Array;
  /** Segments, the closing one of a ring among them. */
  readonly count: number;
  readonly boxes: Float64Array;
}

/**
 * The room, mm, from lines to polygons: positive to spare, negative so far in. `filled` says that the lines bound areas
 * in which nothing may hide. An answer not below `known` says no more than that.
 */
export function toPolygons(
  paths: readonly Path[],
  filled: boolean,
  polygons: readonly Float64Array[],
  known: number,
): number {
  let deepest = -1;
  for (const path of paths) deepest = Math.max(deepest, deepestIn(path, polygons));
  if (deepest >= 0) return -deepest;
  if (filled && hidesIn(paths, polygons)) {
    const least = between(paths, polygons, Number.POSITIVE_INFINITY);
    // Lines that cross are no worse than touching here; the points inside have told the rest.
    if (least > 0) return -least;
  }
  return known <= 0 ? known : between(paths, polygons, known);
}

/** A long segment is looked at in so many places at the most, and no closer together than this, mm. */
const MOST_LOOKS = 16;
const LOOK_MM = 0.25;

/**
 * How deep a line runs into polygons, by points along it; -1 where none lies inside. Points between the ends of a long
 * segment count too: one that runs right through must not pass for one that only touches.
 */
function deepestIn({ points, closed }: Path, polygons: readonly Float64Array[]): number {
  let deepest = -1;
  const n = points.length;
  for (let i = 0; i < n; i += 2) {
    const [x, y] = [points[i]!, points[i + 1]!];
    const k = i + 2 < n ? i + 2 : closed ? 0 : i;
    const [dx, dy] = [points[k]! - x, points[k + 1]! - y];
    const looks = Math.min(MOST_LOOKS, 1 + Math.floor(Math.sqrt(dx * dx + dy * dy) / LOOK_MM));
    for (let j = 0; j < looks; j++) {
      const u = x + (dx * j) / looks;
      const v = y + (dy * j) / looks;
      if (insideAny(u, v, polygons)) deepest = Math.max(deepest, toRings(u, v, polygons));
    }
  }
  return deepest;
}

/** Whether a point of the polygons lies within the area the lines bound. */
function hidesIn(paths: readonly Path[], polygons: readonly Float64Array[]): boolean {
  const rings = paths.map((p) => p.points);
  return polygons.some((ring) => {
    for (let i = 0; i < ring.length; i += 2) if (insideAny(ring[i]!, ring[i + 1]!, rings)) return true;
    return false;
  });
}

/** The least distance between lines and rings, or `below` when they are no nearer than that. */
function between(paths: readonly Path[], rings: readonly Float64Array[], below: number): number {
  let least = below;
  for (const path of paths) {
    const line = path.closed ? boxedRing(path.points) : boxed(path.points, false);
    for (const ring of rings) {
      if (!nearer(...box(path.points), ...box(ring), least)) continue;
      least = betweenLines(line, boxedRing(ring), least);
    }
  }
  return least;
}

function betweenLines(a: Boxed, b: Boxed, below: number): number {
  let least = below;
  const [p, q] = [a.points, b.points];
  const [u, v] = [a.boxes, b.boxes];
  for (let s = 0; s < u.length; s += 4) {
    for (let t = 0; t < v.length; t += 4) {
      if (!nearer(u[s]!, u[s + 1]!, u[s + 2]!, u[s + 3]!, v[t]!, v[t + 1]!, v[t + 2]!, v[t + 3]!, least))
        continue;
      const lastA = Math.min(a.count, (s / 4 + 1) * STRETCH);
      const lastB = Math.min(b.count, (t / 4 + 1) * STRETCH);
      for (let i = (s / 4) * STRETCH; i < lastA; i++) {
        const h = 2 * i;
        const k = h + 2 < p.length ? h + 2 : 0;
        for (let j = (t / 4) * STRETCH; j < lastB; j++) {
          const m = 2 * j;
          const n = m + 2 < q.length ? m + 2 : 0;
          const d = segmentsApart(
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

/** Whether two boxes are nearer than `below`. */
function nearer(
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

function boxed(points: Float64Array, closed: boolean): Boxed {
  const n = points.length / 2;
  const count = closed ? n : n - 1;
  const boxes = new Float64Array(4 * Math.ceil(count / STRETCH));
  for (let s = 0; 4 * s < boxes.length; s++) {
    let x0 = Number.POSITIVE_INFINITY;
    let y0 = Number.POSITIVE_INFINITY;
    let x1 = Number.NEGATIVE_INFINITY;
    let y1 = Number.NEGATIVE_INFINITY;
    for (let i = s * STRETCH; i <= Math.min(count, (s + 1) * STRETCH); i++) {
      const k = i < n ? 2 * i : 0;
      x0 = Math.min(x0, points[k]!);
      y0 = Math.min(y0, points[k + 1]!);
      x1 = Math.max(x1, points[k]!);
      y1 = Math.max(y1, points[k + 1]!);
    }
    boxes.set([x0, y0, x1, y1], 4 * s);
  }
  return { points, count, boxes };
}

const ringBoxes = new WeakMap<Float64Array, Boxed>();

/** Rings are asked about again and again, each time by new lines. */
function boxedRing(ring: Float64Array): Boxed {
  let known = ringBoxes.get(ring);
  if (!known) {
    known = boxed(ring, true);
    ringBoxes.set(ring, known);
  }
  return known;
}

const wholeBoxes = new WeakMap<Float64Array, Box>();

export function box(points: Float64Array): Box {
  const known = wholeBoxes.get(points);
  if (known) return known;
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < points.length; i += 2) {
    x0 = Math.min(x0, points[i]!);
    x1 = Math.max(x1, points[i]!);
    y0 = Math.min(y0, points[i + 1]!);
    y1 = Math.max(y1, points[i + 1]!);
  }
  const result = [x0, y0, x1, y1] as const;
  wholeBoxes.set(points, result);
  return result;
}

export function boxOf(lines: readonly Float64Array[]): Box {
  let [x0, y0, x1, y1] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, -Infinity, -Infinity];
  for (const line of lines) {
    const one = box(line);
    x0 = Math.min(x0, one[0]);
    y0 = Math.min(y0, one[1]);
    x1 = Math.max(x1, one[2]);
    y1 = Math.max(y1, one[3]);
  }
  return [x0, y0, x1, y1];
}

/** Distance between two segments, or anything not less than `below` when they are no nearer than that. */
function segmentsApart(
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
  if (cross(ax, ay, bx, by, cx, cy, dx, dy)) return 0;
  return Math.sqrt(
    Math.min(
      toSegment2(ax, ay, cx, cy, dx, dy),
      toSegment2(bx, by, cx, cy, dx, dy),
      toSegment2(cx, cy, ax, ay, bx, by),
      toSegment2(dx, dy, ax, ay, bx, by),
    ),
  );
}

function cross(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): boolean {
  const a = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  const b = (bx - ax) * (dy - ay) - (by - ay) * (dx - ax);
  const c = (dx - cx) * (ay - cy) - (dy - cy) * (ax - cx);
  const d = (dx - cx) * (by - cy) - (dy - cy) * (bx - cx);
  return a > 0 !== b > 0 && c > 0 !== d > 0;
}

function toSegment2(px: number, py: number, ax: number, ay: number, bx: number, by: number): number {
  const vx = bx - ax;
  const vy = by - ay;
  const l = vx * vx + vy * vy;
  const t = l === 0 ? 0 : Math.min(1, Math.max(0, ((px - ax) * vx + (py - ay) * vy) / l));
  const ex = px - ax - t * vx;
  const ey = py - ay - t * vy;
  return ex * ex + ey * ey;
}

function toRings(x: number, y: number, rings: readonly Float64Array[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    for (let k = 0, j = ring.length - 2; k < ring.length; j = k, k += 2)
      least = Math.min(least, toSegment2(x, y, ring[j]!, ring[j + 1]!, ring[k]!, ring[k + 1]!));
  }
  return Math.sqrt(least);
}

/** Non-zero winding over all rings. */
function insideAny(x: number, y: number, rings: readonly Float64Array[]): boolean {
  let winding = 0;
  for (const ring of rings) {
    const [x0, y0, x1, y1] = box(ring);
    if (x < x0 || x > x1 || y < y0 || y > y1) continue;
    const { boxes, count } = boxedRing(ring);
    for (let t = 0; t < boxes.length; t += 4) {
      // Only what lies level with the point and reaches beyond it is crossed on the way out.
      if (y < boxes[t + 1]! || y > boxes[t + 3]! || x > boxes[t + 2]!) continue;
      const last = Math.min(count, (t / 4 + 1) * STRETCH);
      for (let j = (t / 4) * STRETCH; j < last; j++) {
        const m = 2 * j;
        const k = m + 2 < ring.length ? m + 2 : 0;
        const ay = ring[m + 1]!;
        const by = ring[k + 1]!;
        if (ay > y === by > y) continue;
        const at = ring[m]! + ((y - ay) / (by - ay)) * (ring[k]! - ring[m]!);
        if (at > x) winding += by > ay ? 1 : -1;
      }
    }
  }
  return winding !== 0;
}
