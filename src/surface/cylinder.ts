import { toDeg, toRad, wrapDeg } from '../units.js';
import type { Surface } from './surface.js';

/** A cylinder of radius r, mm, from z0 to z1. Sheet: x = r * angle(rad), y = z - z0. */
export function cylinder(id: string, z0: number, z1: number, r: number): Surface {
  const toSurfaceNear = (x: number, y: number) => ({ z: z0 + y, angle: toDeg(x / r) });
  return {
    id,
    kind: 'cylinder',
    z0,
    z1,
    taper: 0,
    radius: () => r,
    slant: (z) => z - z0,
    sheetReach: Number.POSITIVE_INFINITY,
    toSheet: (z, angle) => [r * toRad(angle), z - z0],
    toSurface: (x, y) => {
      const { z, angle } = toSurfaceNear(x, y);
      return { z, angle: wrapDeg(angle) };
    },
    toSurfaceNear,
    rotate: (x, y, angle) => [x + r * toRad(angle), y],
  };
}
