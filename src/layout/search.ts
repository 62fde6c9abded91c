import type { Place, Surface } from '../surface/surface.js';
import { toRad } from '../units.js';
import type { Zone } from './zone.js';

/** How much room a place leaves, mm; negative when it does not fit. */
export interface Judged {
  readonly room: number;
}

export interface Best<J extends Judged> {
  readonly at: Place;
  readonly judged: J;
  /** No place in the zone has more room than this, mm. */
  readonly atMost: number;
}

/** Places nearer than this to a better one are not looked for, mm. */
const RESOLUTION_MM = 0.004;
/** So many looks at places at the most; beyond it the bound is given as it stands. */
const MOST_LOOKS = 60_000;

/**
 * The place in a zone with most room. Moving a mark by d mm changes its room by at most d (a rigid motion moves no
 * point farther, save on a cone, where the margin below covers the turn), so a cell of the zone whose middle is worse
 * than the best by more than its own half-diagonal cannot hold a better place: branch and bound. Ties go to the place
 * nearest the zone's middle, which is looked at first. Looking stops at a place with `enough` room.
 */
export function bestPlace<J extends Judged>(
  surface: Surface,
  zone: Zone,
  judge: (at: Place) => J,
  enough = Number.POSITIVE_INFINITY,
): Best<J> {
  const [z0, z1] = zone.z;
  const [a0, a1] = zone.angle;
  const middle: Place = { z: (z0 + z1) / 2, angle: (a0 + a1) / 2 };
  let at = middle;
  let judged = judge(middle);
  let looks = 1;
  if ((z0 === z1 && a0 === a1) || judged.room >= enough) return { at, judged, atMost: judged.room };

  const reach = (z: number, dz: number, da: number) => {
    const r = Math.max(surface.radius(z - dz), surface.radius(z + dz));
    return 1.05 * Math.hypot(surface.slant(z + dz) - surface.slant(z), toRad(da) * r);
  };
  let cells: { z: number; angle: number; dz: number; da: number; bound: number }[] = [
    { ...middle, dz: (z1 - z0) / 2, da: (a1 - a0) / 2, bound: Number.POSITIVE_INFINITY },
  ];
  let atMost = judged.room;
  while (cells.length > 0) {
    const next: typeof cells = [];
    for (const cell of cells) {
      if (cell.bound <= judged.room + RESOLUTION_MM || looks >= MOST_LOOKS) {
        atMost = Math.max(atMost, cell.bound);
        continue;
      }
      const arc = toRad(cell.da) * surface.radius(cell.z);
      const splitZ = cell.dz > 0 && cell.dz >= arc / 2;
      const splitA = cell.da > 0 && arc >= cell.dz / 2;
      for (const sz of splitZ ? [-1, 1] : [0]) {
        for (const sa of splitA ? [-1, 1] : [0]) {
          const dz = splitZ ? cell.dz / 2 : cell.dz;
          const da = splitA ? cell.da / 2 : cell.da;
          const z = cell.z + sz * dz;
          const angle = cell.angle + sa * da;
          const here = judge({ z, angle });
          looks++;
          if (here.room > judged.room + RESOLUTION_MM / 4) {
            judged = here;
            at = { z, angle };
            if (judged.room >= enough) return { at, judged, atMost: Number.POSITIVE_INFINITY };
          }
          next.push({ z, angle, dz, da, bound: here.room + reach(z, dz, da) });
        }
      }
    }
    cells = next.sort((p, q) => q.bound - p.bound);
  }
  return { at, judged, atMost: Math.max(atMost, judged.room) };
}
