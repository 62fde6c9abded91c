import { nearestParameter } from '../geometry/segment.js';
import type { Problem } from '../problem.js';
import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';
import { problem } from './messages.js';
import type { Readback, ReadStep } from './readback.js';
import {
  type Cover,
  cover,
  FIELDS,
  FROM,
  PieceGrid,
  PieceList,
  type Stretch,
  TO,
} from './readback-pieces.js';
import { stretchFault } from './readback-repeats.js';
import { type ExpectedLine, layStep, type Sheet, sheetsOf, shiftsOnto } from './readback-sheets.js';
import { MOST_COMPARE_STEPS, type StepCounter } from './reader-budget.js';

export type { ExpectedLine } from './readback-sheets.js';

/** All that was to be cut; feeds (mm/min, at most) and spindle speed (1/min) are looked at where given. */
export interface Expected {
  readonly lines: readonly ExpectedLine[];
  readonly feed?: number;
  readonly plunge?: number;
  readonly speed?: number | undefined;
  /** The speed of Z, mm/min, which may hold a feed back. */
  readonly lift?: number;
  /** The deepest single pass of each block, mm, by the name that the program gives it. */
  readonly passes?: ReadonlyMap<string, number>;
}

export interface Comparison {
  readonly ok: boolean;
  /** The farthest any cut lies from its line or any line from its cut, mm. */
  readonly worstMm: number;
  /** Expected lines with a stretch that is not cut at all. */
  readonly missing: number;
  /** Expected lines cut, but somewhere not to their depth. */
  readonly shallow: number;
  /** Moves that cut where no line was expected. */
  readonly extra: number;
  /** Moves that cut deeper than the line they follow. */
  readonly deep: number;
  /** The greatest difference in depth along the normal, mm. */
  readonly depthError: number;
  /** Looks at pieces of line that it took. */
  readonly steps: number;
  readonly problems: readonly Problem[];
}

const MOST_PROBLEMS = 30;
/** So many with one code are kept, that a further kind finds room. */
const MOST_OF_KIND = 8;
const RATE_SLACK = 1.002;
/**
 * A move goes no slower than this share of what was asked of it: a cutter that is fed too slowly rubs, and heats what may
 * burn (common practice, no source). A tenth is left to whoever rounds a feed by hand.
 */
const SLOWEST_SHARE = 0.9;

/** What a piece takes to be laid on a sheet and kept, in looks at pieces: of each are many kept, and memory ends too. */
const STEPS_OF_PIECE = 20;

class Tally {
  worstMm = 0;
  depthError = 0;
  missing = 0;
  shallow = 0;
  extra = 0;
  deep = 0;
  readonly problems: Problem[] = [];
  readonly #kinds = new Map<string, number>();

  /** Keeps a problem while there is room for more, and for more of its kind. */
  add(found: Problem): void {
    const before = this.#kinds.get(found.code) ?? 0;
    if (this.problems.length >= MOST_PROBLEMS || before >= MOST_OF_KIND) return;
    this.#kinds.set(found.code, before + 1);
    this.problems.push(found);
  }
}

/**
 * Is every expected line cut to its full depth, and nothing else? Distances on the surface, mm, both ways within
 * `tolerance`; depths along the normal within `tolerance` also. Passes of less depth along a line are part of it.
 * After `mostSteps` looks at pieces of line the comparison stops, and says so.
 */
export function compare(
  surface: Surface,
  read: Readback,
  expected: Expected,
  tolerance = 0.003,
  mostSteps = MOST_COMPARE_STEPS,
): Comparison {
  const tally = new Tally();
  for (const found of read.problems) tally.add(found);
  const counter: StepCounter = { steps: 0 };
  // A stretch that is cut too often is looked for among all lines within twice the tolerance.
  const sheets = sheetsOf(surface, expected.lines, 2 * tolerance, counter);
  const cuts = new Map<Sheet, PieceList>(sheets.map((sheet) => [sheet, new PieceList()]));
  const isOver = () => counter.steps > mostSteps;
  for (const { name, steps } of read.cuts) {
    const found = passFault(surface, steps, expected.passes?.get(name), tolerance, counter, mostSteps);
    if (found) tally.add(found);
    for (const step of steps) {
      if (isOver()) break;
      checkStep(surface, sheets, cuts, name, step, tolerance, tally, counter, mostSteps);
      checkRates(expected, step, tally);
    }
  }
  const grids = new Map<Sheet, PieceGrid>();
  for (const sheet of sheets) {
    if (isOver()) break;
    const grid = new PieceGrid(cuts.get(sheet)!, tolerance, counter);
    grids.set(sheet, grid);
    checkLines(sheet, grid, tolerance, tally, isOver);
  }
  // What is cut elsewhere, or not at all, is named as that.
  if (!isOver() && tally.missing + tally.shallow + tally.extra + tally.deep === 0) {
    const again = stretchFault(surface, sheets, grids, tolerance, isOver);
    if (again) tally.add(again);
  }
  if (isOver()) tally.problems.unshift(problem('station.compare-too-much', '', { most: mostSteps }));
  const { worstMm, missing, shallow, extra, deep, depthError, problems } = tally;
  const ok = problems.length === 0 && missing + shallow + extra + deep === 0;
  return { ok, worstMm, missing, shallow, extra, deep, depthError, steps: counter.steps, problems };
}

