import { nearDeg, toDeg, toRad, wrapDeg } from '../units.js';
import type { Surface } from './surface.js';

/**
 * A cone frustum with radius r0 at z0 and r1 at z1, mm. Its development is a sector about the apex: with half-angle
 * a (sin a = |dr/ds|), slant distance p from the apex and f = angle(rad) * sin a, a point lies at distance p and
 * angle f from the y axis. y grows with z, so the apex is above the sheet when the surface narrows upward and below
 * when it widens.
 *
 * Written with s, the slant distance from z0 (p = p0 -/+ s), so that nothing is lost when the taper is slight and
 * the apex kilometres away: y = s +/- 2 p sin^2(f/2), not p0 - p cos f. docs/geometry.md derives both.
 */
export function cone(id: string, z0: number, z1: number, r0: number, r1: number): Surface {
  const length = Math.hypot(z1 - z0, r1 - r0);
  const sin = Math.abs(r1 - r0) / length;
  const cos = (z1 - z0) / length;
  /** +1 narrowing upward (apex above), -1 widening. */
  const up = r1 < r0 ? 1 : -1;
  const p0 = r0 / sin;
  const reach = 180 / sin;

  const toSurfaceNear = (x: number, y: number) => {
    const toApex = p0 - up * y;
    const p = Math.hypot(x, toApex);
    const s = (2 * p0 * y - up * (y * y + x * x)) / (p0 + p);
    return { z: z0 + s * cos, angle: toDeg(Math.atan2(x, toApex) / sin) };
  };
  // A line of many points is turned by one angle: its sine and cosine are worked out once.
  let turned = Number.NaN;
  let [c, t, half] = [1, 0, 0];
  return {
    id,
    kind: 'cone',
    z0,
    z1,
    taper: -up * toDeg(Math.atan2(Math.abs(r1 - r0), z1 - z0)),
    toSurfaceNear,
    rotate: (x, y, angle) => {
      // A turn of the part is a turn of the sheet about the apex, clockwise when the apex is below.
      if (angle !== turned) {
        const f = up * toRad(angle) * sin;
        [c, t, half] = [Math.cos(f), Math.sin(f), Math.sin(f / 2)];
        turned = angle;
      }
      return [x * c - y * t + up * p0 * t, x * t + y * c + up * p0 * 2 * half * half];
    },
    radius: (z) => r0 + ((z - z0) / (z1 - z0)) * (r1 - r0),
    slant: (z) => (z - z0) / cos,
    apex: [0, up * p0],
    sheetReach: reach,
    toSheet: (z, angle) => {
      const s = (z - z0) / cos;
      const p = p0 - up * s;
      // The sector is single-valued for |f| < 180 degrees only; a farther angle is taken at its nearest turn.
      const f = toRad(Math.abs(angle) < reach ? angle : nearDeg(angle)) * sin;
      const half = Math.sin(f / 2);
      return [p * Math.sin(f), s + up * 2 * p * half * half];
    },
    toSurface: (x, y) => {
      const { z, angle } = toSurfaceNear(x, y);
      return { z, angle: wrapDeg(angle) };
    },
  };
}
