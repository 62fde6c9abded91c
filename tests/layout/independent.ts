import polygonClipping, { type Polygon } from 'polygon-clipping';

/**
 * A second opinion on overlaps, sharing no code with the fit: keep-outs are rolled flat by the formula written out
 * again here, thickened as unions of capsules, and overlaps are areas found by polygon-clipping.
 */
export interface Cone {
  readonly z0: number;
  readonly z1: number;
  readonly r0: number;
  readonly r1: number;
}

/** Flat point of (z, degrees) on the sheet whose y axis is at 0 degrees. */
export function flat({ z0, z1, r0, r1 }: Cone, z: number, deg: number): [number, number] {
  const a = (deg * Math.PI) / 180;
  if (Math.abs(r0 - r1) < 1e-9) return [r0 * a, z - z0];
  const slope = Math.hypot(z1 - z0, r1 - r0) / (z1 - z0);
  const sin = Math.abs(r1 - r0) / Math.hypot(z1 - z0, r1 - r0);
  const p0 = r0 / sin;
  const s = (z - z0) * slope;
  const p = r1 < r0 ? p0 - s : p0 + s;
  return [p * Math.sin(a * sin), r1 < r0 ? p0 - p * Math.cos(a * sin) : p * Math.cos(a * sin) - p0];
}

/** z of a flat point, from its distance to the apex. */
export function zOf(c: Cone, x: number, y: number): number {
  if (Math.abs(c.r0 - c.r1) < 1e-9) return c.z0 + y;
  const length = Math.hypot(c.z1 - c.z0, c.r1 - c.r0);
  const p0 = (c.r0 * length) / Math.abs(c.r1 - c.r0);
  const up = c.r1 < c.r0;
  const p = Math.hypot(x, up ? p0 - y : p0 + y);
  return c.z0 + ((up ? p0 - p : p - p0) * (c.z1 - c.z0)) / length;
}

const SIDES = 64;

/** Everything within r of a segment, its round ends as polygons inside the true circles. */
export function capsule(ax: number, ay: number, bx: number, by: number, r: number): Polygon {
  const along = Math.atan2(by - ay, bx - ax);
  const ring: [number, number][] = [];
  for (let k = 0; k <= SIDES / 2; k++) {
    const t = along - Math.PI / 2 + (2 * Math.PI * k) / SIDES;
    ring.push([bx + r * Math.cos(t), by + r * Math.sin(t)]);
  }
  for (let k = 0; k <= SIDES / 2; k++) {
    const t = along + Math.PI / 2 + (2 * Math.PI * k) / SIDES;
    ring.push([ax + r * Math.cos(t), ay + r * Math.sin(t)]);
  }
  ring.push(ring[0]!);
  return [ring];
}

export function areaOf(polygons: readonly Polygon[]): number {
  let twice = 0;
  for (const polygon of polygons)
    for (const ring of polygon)
      for (let i = 0; i + 1 < ring.length; i++)
        twice += ring[i]![0] * ring[i + 1]![1] - ring[i + 1]![0] * ring[i]![1];
  return Math.abs(twice) / 2;
}

type Ring = readonly (readonly [number, number])[];

/** Area shared by a line `width` wide and an outline thickened by `clearance`, mm2. */
export function overlap(
  line: Float64Array,
  closed: boolean,
  width: number,
  outline: Ring,
  clearance: number,
): number {
  const xs = outline.map((p) => p[0]);
  const ys = outline.map((p) => p[1]);
  const box = [
    Math.min(...xs) - clearance,
    Math.min(...ys) - clearance,
    Math.max(...xs) + clearance,
    Math.max(...ys) + clearance,
  ];
  const n = line.length / 2;
  let total = 0;
  let keepout: Polygon[] | undefined;
  for (let i = closed ? 0 : 1; i < n; i++) {
    const h = (i + n - 1) % n;
    const [ax, ay, bx, by] = [line[2 * h]!, line[2 * h + 1]!, line[2 * i]!, line[2 * i + 1]!];
    const r = width / 2;
    if (Math.max(ax, bx) + r < box[0]! || Math.min(ax, bx) - r > box[2]!) continue;
    if (Math.max(ay, by) + r < box[1]! || Math.min(ay, by) - r > box[3]!) continue;
    keepout ??= thickened(outline, clearance);
    for (const part of keepout)
      total += areaOf(polygonClipping.intersection(capsule(ax, ay, bx, by, r), part));
  }
  return total;
}

function thickened(outline: Ring, clearance: number): Polygon[] {
  const own: Polygon = [
    [...outline.map(([x, y]) => [x, y] as [number, number]), [outline[0]![0], outline[0]![1]]],
  ];
  if (clearance === 0) return [own];
  const edges = outline.map(([x, y], i) => {
    const [u, v] = outline[(i + 1) % outline.length]!;
    return capsule(x, y, u, v, clearance);
  });
  return [own, ...edges];
}