/**
 * The first move of a cut that goes deeper, below what was cut before it at the place where it ends, than one pass may.
 * Nearly always every pass goes by the same points, as they are written; any other place is looked for along the way so far.
 */
function passFault(
  surface: Surface,
  steps: readonly ReadStep[],
  pass: number | undefined,
  tolerance: number,
  counter: StepCounter,
  mostSteps: number,
): Problem | undefined {
  if (pass === undefined) return undefined;
  // Where nothing is deeper than one pass, nothing can be.
  if (steps.every(({ to }) => to.depth <= pass + tolerance)) return undefined;
  const reached = new Map<number, number>();
  for (const [k, { line, to }] of steps.entries()) {
    if (counter.steps > mostSteps) return undefined;
    const place = placeKey(to);
    let before = reached.get(place) ?? 0;
    if (to.depth > before + pass + tolerance) {
      counter.steps += k;
      before = Math.max(before, depthBefore(surface, steps, k, tolerance));
    }
    if (to.depth > before + pass + tolerance)
      return problem('station.readback-pass-too-deep', `line ${line}`, {
        by: (to.depth - before).toFixed(4),
        pass: pass.toFixed(4),
      });
    reached.set(place, Math.max(before, to.depth));
  }
  return undefined;
}

/** How deep the steps before one have cut the place where it ends, mm. */
function depthBefore(surface: Surface, steps: readonly ReadStep[], end: number, tolerance: number): number {
  const { to: place } = steps[end]!;
  const slant = surface.slant(place.z);
  const radius = surface.radius(place.z);
  const across = ({ angle }: ReadStep['to']) => toRad(angle - place.angle) * radius;
  const along = ({ z }: ReadStep['to']) => surface.slant(z) - slant;
  let deepest = 0;
  for (let k = 0; k < end; k++) {
    const { from, to } = steps[k]!;
    const [ax, ay, bx, by] = [across(from), along(from), across(to), along(to)];
    const part = nearestParameter(0, 0, ax, ay, bx, by);
    if (Math.hypot(ax + part * (bx - ax), ay + part * (by - ay)) <= tolerance)
      deepest = Math.max(deepest, from.depth + part * (to.depth - from.depth));
  }
  return deepest;
}

/** One number for a place, to a hundredth of a micrometre and a ten-thousandth of a degree, the angle within 18 turns. */
const placeKey = ({ z, angle }: ReadStep['to']): number =>
  Math.round(z * 1e5) * ANGLES + (((Math.round(angle * 1e4) % ANGLES) + ANGLES) % ANGLES);

const ANGLES = 2 ** 26;

/** Lays one cut move on every sheet it can lie on, keeps it there, and looks whether it may be cut. */
function checkStep(
  surface: Surface,
  sheets: readonly Sheet[],
  cuts: ReadonlyMap<Sheet, PieceList>,
  name: string,
  step: ReadStep,
  tolerance: number,
  tally: Tally,
  counter: StepCounter,
  mostSteps: number,
): void {
  let fits = false;
  let tooDeep = Number.POSITIVE_INFINITY;
  const missed: (() => number)[] = [];
  let worst = Number.POSITIVE_INFINITY;
  let depthError = Number.POSITIVE_INFINITY;
  for (const sheet of sheets) {
    for (const shift of shiftsOnto(sheet, step)) {
      if (counter.steps > mostSteps) return;
      const pieces = cuts.get(sheet)!;
      const before = pieces.count;
      layStep(surface, step, shift, pieces);
      counter.steps += STEPS_OF_PIECE * (pieces.count - before);
      const found = mayCut(sheet.lines, pieces, before, tolerance);
      // What lies on no line covers none.
      if (!found.ok && found.deeper <= 0) pieces.count = before;
      if (found.ok) {
        fits = true;
        worst = Math.min(worst, found.worst);
        depthError = Math.min(depthError, found.deeper);
      } else if (found.deeper > 0) tooDeep = Math.min(tooDeep, found.deeper);
      else missed.push(found.off);
    }
  }
  const where = `line ${step.line}${name ? `, ${name}` : ''}`;
  if (fits) {
    tally.worstMm = Math.max(tally.worstMm, worst);
    tally.depthError = Math.max(tally.depthError, depthError);
  } else if (tooDeep < Number.POSITIVE_INFINITY) {
    tally.deep++;
    tally.depthError = Math.max(tally.depthError, tooDeep);
    tally.add(problem('station.compare-too-deep', where, { by: tooDeep.toFixed(4) }));
  } else {
    tally.extra++;
    const off = Math.min(Number.POSITIVE_INFINITY, ...missed.map((far) => far()));
    tally.worstMm = Math.max(tally.worstMm, off);
    const far = Number.isFinite(off) ? off.toFixed(4) : 'far';
    tally.add(problem('station.compare-extra', where, { off: far }));
  }
}

