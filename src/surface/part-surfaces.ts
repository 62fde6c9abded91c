import { cone } from './cone.js';
import { cylinder } from './cylinder.js';
import { type Obstacle, obstaclesOf } from './keepouts.js';
import { diameterAt, type HighestAbove, highestAbove } from './part-profile.js';
import type { PartShape } from './part-shape.js';
import type { Surface } from './surface.js';

/** Two radii nearer than this over a surface are one: under a nanometre the trade has no cone. */
const CYLINDER_WITHIN_MM = 1e-9;

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
  /** How far the highest of the part stands over it, mm. */
  readonly proud: HighestAbove;
}

/** Every surface of a part, by id, with its obstacles. */
export function surfacesOf(part: PartShape): Map<string, SurfaceWithObstacles> {
  return new Map(
    part.surfaces.map((span) => {
      const surface = surfaceOf(part, span.id)!;
      return [
        span.id,
        { surface, obstacles: obstaclesOf(part, span, surface), proud: highestAbove(part, surface) },
      ];
    }),
  );
}
