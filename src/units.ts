/** Lengths are millimetres, angles degrees at every boundary; radians live only inside `surface`. */

export const TURN_DEG = 360;

export const toRad = (deg: number): number => (deg * Math.PI) / 180;
export const toDeg = (rad: number): number => (rad * 180) / Math.PI;

/** Angle brought into [0, 360). */
export function wrapDeg(deg: number): number {
  const r = deg % TURN_DEG;
  const w = r < 0 ? r + TURN_DEG : r;
  return w === TURN_DEG ? 0 : w + 0;
}

/** Angle brought into (-180, 180]. */
export function nearDeg(deg: number): number {
  const w = wrapDeg(deg);
  return w > 180 ? w - TURN_DEG : w;
}

/** How far a program's path may stray from the line on the surface, mm. */
export const PATH_TOLERANCE_MM = 0.002;
/** How far a flattened curve may stray from the drawn one, mm. Part of the path tolerance. */
export const FLATTEN_TOLERANCE_MM = 0.0008;
/** Geometry decided closer than this is decided against the cut, mm. */
export const SAFETY_MM = 0.0005;

/** A point on a sheet: x right (growing angle), y up (growing z), mm. */
export type Point = readonly [x: number, y: number];
/** A flat line on a sheet: x0, y0, x1, y1, ... in mm. */
export type FlatLine = Float64Array;

/** The same line run the other way. */
export function reversed(line: FlatLine): FlatLine {
  const out = new Float64Array(line.length);
  for (let i = 0; i < line.length; i += 2) {
    out[i] = line[line.length - 2 - i]!;
    out[i + 1] = line[line.length - 1 - i]!;
  }
  return out;
}
