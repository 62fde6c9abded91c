import type { Station } from '../../src/documents/schema/station.js';

/**
 * The cone, its sheet and the station's frame over again, for tests: the textbook sector about the apex, with p the
 * distance from it. It loses figures on a very slight taper; tests that use it keep to 0.05 degrees and more, or nought.
 */
export interface Cone {
  readonly z0: number;
  readonly z1: number;
  readonly r0: number;
  readonly r1: number;
}

const RAD = Math.PI / 180;
export type Pair = readonly [number, number];

export const halfAngle = ({ z0, z1, r0, r1 }: Cone): number => Math.atan((r1 - r0) / (z1 - z0));
const radiusAt = (c: Cone, z: number): number => c.r0 + ((c.r1 - c.r0) * (z - c.z0)) / (c.z1 - c.z0);

/** The sheet point of z and an angle in degrees on the sheet. */
export function develop(c: Cone, z: number, angle: number): Pair {
  const t = halfAngle(c);
  if (t === 0) return [c.r0 * angle * RAD, z - c.z0];
  const p0 = c.r0 / Math.sin(Math.abs(t));
  const p = radiusAt(c, z) / Math.sin(Math.abs(t));
  const f = angle * RAD * Math.sin(Math.abs(t));
  // Narrowing upward the apex stands above the sheet, widening below it.
  return [p * Math.sin(f), t < 0 ? p0 - p * Math.cos(f) : p * Math.cos(f) - p0];
}

/** z and part angle (degrees) for X and A. */
export function place(c: Cone, s: Station, x: number, a: number): { z: number; angle: number } {
  const along = (x - s.axes.x.offset) * s.axes.x.sign;
  const z = s.setup === 'level' ? along : c.z0 + along * Math.cos(halfAngle(c));
  return { z, angle: (a - s.axes.a.offset) * s.axes.a.sign };
}

/** Z of the surface at z. */
export function surfaceZ(c: Cone, s: Station, z: number): number {
  if (s.setup === 'tilted') return s.axes.z.offset;
  return s.axes.z.offset + radiusAt(c, z) - (s.axes.z.zero === 'touch' ? c.r0 : 0);
}

/** The sheet point of X and A on the sheet turned by `turn`, at the whole turn that brings the angle nearest `about`. */
export function sheetPoint(c: Cone, s: Station, x: number, a: number, turn: number, about = 0): Pair {
  const { z, angle } = place(c, s, x, a);
  const local = angle - turn;
  return develop(c, z, local - 360 * Math.round((local - about) / 360));
}

export function toSegment([x, y]: Pair, [ax, ay]: Pair, [bx, by]: Pair): number {
  const [dx, dy] = [bx - ax, by - ay];
  const n = dx * dx + dy * dy;
  const t = n === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / n));
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}

export function toPolyline(p: Pair, line: readonly Pair[]): number {
  let least =
    line.length === 1 ? Math.hypot(p[0] - line[0]![0], p[1] - line[0]![1]) : Number.POSITIVE_INFINITY;
  for (let k = 1; k < line.length; k++) least = Math.min(least, toSegment(p, line[k - 1]!, line[k]!));
  return least;
}

/** Points at most `step` mm apart along a polyline. */
export function sampled(line: readonly Pair[], step: number): Pair[] {
  const out: Pair[] = [line[0]!];
  for (let k = 1; k < line.length; k++) {
    const [a, b] = [line[k - 1]!, line[k]!];
    const n = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / step));
    for (let i = 1; i <= n; i++) out.push([a[0] + ((b[0] - a[0]) * i) / n, a[1] + ((b[1] - a[1]) * i) / n]);
  }
  return out;
}
