import { LEAST_HEIGHT_MM, WIDEST_OF_LETTER } from '../documents/schema/scalar.js';
import { flatten } from '../geometry/flatten.js';
import { type Problem, Refusal } from '../problem.js';
import type { Place } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM, SAFETY_MM } from '../units.js';
import {
  type ClearanceEvaluator,
  clearanceEvaluator,
  type FitRequest,
  type Letter,
  type Limit,
  lettersOf,
  type SizeRange,
  type StartClearance,
  startClearance,
} from './clearance-evaluator.js';
import { inkReach, paceOfMark, paceOfShrinking } from './pace.js';
import { type Aim, type Best, bestPlace, type PlaceClearance } from './search.js';
import { ladderSize, ladderSizeAbove, nextBelow } from './size-ladder.js';
import { StepBudget } from './step-budget.js';

export type { FitRequest, Limit, SizeRange } from './clearance-evaluator.js';

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
  | { readonly change: 'arc' | 'spacing' | 'times'; readonly to: number }
  | { readonly change: 'z' | 'angle'; readonly to: number; readonly by: number };

export const sizeRange = (size: SizeRange): readonly [number, number] =>
  typeof size === 'number' ? [size, size] : [size.min, size.max];

/**
 * The largest size within the mark's range at which every label lies in the free region, its cut's width counted
 * in, and the place for it. Sizes are tried from the largest down a ladder of four digits; a size that misses by
 * d mm at every place cannot be mended by shrinking less than d over the reach of the ink, so the march skips no
 * size that fits. Without `advice` no change is looked for that would make it fit. Throws a Refusal (exit 1) when it
 * takes more steps than the budget has. docs/fit.md has the argument.
 */
export function fitMark(request: FitRequest, { advice = true }: { advice?: boolean } = {}): FitResult {
  const [least, most] = sizeRange(request.mark.size);
  const letters = lettersOf(request.lines);
  const budget = request.budget ?? new StepBudget();
  budget.require(stepsOfOnePlace(request, letters, most), request.where ?? '');
  const search: Search = {
    request,
    evaluate: clearanceEvaluator({ ...request, budget }, letters),
    ownStart: startClearance(request, letters),
    reach: inkReach(letters),
  };
  const found = march(search, least, most);
  if (!found.ok) {
    const { smallest } = found;
    if (!advice) return { ok: false, smallest, nearest: [] };
    // The advice must not take from what other marks may take.
    const own = { ...request, budget: budget.advice };
    const looking = { ...search, request: own, evaluate: clearanceEvaluator(own, letters) };
    return { ok: false, smallest, nearest: nearestChanges(looking, smallest) };
  }
  const { size } = found;
  const roomiest = trial(search, size);
  // Looking for most clearance passes over what is hardly better; the place that let the size pass must not be lost by it.
  const { at, limit } = roomiest.limit.clearance >= SAFETY_MM ? roomiest : found;
  return {
    ok: true,
    size,
    at,
    limit,
    atLargest: size === most,
    larger: trial(search, size * 1.005),
  };
}

/** The points of all letters, and the obstacles each of their places may be compared with. */
function stepsOfOnePlace({ obstacles }: FitRequest, letters: readonly Letter[], size: number): number {
  const corners = obstacles.reduce(
    (sum, o) => sum + (o.shape === 'patch' ? o.polygons.reduce((n, ring) => n + ring.length / 2, 1) : 1),
    0,
  );
  const points = letters.reduce(
    (sum, { glyph }) =>
      sum + flatten(glyph.path, size, FLATTEN_TOLERANCE_MM).reduce((n, p) => n + p.points.length / 2, 0),
    0,
  );
  return letters.length * (1 + corners) + points;
}

/** A mark to be fitted, with what its places are asked of. */
interface Search {
  readonly request: FitRequest;
  readonly evaluate: ClearanceEvaluator;
  readonly ownStart: StartClearance;
  /** How far any ink lies from the mark's middle, in letter heights. */
  readonly reach: number;
}

type March = (Trial & { readonly ok: true }) | { readonly ok: false; readonly smallest: Trial };

/**
 * The largest size that fits, on the way down the ladder from `most`; or the smallest size of the ladder not below
 * `least`, at the best place found for it. Every size passed over is proved not to fit, so that `least` says where the
 * way ends, and nothing else. A size is looked at once at the most: the way ends after as many as the ladder has.
 */
