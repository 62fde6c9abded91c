import type { Phrase } from '../problem.js';
import { middleAngle, type Obstacle } from '../surface/keepouts.js';
import type { PartShape } from '../surface/part-shape.js';
import type { Surface } from '../surface/surface.js';
import { markLimits } from './phrases.js';

/** A mark and where it may sit: a number fixes its middle, a pair is a zone that the whole mark stays in. mm, degrees. */
export interface PlacedMark {
  readonly id: string;
  readonly place: {
    readonly z: number | readonly [number, number];
    readonly angle?: number | readonly [number, number] | 'any' | undefined;
    /** A clip or window of the part, which the mark stands half a turn from. */
    readonly opposite?: string | undefined;
  };
}

/** Where the middle of a mark may be: a fixed number is a range of no length. z in mm, angles in degrees. */
export interface Zone {
  readonly z: readonly [number, number];
  readonly angle: readonly [number, number];
  /** The walls of a zone as obstacles, since the whole mark stays inside it. */
  readonly walls: readonly Obstacle[];
}

/** The zone a mark's `place` means on its part. The documents have been checked: `opposite` names a clip or window. */
export function zoneOf(mark: PlacedMark, part: Pick<PartShape, 'keepouts'>, surface: Surface): Zone {
  const { place } = mark;
  const walls: Obstacle[] = [];
  let z: readonly [number, number];
  if (typeof place.z === 'number') {
    z = [place.z, place.z];
  } else {
    z = place.z;
    const name = zoneName(mark);
    walls.push({ shape: 'ring', name, from: Number.NEGATIVE_INFINITY, to: surface.slant(z[0]) });
    walls.push({ shape: 'ring', name, from: surface.slant(z[1]), to: Number.POSITIVE_INFINITY });
  }
  return { z, ...angles(mark, part, surface, walls), walls };
}

/**
 * A value of which the check of documents lets one number pass, and no range, in the mark at hand. Throws a TypeError
 * where it is something else.
 */
export function onlyNumber(value: unknown): number {
  if (typeof value !== 'number') throw new TypeError('a range where one number is needed');
  return value;
}

/** The one angle a mark's `place` means, degrees. */
export function middleAngleOf(
  { place }: Pick<PlacedMark, 'place'>,
  part: Pick<PartShape, 'keepouts'>,
): number {
  if (place.opposite === undefined) return onlyNumber(place.angle);
  return middleAngle(part.keepouts.find((k) => k.id === place.opposite)!) + 180;
}

function angles(
  mark: PlacedMark,
  part: Pick<PartShape, 'keepouts'>,
  surface: Surface,
  walls: Obstacle[],
): { angle: readonly [number, number] } {
  const { place } = mark;
  if (place.opposite !== undefined) {
    const angle = middleAngleOf(mark, part);
    return { angle: [angle, angle] };
  }
  if (place.angle === 'any') return { angle: [0, 360] };
  if (typeof place.angle === 'number') return { angle: [place.angle, place.angle] };
  const [from, to] = place.angle as readonly [number, number];
  walls.push(outside(zoneName(mark), surface, from, to));
  return { angle: [from, to] };
}

const zoneName = ({ id }: PlacedMark): Phrase => markLimits.phrase('layout.zone', { mark: id });

/** Everything between angle `to` and angle `from` + 360, as a patch about its own middle. */
function outside(name: Phrase, surface: Surface, from: number, to: number): Obstacle {
  const half = (360 - (to - from)) / 2;
  const turn = to + half;
  const low = surface.z0;
  const high = surface.z1;
  const steps = Math.max(8, Math.ceil(half));
  const points: number[] = [];
  for (let k = 0; k <= steps; k++) points.push(...surface.toSheet(low, -half + (2 * half * k) / steps));
  for (let k = steps; k >= 0; k--) points.push(...surface.toSheet(high, -half + (2 * half * k) / steps));
  return { shape: 'patch', name, turn, polygons: [Float64Array.from(points)] };
}
