import { cone } from './cone.js';
import { cylinder } from './cylinder.js';
import { type Obstacle, obstaclesOf, tallestKeepoutMm } from './keepouts.js';
import type { PartShape, Profile } from './part-shape.js';
import type { Surface } from './surface.js';

/** Two radii nearer than this over a surface are one: under a nanometre the trade has no cone. */
const CYLINDER_WITHIN_MM = 1e-9;

/** The diameter of a part at z by its profile, mm. z is held to the profile's ends. */
export function diameterAt(profile: Profile, z: number): number {
  let k = 1;
  while (k < profile.length - 1 && profile[k]!.z < z) k++;
  const a = profile[k - 1]!;
  const b = profile[k]!;
  const t = Math.min(1, Math.max(0, (z - a.z) / (b.z - a.z)));
  return a.diameter + t * (b.diameter - a.diameter);
}

/** The surface `id` of a part, or undefined when the part has none of that name. */
export function surfaceOf(part: Pick<PartShape, 'profile' | 'surfaces'>, id: string): Surface | undefined {
  const s = part.surfaces.find((one) => one.id === id);
  if (!s) return undefined;
  return surfaceBetween(
    id,
    s.from,
    s.to,
    diameterAt(part.profile, s.from) / 2,
    diameterAt(part.profile, s.to) / 2,
  );
}

/** A surface with radius r0 at z0 and r1 at z1 (z0 < z1, radii positive), all mm. */
export function surfaceBetween(id: string, z0: number, z1: number, r0: number, r1: number): Surface {
  return Math.abs(r1 - r0) < CYLINDER_WITHIN_MM ? cylinder(id, z0, z1, r0) : cone(id, z0, z1, r0, r1);
}

/** A surface with all that a cut on it must stay clear of. */
export interface SurfaceWithObstacles {
  readonly surface: Surface;
  readonly obstacles: readonly Obstacle[];
  /** How far the highest of the part's keep-outs stands over it, mm. */
  readonly proud: number;
}

/** Every surface of a part, by id, with its obstacles. */
export function surfacesOf(part: PartShape): Map<string, SurfaceWithObstacles> {
  return new Map(
    part.surfaces.map((span) => {
      const surface = surfaceOf(part, span.id)!;
      return [
        span.id,
        { surface, obstacles: obstaclesOf(part, span, surface), proud: tallestKeepoutMm(part) },
      ];
    }),
  );
}
