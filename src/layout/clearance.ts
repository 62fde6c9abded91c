import type { FlatPath } from '../lettering/flatten.js';
import type { PatchObstacle, RingObstacle } from '../surface/keepouts.js';
import { turnFrom } from '../surface/keepouts.js';
import type { Surface } from '../surface/surface.js';

/**
 * How far a cut keeps from what it must stay clear of. Positive: so many mm to spare; negative: so many mm too far
 * in. Flat typed arrays and plain loops: the fit asks this a hundred thousand times.
 */
export interface Ink {
  /** The lines on their sheet, worked out only when something is near. */
  paths(): readonly FlatPath[];
  /** A circle round all of them on that sheet, mm. */
  readonly circle: Circle;
  /** True when the paths bound areas (outline letters), so that nothing may hide inside one. */
  readonly filled: boolean;
}

export interface Circle {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

/** The circle round the box of some lines, mm. */
export function circleRound(lines: readonly Float64Array[]): Circle {
  const [x0, y0, x1, y1] = boxOf(lines);
  return { x: (x0 + x1) / 2, y: (y0 + y1) / 2, r: Math.hypot(x1 - x0, y1 - y0) / 2 };
}

/** The obstacle that leaves least room, and how much. */
export interface Tight {
  readonly room: number;
  readonly obstacle: string;
}

/**
 * The least room, mm, from ink to any of the patches, less half the cut's width; the ink is on the sheet turned to
 * `turn`. Patches that cannot come below `known` are not measured closely; the answer is then `known`.
 */
export function patchRoom(
  surface: Surface,
  ink: Ink,
  turn: number,
  patches: readonly PatchObstacle[],
  halfCut: number,
  known: number,
): Tight {
  let room = known;
  let name = '';
  for (const patch of patches) {
    const here = toPatch(surface, ink, turn, patch, room + halfCut) - halfCut;
    if (here >= room) continue;
    room = here;
    name = patch.name;
  }
  return { room, obstacle: name };
}

/**
 * The least room, mm, from ink to any of the rings, less half the cut's width. Rings that cannot come below `known`
 * are not measured closely; the answer is then `known`.
 */
export function ringRoom(
  surface: Surface,
  ink: Ink,
  rings: readonly RingObstacle[],
  halfCut: number,
  known: number,
): Tight {
  const { x, y, r } = ink.circle;
  const middle = slantAt(surface, x, y);
  let range: readonly [number, number] | undefined;
  let room = known;
  let name = '';
  for (const ring of rings) {
    if (Math.max(middle - r - ring.to, ring.from - middle - r) - halfCut >= room) continue;
    range ??= slantRange(surface, ink);
    const here = Math.max(range[0] - ring.to, ring.from - range[1]) - halfCut;
    if (here >= room) continue;
    room = here;
    name = ring.name;
  }
  return { room, obstacle: name };
}

const slantAt = (surface: Surface, x: number, y: number): number =>
  surface.slant(surface.toSurfaceNear(x, y).z);

/**
 * Least and greatest distance along the generator: on a developable surface of revolution the nearest point of a ring
 * is straight up or down. A straight line on a cone's sheet comes nearest the apex at the foot of the perpendicular.
 */
function slantRange(surface: Surface, ink: Ink): readonly [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const { apex } = surface;
  const take = (x: number, y: number) => {
    const s = slantAt(surface, x, y);
    if (s < low) low = s;
    if (s > high) high = s;
  };
  for (const { points, closed } of ink.paths()) {
    const n = points.length;
    for (let i = 0; i < n; i += 2) {
      const x = points[i]!;
      const y = points[i + 1]!;
      take(x, y);
      if (!apex || (i === 0 && !closed)) continue;
      const h = i === 0 ? n - 2 : i - 2;
      const vx = points[h]! - x;
      const vy = points[h + 1]! - y;
      const t = ((apex[0] - x) * vx + (apex[1] - y) * vy) / (vx * vx + vy * vy);
      if (t > 0 && t < 1) take(x + t * vx, y + t * vy);
    }
  }
  return [low, high];
}

function toPatch(surface: Surface, ink: Ink, turn: number, patch: PatchObstacle, known: number): number {
  const away = turnFrom(patch, turn);
  const reach = Math.min(360, surface.sheetReach);
  let least = known;
  for (const lap of [0, away > 0 ? -360 : 360]) {
    const angle = away + lap;
    if (lap !== 0 && Math.abs(angle) >= reach) continue;
    if (circleApart(surface, ink, angle, patch) >= least) continue;
    const paths = ink.paths().map((p) => ({ closed: p.closed, points: movedBy(surface, p.points, angle) }));
    least = Math.min(least, toPolygons(paths, ink.filled, patch));
  }
  return least;
}

/** No more than the room between the ink and the patch: the ink as a circle, the patch as its box. */
function circleApart(surface: Surface, ink: Ink, angle: number, patch: PatchObstacle): number {
  const [x0, y0, x1, y1] = boxOf(patch.polygons);
  const [x, y] = surface.turned(ink.circle.x, ink.circle.y, angle);
  const away = Math.hypot(Math.max(0, x - x1, x0 - x), Math.max(0, y - y1, y0 - y));
  return away === 0 ? Number.NEGATIVE_INFINITY : away - ink.circle.r;
}

function boxOf(lines: readonly Float64Array[]): readonly [number, number, number, number] {
  const all = lines.map(box);
  return [
    Math.min(...all.map((b) => b[0])),
    Math.min(...all.map((b) => b[1])),
    Math.max(...all.map((b) => b[2])),
    Math.max(...all.map((b) => b[3])),
  ];
}

function movedBy(surface: Surface, points: Float64Array, angle: number): Float64Array {
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 2) {
    const [x, y] = surface.turned(points[i]!, points[i + 1]!, angle);
    out[i] = x;
    out[i + 1] = y;
  }
  return out;
}

