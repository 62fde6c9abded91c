import type { Place, Surface } from '../surface/surface.js';
import { toRad } from '../units.js';
import type { Zone } from './zone.js';

/** How much clearance a place leaves, mm; negative when it does not fit. */
export interface PlaceClearance {
  readonly clearance: number;
  /** Clearance to rings, which no turning changes. Never less than `clearance`. */
  readonly ringClearance: number;
}

/** Measures the clearance at a place. Below `floor` the answer need only be no less than the true clearance. */
export type EvaluatePlace<J extends PlaceClearance> = (at: Place, floor: number) => J;

export interface Best<J extends PlaceClearance> {
  readonly at: Place;
  readonly found: J;
  /** No place in the zone has more clearance than this, mm. */
  readonly atMost: number;
}

export interface Aim {
  /** Looking stops at a place with this much clearance, mm. */
  readonly enough?: number;
  /** A place in the zone to look at early: one that was good at another size. */
  readonly start?: Place;
  /** How far any ink moves, at the most, where the middle of the mark moves by 1 mm. */
  readonly pace?: number;
  /** A clearance that no place between two z can have more than, whatever its angle, mm. */
  readonly ceiling?: (low: number, high: number) => number;
}

/** Clearance that is not worth looking for, mm: along one way, and where a mark may move both ways. */
const RESOLUTION_MM = 0.004;
const RESOLUTION_BOTH_MM = 0.012;
/** Nor is this share more of what clearance there is already. */
const RESOLUTION_SHARE = 0.01;
/** A little more than a rigid motion of the sheet needs. */
export const LEAST_PACE = 1.05;
/** Places looked at for one size at the most; beyond them the bound is given as it stands. */
const MOST_LOOKS = 20_000;

interface Cell extends Place {
  /** Half its extent along z, mm, and round the ring, degrees. */
  readonly dz: number;
  readonly da: number;
  /** No place in it has more clearance than this, mm. */
  readonly bound: number;
  /** What goes round decides at its middle, so that no turning gives more clearance there. */
  readonly byRings: boolean;
}

/**
 * The place in a zone with most clearance. Moving a mark by d mm changes its clearance by at most d times its pace, so a
 * cell of the zone whose middle is worse than the best by more than its own half-diagonal times that cannot hold a better
 * place: branch and bound. Ties go to the place
 * nearest the zone's middle, which is looked at first.
 *
 * With `enough`, looking stops at a place with that much clearance; and while there is none, cells are dropped that could
 * not come half way there from the best, so that `atMost` bounds the miss to within a factor of two.
 */
export function bestPlace<J extends PlaceClearance>(
  surface: Surface,
  zone: Zone,
  evaluate: EvaluatePlace<J>,
  { enough = Number.POSITIVE_INFINITY, start, pace = LEAST_PACE, ceiling }: Aim = {},
): Best<J> {
  const [z0, z1] = zone.z;
  const [a0, a1] = zone.angle;
  const middle: Place = { z: (z0 + z1) / 2, angle: (a0 + a1) / 2 };
  let at = middle;
  let found = evaluate(middle, Number.NEGATIVE_INFINITY);
  let looks = 1;
  if ((z0 === z1 && a0 === a1) || found.clearance >= enough) return { at, found, atMost: found.clearance };

  const byRings = found.clearance >= found.ringClearance;
  if (start) {
    const there = evaluate(start, found.clearance);
    if (there.clearance > found.clearance) [at, found] = [start, there];
    if (found.clearance >= enough) return { at, found, atMost: Number.POSITIVE_INFINITY };
  }
  const finest = z0 < z1 && a0 < a1 ? RESOLUTION_BOTH_MM : RESOLUTION_MM;
  const worthwhile = () => {
    const half = enough === Number.POSITIVE_INFINITY ? 0 : (enough - found.clearance) / 2;
    return found.clearance + Math.max(finest, half, found.clearance * RESOLUTION_SHARE);
  };
  let cells: Cell[] = [
    {
      ...middle,
      dz: (z1 - z0) / 2,
      da: (a1 - a0) / 2,
      bound: Number.POSITIVE_INFINITY,
      byRings,
    },
  ];
  let atMost = found.clearance;
  while (cells.length > 0) {
    const next: Cell[] = [];
    for (const cell of cells) {
      if (cell.bound <= worthwhile() || looks >= MOST_LOOKS) {
        atMost = Math.max(atMost, cell.bound);
        continue;
      }
      for (const part of split(surface, cell)) {
        const along = surface.slant(part.z + part.dz) - surface.slant(part.z);
        const reach = pace * halfDiagonal(surface, part, along);
        const better = found.clearance + finest / 4;
        // PlaceClearance in full where it may be taken: below the floor an answer may promise more than there is.
        const here = evaluate(part, Math.min(worthwhile() - reach, better));
        looks++;
        if (here.clearance > better) {
          found = here;
          at = { z: part.z, angle: part.angle };
          if (found.clearance >= enough) return { at, found, atMost: Number.POSITIVE_INFINITY };
        }
        const byRings = here.clearance >= here.ringClearance;
        const around = byRings ? Number.POSITIVE_INFINITY : here.clearance + reach;
        const top = ceiling ? ceiling(part.z - part.dz, part.z + part.dz) : Number.POSITIVE_INFINITY;
        const bound = Math.min(cell.bound, here.ringClearance + LEAST_PACE * along, around, top);
        next.push({ ...part, bound, byRings });
      }
    }
    cells = next.sort((p, q) => q.bound - p.bound);
  }
  return { at, found, atMost: Math.max(atMost, found.clearance) };
}

function halfDiagonal(surface: Surface, { z, dz, da }: Pick<Cell, 'z' | 'dz' | 'da'>, along: number): number {
  const r = Math.max(surface.radius(z - dz), surface.radius(z + dz));
  return Math.hypot(along, toRad(da) * r);
}

/**
 * A cell in two or four, so that its parts are about as long as they are wide; along z alone where what goes round
 * decides, since all angles are then alike.
 */
function split(surface: Surface, cell: Cell): Omit<Cell, 'bound' | 'byRings'>[] {
  const arc = toRad(cell.da) * surface.radius(cell.z);
  const along = cell.byRings && cell.dz > 0;
  const inZ = cell.dz > 0 && (along || cell.dz >= arc / 2);
  const inAngle = cell.da > 0 && !along && arc >= cell.dz / 2;
  const dz = inZ ? cell.dz / 2 : cell.dz;
  const da = inAngle ? cell.da / 2 : cell.da;
  return (inZ ? [-1, 1] : [0]).flatMap((i) =>
    (inAngle ? [-1, 1] : [0]).map((k) => ({
      z: cell.z + i * dz,
      angle: cell.angle + k * da,
      dz,
      da,
    })),
  );
}
