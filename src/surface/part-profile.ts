import { toRad } from '../units.js';
import type { PartShape, Profile } from './part-shape.js';
import type { Surface } from './surface.js';

/** The diameter of a part at z by its profile, mm. z is held to the profile's ends. */
export function diameterAt(profile: Profile, z: number): number {
  let k = 1;
  while (k < profile.length - 1 && profile[k]!.z < z) k++;
  const a = profile[k - 1]!;
  const b = profile[k]!;
  const t = Math.min(1, Math.max(0, (z - a.z) / (b.z - a.z)));
  return a.diameter + t * (b.diameter - a.diameter);
}

/** How far a part stands over the highest place of a surface, mm: with its axis level, or the surface's generator. */
export interface HighestAbove {
  readonly level: number;
  readonly tilted: number;
}

/**
 * How far the highest place of a part stands over the highest of one of its surfaces: a shoulder beside a neck, a clip, a
 * band. A rapid move goes from one end of the part to the other while it turns, so all of it counts.
 */
export function highestAbove(part: Pick<PartShape, 'profile' | 'keepouts'>, surface: Surface): HighestAbove {
  const { profile, keepouts } = part;
  const corners = profile.map(({ z, diameter }) => ({ z, radius: diameter / 2, height: 0 }));
  const raised = keepouts.flatMap((k) => {
    if (k.kind !== 'clip' && k.kind !== 'band') return [];
    const between = profile.map(({ z }) => z).filter((z) => z > k.from && z < k.to);
    return [k.from, ...between, k.to].map((z) => ({
      z,
      radius: diameterAt(profile, z) / 2,
      height: k.height,
    }));
  });
  const all = [...corners, ...raised];
  const { z0, z1 } = surface;
  const lean = toRad(surface.taper);
  const top = Math.max(surface.radius(z0), surface.radius(z1));
  const most = (heights: readonly number[]): number => Math.max(0, ...heights);
  return {
    level: most(all.map(({ radius, height }) => radius - top + height)),
    tilted: most(
      all.map(
        ({ z, radius, height }) =>
          (radius - surface.radius(z0) + height) * Math.cos(lean) - (z - z0) * Math.sin(lean),
      ),
    ),
  };
}
