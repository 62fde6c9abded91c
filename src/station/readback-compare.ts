import { type Problem, problem } from '../problem.js';
import type { Surface } from '../surface/surface.js';
import type { Readback, ReadStep } from './readback.js';
import { cover, type Piece, PieceGrid } from './readback-pieces.js';
import { type ExpectedLine, layStep, type Sheet, sheetsOf, shiftsOnto } from './readback-sheets.js';

export type { ExpectedLine } from './readback-sheets.js';

/** All that was to be cut; the feeds (mm/min, at most) and spindle speed (1/min) are looked at where given. */
export interface Expected {
  readonly lines: readonly ExpectedLine[];
  readonly feed?: number;
  readonly plunge?: number;
  readonly speed?: number;
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
  readonly problems: readonly Problem[];
}

const MOST_PROBLEMS = 30;
const CURE = 'Do not run it; write the program again.';
const RATE_SLACK = 1.002;

class Tally {
  worstMm = 0;
  depthError = 0;
  missing = 0;
  shallow = 0;
  extra = 0;
  deep = 0;
  readonly problems: Problem[] = [];

  say(where: string, what: string): void {
    if (this.problems.length < MOST_PROBLEMS) this.problems.push(problem(where, what, CURE));
  }
}

/**
 * Is every expected line cut to its full depth, and nothing else? Distances on the surface, mm, both ways within
 * `tolerance`; depths along the normal within `tolerance` also. Passes of less depth along a line are part of it.
 */
export function compare(surface: Surface, read: Readback, expected: Expected, tolerance = 0.003): Comparison {
  const tally = new Tally();
  for (const found of read.problems) tally.say(found.where, found.what);
  const sheets = sheetsOf(surface, expected.lines, tolerance);
  const grids = new Map<Sheet, PieceGrid>(sheets.map((sheet) => [sheet, new PieceGrid(tolerance)]));
  for (const { name, steps } of read.cuts) {
    for (const step of steps) {
      checkStep(surface, sheets, grids, name, step, tolerance, tally);
      checkRates(expected, step, tally);
    }
  }
  for (const sheet of sheets) checkLines(sheet, grids.get(sheet)!, tolerance, tally);
  const { worstMm, missing, shallow, extra, deep, depthError, problems } = tally;
  const ok = problems.length === 0 && missing + shallow + extra + deep === 0;
  return { ok, worstMm, missing, shallow, extra, deep, depthError, problems };
}

/** Lays one cut move on every sheet it can lie on, keeps it there, and looks whether it may be cut. */
function checkStep(
  surface: Surface,
  sheets: readonly Sheet[],
  grids: ReadonlyMap<Sheet, PieceGrid>,
  name: string,
  step: ReadStep,
  tolerance: number,
  tally: Tally,
): void {
  let fits = false;
  let tooDeep = Number.POSITIVE_INFINITY;
  const missed: (() => number)[] = [];
  let worst = Number.POSITIVE_INFINITY;
  let depthError = Number.POSITIVE_INFINITY;
  for (const sheet of sheets) {
    for (const shift of shiftsOnto(sheet, step)) {
      const pieces = layStep(surface, step, shift);
      for (const piece of pieces) grids.get(sheet)!.add(piece);
      const found = mayCut(sheet.lines, pieces, tolerance);
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
    tally.say(where, `it cuts ${tooDeep.toFixed(4)} mm too deep`);
  } else {
    tally.extra++;
    const off = Math.min(Number.POSITIVE_INFINITY, ...missed.map((far) => far()));
    tally.worstMm = Math.max(tally.worstMm, off);
    const far = Number.isFinite(off) ? `${off.toFixed(4)} mm from the nearest` : 'far from any';
    tally.say(where, `it cuts where nothing was to be cut, ${far} line`);
  }
}

/** `deeper`: by how much pieces pass the depth of the line they follow, mm. */
type MayCut =
  | { readonly ok: true; readonly worst: number; readonly deeper: number }
  /** `off` looks at every line, and is asked only where no sheet has the piece. */
  | { readonly ok: false; readonly deeper: number; off(): number };

/** May all these pieces be cut? */
function mayCut(lines: PieceGrid, pieces: readonly Piece[], tolerance: number): MayCut {
  let worst = 0;
  let deeper = 0;
  for (const piece of pieces) {
    const { x0, y0, x1, y1, deep } = piece;
    const found = cover(lines, x0, y0, x1, y1, tolerance, (line) => line.deep >= deep - tolerance);
    if (!found.ok) {
      const off = () => lines.nearest(found.x, found.y);
      const deeper = found.near.length === 0 ? 0 : deep - Math.max(...found.near.map((line) => line.deep));
      return { ok: false, deeper, off };
    }
    worst = Math.max(worst, found.worst);
    deeper = Math.max(deeper, deep - found.deep);
  }
  return { ok: true, worst, deeper };
}

/** Looks whether every line of a sheet is cut, all along, to its depth. */
function checkLines(sheet: Sheet, cuts: PieceGrid, tolerance: number, tally: Tally): void {
  for (const { line, pieces } of sheet.expected) {
    const where = line.name ?? `line at ${line.turn} degrees`;
    for (const { x0, y0, x1, y1, shallow: depth } of pieces) {
      const full = (piece: Piece) => piece.shallow >= depth - tolerance;
      const found = cover(cuts, x0, y0, x1, y1, tolerance, full);
      if (found.ok) {
        tally.worstMm = Math.max(tally.worstMm, found.worst);
        tally.depthError = Math.max(tally.depthError, depth - found.shallow);
        continue;
      }
      const at = `at sheet x ${found.x.toFixed(3)}, y ${found.y.toFixed(3)}`;
      if (found.near.length > 0) {
        const by = depth - Math.max(...found.near.map((piece) => piece.shallow));
        tally.shallow++;
        tally.depthError = Math.max(tally.depthError, by);
        tally.say(where, `it is cut ${by.toFixed(4)} mm too shallow ${at}`);
      } else {
        const far = cuts.nearest(found.x, found.y);
        tally.missing++;
        tally.worstMm = Math.max(tally.worstMm, far);
        const nearest = Number.isFinite(far) ? `; the nearest cut is ${far.toFixed(4)} mm away` : '';
        tally.say(where, `it is not cut ${at}${nearest}`);
      }
      break;
    }
  }
}

function checkRates(expected: Expected, step: ReadStep, tally: Tally): void {
  const { feed, plunge, speed } = expected;
  const down = step.from.z === step.to.z && step.from.angle === step.to.angle;
  const most = down ? plunge : feed;
  if (most !== undefined && step.feed > most * RATE_SLACK) {
    tally.say(`line ${step.line}`, `it feeds at ${step.feed.toFixed(2)} mm/min, more than ${most}`);
  }
  if (plunge !== undefined && step.dive > plunge * RATE_SLACK) {
    tally.say(`line ${step.line}`, `it sinks at ${step.dive.toFixed(2)} mm/min, more than ${plunge}`);
  }
  if (speed !== undefined && Math.abs(step.spindle - speed) > 0.001) {
    tally.say(`line ${step.line}`, `it cuts with the spindle at ${step.spindle}, not ${speed}`);
  }
}