function toPolygons(paths: readonly FlatPath[], filled: boolean, patch: PatchObstacle): number {
  let least = Number.POSITIVE_INFINITY;
  let deepest = 0;
  let overlap = false;
  for (const path of paths) {
    for (const ring of patch.polygons) {
      const apart = boxesApart(path.points, ring);
      if (apart < least) least = Math.min(least, betweenLines(path, ring, least));
    }
    for (let i = 0; i < path.points.length; i += 2) {
      const x = path.points[i]!;
      const y = path.points[i + 1]!;
      if (!insideAny(x, y, patch.polygons)) continue;
      overlap = true;
      let d = Number.POSITIVE_INFINITY;
      for (const ring of patch.polygons) d = Math.min(d, pointToRing(x, y, ring));
      deepest = Math.max(deepest, d);
    }
  }
  if (filled && !overlap && least > 0) {
    const rings = paths.map((p) => p.points);
    for (const ring of patch.polygons) {
      for (let i = 0; i < ring.length; i += 2) {
        if (!insideAny(ring[i]!, ring[i + 1]!, rings)) continue;
        overlap = true;
        deepest = Math.max(deepest, least);
        break;
      }
    }
  }
  return overlap ? -deepest : least;
}

function boxesApart(a: Float64Array, b: Float64Array): number {
  const [ax0, ay0, ax1, ay1] = box(a);
  const [bx0, by0, bx1, by1] = box(b);
  return Math.hypot(Math.max(0, ax0 - bx1, bx0 - ax1), Math.max(0, ay0 - by1, by0 - ay1));
}

const boxes = new WeakMap<Float64Array, readonly [number, number, number, number]>();

export function box(points: Float64Array): readonly [number, number, number, number] {
  const known = boxes.get(points);
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
  boxes.set(points, result);
  return result;
}

function betweenLines(path: FlatPath, ring: Float64Array, below: number): number {
  const p = path.points;
  let least = below;
  const from = path.closed ? 0 : 2;
  for (let i = from; i < p.length; i += 2) {
    const h = i === 0 ? p.length - 2 : i - 2;
    for (let k = 0, j = ring.length - 2; k < ring.length; j = k, k += 2) {
      const d = segmentsApart(
        p[h]!,
        p[h + 1]!,
        p[i]!,
        p[i + 1]!,
        ring[j]!,
        ring[j + 1]!,
        ring[k]!,
        ring[k + 1]!,
        least,
      );
      if (d < least) least = d;
    }
  }
  return least;
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

function pointToRing(x: number, y: number, ring: Float64Array): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0, j = ring.length - 2; k < ring.length; j = k, k += 2)
    least = Math.min(least, toSegment2(x, y, ring[j]!, ring[j + 1]!, ring[k]!, ring[k + 1]!));
  return Math.sqrt(least);
}

/** Non-zero winding over all rings. */
function insideAny(x: number, y: number, rings: readonly Float64Array[]): boolean {
  let winding = 0;
  for (const ring of rings) {
    const [x0, y0, x1, y1] = box(ring);
    if (x < x0 || x > x1 || y < y0 || y > y1) continue;
    for (let k = 0, j = ring.length - 2; k < ring.length; j = k, k += 2) {
      const ay = ring[j + 1]!;
      const by = ring[k + 1]!;
      if (ay > y === by > y) continue;
      const at = ring[j]! + ((y - ay) / (by - ay)) * (ring[k]! - ring[j]!);
      if (at > x) winding += by > ay ? 1 : -1;
    }
  }
  return winding !== 0;
}