/** `deeper`: by how much pieces pass the depth of the line they follow, mm. */
type MayCut =
  | { readonly ok: true; readonly worst: number; readonly deeper: number }
  /** `off` looks at every line, and is asked only where no sheet has the piece. */
  | { readonly ok: false; readonly deeper: number; off(): number };

/** A piece of a list as a stretch to be covered. */
function stretchOf({ values }: PieceList, piece: number): Stretch {
  const at = FIELDS * piece;
  return {
    ax: values[at]!,
    ay: values[at + 1]!,
    bx: values[at + 2]!,
    by: values[at + 3]!,
    from: values[at + FROM]!,
    to: values[at + TO]!,
  };
}

/** May all pieces of a list be cut, from a first one on? */
function mayCut(lines: PieceGrid, pieces: PieceList, first: number, tolerance: number): MayCut {
  let worst = 0;
  let deeper = 0;
  for (let k = first; k < pieces.count; k++) {
    const found = cover(lines, stretchOf(pieces, k), tolerance);
    if (!found.ok) {
      const off = () => lines.nearest(found.x, found.y);
      return { ok: false, deeper: Number.isFinite(found.depth) ? found.asked - found.depth : 0, off };
    }
    worst = Math.max(worst, found.worst);
    deeper = Math.max(deeper, found.deeper);
  }
  return { ok: true, worst, deeper };
}

/** Looks whether every line of a sheet is cut, all along, to its depth. */
function checkLines(
  sheet: Sheet,
  cuts: PieceGrid,
  tolerance: number,
  tally: Tally,
  isOver: () => boolean,
): void {
  for (const { line, first, end } of sheet.expected) {
    for (let k = first; k < end; k++) {
      if (isOver()) return;
      const found = cover(cuts, stretchOf(sheet.lines.pieces, k), tolerance);
      if (found.ok) {
        tally.worstMm = Math.max(tally.worstMm, found.worst);
        tally.depthError = Math.max(tally.depthError, found.deeper);
        continue;
      }
      tallyUncut(line.name ?? `line at ${line.turn} degrees`, found, cuts, tally);
      break;
    }
  }
}

/** A line that is not cut somewhere, or not to its depth. */
function tallyUncut(
  where: string,
  found: Extract<Cover, { ok: false }>,
  cuts: PieceGrid,
  tally: Tally,
): void {
  const at = { x: found.x.toFixed(3), y: found.y.toFixed(3) };
  if (Number.isFinite(found.depth)) {
    const by = found.asked - found.depth;
    tally.shallow++;
    tally.depthError = Math.max(tally.depthError, by);
    tally.add(problem('station.compare-too-shallow', where, { by: by.toFixed(4), ...at }));
  } else {
    const far = cuts.nearest(found.x, found.y);
    tally.missing++;
    tally.worstMm = Math.max(tally.worstMm, far);
    const off = Number.isFinite(far) ? far.toFixed(4) : 'none';
    tally.add(problem('station.compare-missing', where, { ...at, off }));
  }
}

function checkRates(expected: Expected, step: ReadStep, tally: Tally): void {
  const { feed, plunge, speed } = expected;
  const where = `line ${step.line}`;
  const down = step.from.z === step.to.z && step.from.angle === step.to.angle;
  const most = down ? plunge : feed;
  if (most !== undefined && step.feed > most * RATE_SLACK)
    tally.add(problem('station.compare-feed', where, { feed: step.feed.toFixed(2), most: String(most) }));
  if (most !== undefined && isSlow(expected, step, most))
    tally.add(
      problem('station.compare-slow', where, { feed: step.feed.toPrecision(3), asked: String(most) }),
    );
  if (plunge !== undefined && step.dive > plunge * RATE_SLACK)
    tally.add(
      problem('station.compare-plunge', where, { plunge: step.dive.toFixed(2), most: String(plunge) }),
    );
  if (speed !== undefined && Math.abs(step.spindle - speed) > 0.001)
    tally.add(
      problem('station.compare-spindle', where, {
        speed: String(step.spindle),
        expected: String(speed),
      }),
    );
}

/** Slower than was asked, and held back neither by a plunge on its way nor by the speed of Z. */
function isSlow({ plunge, lift }: Expected, { feed, held }: ReadStep, asked: number): boolean {
  const isBelow = (rate: number, most: number | undefined) =>
    most === undefined || rate < most * SLOWEST_SHARE;
  return isBelow(feed, asked) && isBelow(held.dive, plunge) && isBelow(held.lift, lift);
}