function march(search: Search, least: number, most: number): March {
  const { request } = search;
  const lowest = Math.min(most, ladderSizeAbove(least));
  const { z, angle } = request.zone;
  const bothWays = z[0] < z[1] && angle[0] < angle[1];
  let start: Place | undefined;
  for (let size = most; ; ) {
    const best = placeFor(search, size, { enough: SAFETY_MM, start });
    if (best.found.clearance >= SAFETY_MM) return { ok: true, ...trialOf(size, best) };
    if (size <= lowest) return { ok: false, smallest: trialOf(size, best) };
    const miss = Math.max(0, SAFETY_MM - best.atMost);
    if (bothWays) start = best.at;
    const unproved = size - miss / (search.reach * paceOfShrinking(request, search.reach * size));
    const next = unproved < lowest ? 0 : Math.min(ladderSize(unproved), nextBelow(size));
    if (next < lowest) return { ok: false, smallest: smallestOf(search, lowest, start) };
    size = next;
  }
}

/** A size that is proved not to fit, at its best place. */
function smallestOf(search: Search, size: number, start: Place | undefined): Trial {
  return trialOf(size, placeFor(search, size, { enough: SAFETY_MM, start }));
}

function placeFor(
  { request, evaluate, ownStart, reach }: Search,
  size: number,
  aim: Pick<Aim, 'enough' | 'start'> = {},
): Best<Limit & PlaceClearance> {
  const { surface, zone } = request;
  const pace = paceOfMark(request, reach * size);
  const ceiling = (low: number, high: number) => Math.max(ownStart(size, low), ownStart(size, high));
  return bestPlace(surface, zone, (at, floor) => evaluate(size, at, floor), { ...aim, pace, ceiling });
}

const trial = (search: Search, size: number): Trial => trialOf(size, placeFor(search, size));

function trialOf(size: number, { at, found }: Best<Limit & PlaceClearance>): Trial {
  const { clearance, label, glyph, obstacle } = found;
  return { size, at, limit: { clearance, label, glyph, obstacle } };
}

/** How far along the part a mark is moved in looking for a place that fits, mm, and in what steps. */
const MOVE_MM = 20;
const STEP_MM = 0.05;

/** What would make a mark fit, each tried; no more is looked for once the steps for advice are spent. */
function nearestChanges(search: Search, smallest: Trial): NearestChange[] {
  const { size } = smallest;
  // A move is a few looks. A smaller size may take all the steps that are left, and is named first all the same.
  const moves = withinSteps(() => nearestMoves(search, smallest)) ?? [];
  const smaller = withinSteps(() => march(search, leastHeight(search.request), size));
  return smaller?.ok ? [{ change: 'size', size: smaller.size }, ...moves] : moves;
}

/** The smallest letters that a document may ask for with such a cut: smaller ones would be refused there. */
export const leastHeight = ({ cutWidth }: Pick<FitRequest, 'cutWidth'>): number =>
  Math.max(LEAST_HEIGHT_MM, cutWidth / WIDEST_OF_LETTER);

/** Does work that may run out of steps; undefined where it does. */
export function withinSteps<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch (error) {
    if (error instanceof Refusal && error.problems.every(isOutOfSteps)) return undefined;
    throw error;
  }
}

const isOutOfSteps = ({ code }: Problem): boolean =>
  code === 'layout.fit-too-long' || code === 'layout.fit-too-large';

/** A place is named to a hundredth, so such places are tried. */
const toHundredth = (value: number): number => Number(value.toFixed(2));

function nearestMoves({ request, evaluate }: Search, { at, size }: Trial): NearestChange[] {
  const changes: NearestChange[] = [];
  const { surface } = request;
  // A zone's own walls would move with it, so a move is looked for only where the place is one number.
  if (request.zone.walls.length > 0) return changes;
  for (let mm = STEP_MM; mm <= MOVE_MM; mm += STEP_MM) {
    for (const by of [mm, -mm]) {
      const z = toHundredth(at.z + by);
      if (z < surface.z0 || z > surface.z1) continue;
      if (evaluate(size, { z, angle: at.angle }, SAFETY_MM).clearance < SAFETY_MM) continue;
      changes.push({ change: 'z', to: z, by: z - at.z });
      mm = MOVE_MM + 1;
      break;
    }
  }
  for (let deg = 0.5; deg <= 180; deg += 0.5) {
    const to = [deg, -deg]
      .map((by) => toHundredth(at.angle + by))
      .find((angle) => evaluate(size, { z: at.z, angle }, SAFETY_MM).clearance >= SAFETY_MM);
    if (to === undefined) continue;
    changes.push({ change: 'angle', to, by: to - at.angle });
    break;
  }
  return changes;
}
