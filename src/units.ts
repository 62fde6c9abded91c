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
