import type { Place } from '../surface/surface.js';
import { SAFETY_MM } from '../units.js';
import {
  type FitRequest,
  type Judge,
  judgeOf,
  type Letter,
  type Limit,
  lettersOf,
  type SizeRange,
  startRoom,
  widestOf,
} from './judge.js';
import { type Aim, type Best, bestPlace, type Judged } from './search.js';

export type { FitRequest, Limit } from './judge.js';

export interface Trial {
  readonly size: number;
  readonly at: Place;
  readonly limit: Limit;
}

export type FitResult =
  | {
      readonly ok: true;
      readonly size: number;
      readonly at: Place;
      readonly limit: Limit;
      /** The size range stopped it, not the surface. */
      readonly atLargest: boolean;
      /** 0.5 % larger: where it fails, or by how much it would still fit when the size range stopped it. */
      readonly larger: Trial;
    }
  | {
      readonly ok: false;
      /** The smallest size at its best place. */
      readonly smallest: Trial;
      readonly nearest: NearestChange[];
    };

/** A change that would make a mark fit at its smallest size. */
export type NearestChange =
  | { readonly change: 'size'; readonly size: number }
  | { readonly change: 'z' | 'angle'; readonly to: number; readonly by: number };

export const sizeRange = (size: SizeRange): readonly [number, number] =>
  typeof size === 'number' ? [size, size] : [size.min, size.max];

/**
 * The largest size within the mark's range at which every label lies in the free region, its cut's width counted
 * in, and the place for it. Sizes are tried from the largest down on a grid of three figures; a size that misses by
 * d mm at every place cannot be mended by shrinking less than d over the reach of the ink, so the march skips no
 * size that fits. docs/fit.md has the argument.
 */
export function fitMark(request: FitRequest): FitResult {
  const [least, most] = sizeRange(request.mark.size);
  const grid = 10 ** (Math.floor(Math.log10(least)) - 3);
  const letters = lettersOf(request.lines);
  const judge = judgeOf(request, letters);
  const found = march(request, judge, letters, least, most, grid);
  if (!found) {
    const smallest = trial(request, judge, least);
    return { ok: false, smallest, nearest: nearestChanges(request, judge, letters, smallest, grid) };
  }
  const { size } = found;
  const roomiest = trial(request, judge, size);
  // Looking for most room passes over what is hardly better; the place that let the size pass must not be lost by it.
  const { at, limit } = roomiest.limit.room >= SAFETY_MM ? roomiest : found;
  return { ok: true, size, at, limit, atLargest: size === most, larger: trial(request, judge, size * 1.005) };
}

/** Farthest any ink lies from its line's middle, in letter heights. */
function inkReach(letters: readonly Letter[]): number {
  let most = 0.5;
  for (const { glyph, places } of letters) {
    for (const s of glyph.path) {
      for (let i = 1; i + 1 < s.length; i += 2) {
        for (const { x, y } of [places[0]!, places.at(-1)!])
          most = Math.max(most, Math.hypot(x + (s[i] as number), y + (s[i + 1] as number) - 0.5));
      }
    }
  }
  return most;
}

/**
 * The largest size that fits. A mark free both ways is looked for only so finely: where that, and not the surface, says
 * that a size may yet fit, half of what the best place misses is given up instead of trying every size.
 */
function march(
  request: FitRequest,
  judge: Judge,
  letters: readonly Letter[],
  least: number,
  most: number,
  grid: number,
): Trial | undefined {
  // A tenth over, for the arc a ring letter moves on beside the middle of a steep cone.
  const reach = inkReach(letters) * 1.1;
  const round = (size: number) => Number((Math.floor(size / grid + 1e-6) * grid).toFixed(9));
  const { z, angle } = request.zone;
  const bothWays = z[0] < z[1] && angle[0] < angle[1];
  let start: Place | undefined;
  for (let size = most; ; ) {
    const best = placeFor(request, judge, size, { enough: SAFETY_MM, start });
    if (best.judged.room >= SAFETY_MM) return trialOf(size, best);
    if (size <= least) return undefined;
    const short = SAFETY_MM - best.judged.room;
    const miss = Math.max(0, SAFETY_MM - best.atMost, bothWays ? short / 2 : 0);
    if (bothWays) start = best.at;
    size = Math.max(least, round(Math.min(size - miss / reach, size - grid / 2)));
  }
}

function placeFor(
  request: FitRequest,
  judge: Judge,
  size: number,
  aim: Pick<Aim, 'enough' | 'start'> = {},
): Best<Limit & Judged> {
  const { surface, zone } = request;
  const ownStart = startRoom(request, widestOf(request).line);
  const ceiling = (low: number, high: number) => Math.max(ownStart(size, low), ownStart(size, high));
  return bestPlace(surface, zone, (at, floor) => judge(size, at, floor), { ...aim, ceiling });
}

const trial = (request: FitRequest, judge: Judge, size: number): Trial =>
  trialOf(size, placeFor(request, judge, size));

function trialOf(size: number, { at, judged }: Best<Limit & Judged>): Trial {
  const { room, label, glyph, obstacle } = judged;
  return { size, at, limit: { room, label, glyph, obstacle } };
}

/** How far along the part a mark is moved in looking for a place that fits, mm, and in what steps. */
const MOVE_MM = 20;
const STEP_MM = 0.05;

function nearestChanges(
  request: FitRequest,
  judge: Judge,
  letters: readonly Letter[],
  smallest: Trial,
  grid: number,
): NearestChange[] {
  const changes: NearestChange[] = [];
  const smaller = march(request, judge, letters, smallest.size / 4, smallest.size, grid / 10);
  if (smaller) changes.push({ change: 'size', size: smaller.size });
  const { at, size } = smallest;
  const { surface } = request;
  // A zone's own walls would move with it, so a move is looked for only where the place is one figure.
  if (request.zone.walls.length > 0) return changes;
  for (let mm = STEP_MM; mm <= MOVE_MM; mm += STEP_MM) {
    for (const by of [mm, -mm]) {
      const z = at.z + by;
      if (z < surface.z0 || z > surface.z1) continue;
      if (judge(size, { z, angle: at.angle }, SAFETY_MM).room < SAFETY_MM) continue;
      changes.push({ change: 'z', to: z, by });
      mm = MOVE_MM + 1;
      break;
    }
  }
  for (let deg = 0.5; deg <= 180; deg += 0.5) {
    const by = [deg, -deg].find(
      (d) => judge(size, { z: at.z, angle: at.angle + d }, SAFETY_MM).room >= SAFETY_MM,
    );
    if (by === undefined) continue;
    changes.push({ change: 'angle', to: at.angle + by, by });
    break;
  }
  return changes;
}
