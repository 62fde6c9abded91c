import type { Polyline } from '../geometry/path.js';
import { difference, type Polygons } from '../geometry/polygons.js';
import { toRad } from '../units.js';
import { type Obstacle, turnToObstacle } from './keepouts.js';
import { rotateLine, type Surface } from './surface.js';

/** How many chords stand for a whole ring where a sheet's edge is drawn. */
const RING_STEPS = 360;

/**
 * The band of the sheet between two slant distances, all the way round from angle `seam` to `seam` + 360, on the
 * sheet turned to `seam` + 180 (so the seam is at both ends). mm.
 */
export function ringOnSheet(surface: Surface, fromSlant: number, toSlant: number): Polyline {
  const cos = Math.cos(toRad(surface.taper));
  const at = (slant: number, angle: number) => surface.toSheet(surface.z0 + slant * cos, angle);
  const points: number[] = [];
  const half = Math.min(180, surface.sheetReach * (1 - 1e-9));
  for (let k = 0; k <= RING_STEPS; k++) points.push(...at(fromSlant, -half + (2 * half * k) / RING_STEPS));
  for (let k = RING_STEPS; k >= 0; k--) points.push(...at(toSlant, -half + (2 * half * k) / RING_STEPS));
  return Float64Array.from(points);
}

/** A patch moved onto the sheet whose y axis is at angle `turn`, with the copies that reach it round the seam. */
export function patchOnSheet(
  surface: Surface,
  obstacle: Extract<Obstacle, { shape: 'patch' }>,
  turn: number,
): Polygons {
  const away = -turnToObstacle(obstacle, turn);
  return [-360, 0, 360].flatMap((lap) =>
    obstacle.polygons.map((ring) => rotateLine(surface, ring, away + lap)),
  );
}

/**
 * The free region on the sheet whose y axis is at angle `turn` and whose seam is half a turn away: the surface less
 * every obstacle. Polygons in mm.
 */
export function freeRegion(surface: Surface, obstacles: readonly Obstacle[], turn: number): Polygons {
  const end = surface.slant(surface.z1);
  const whole = ringOnSheet(surface, 0, end);
  const taken = obstacles.flatMap((o) => {
    if (o.shape === 'patch') return patchOnSheet(surface, o, turn);
    const from = Math.max(0, o.from);
    const to = Math.min(end, o.to);
    return to > from ? [ringOnSheet(surface, from, to)] : [];
  });
  return difference([whole], taken);
}
