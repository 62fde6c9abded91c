import type { Problem } from '../problem.js';
import { type PatternSpec, pointsOfLobe, pointsOfWave } from './engine-turned.js';
import { problem } from './messages.js';

/** Lines of a pattern, or of all repeats of a drawing, and points of them once they are flat. */
export interface PatternSize {
  readonly lines: number;
  readonly points: number;
}

/**
 * What the patterns and repeats of one design, and of all designs of one edition, may hold. Every later step, from trimming at keep-outs to reading the
 * program again, takes time in proportion to the points; finding a short order takes it by lines.
 */
export const MOST_LINES = 10_000;
export const MOST_POINTS = 300_000;

/** The size of a pattern, from its counts and sizes alone: nothing of it is made. */
export function sizeOfPattern(spec: PatternSpec, tolerance: number): PatternSize {
  if (spec.form === 'rosettes') {
    const each = Array.from({ length: spec.curves }, (_, k) => spec.lobes * pointsOfLobe(spec, k, tolerance));
    const rosettes = spec.count * spec.rows;
    return { lines: rosettes * spec.curves, points: rosettes * each.reduce((a, b) => a + b, 0) };
  }
  const waves = spec.form === 'moire' ? spec.count + spec.second : spec.count;
  const trains = spec.form === 'moire' ? 2 : 1;
  const points = spec.rows * (waves * pointsOfWave(spec.amplitude, tolerance) + trains);
  return { lines: trains * spec.rows, points };
}

/** A mark that fills a surface with lines. */
export interface SizedMark {
  readonly where: string;
  /** The form of a pattern, or `repeat` for a drawing that goes round. */
  readonly form: PatternSpec['form'] | 'repeat';
  readonly size: PatternSize;
}

/** Holds marks that are cut together to the limits: a problem for the mark that exceeds them. */
export function patternProblems(marks: readonly SizedMark[]): Problem[] {
  let [lines, points] = [0, 0];
  for (const { where, form, size } of marks) {
    lines += size.lines;
    points += size.points;
    if (lines <= MOST_LINES && points <= MOST_POINTS) continue;
    const values = { lines, points: Math.ceil(points), mostLines: MOST_LINES, mostPoints: MOST_POINTS, form };
    return [problem('artwork.pattern-too-large', where, values)];
  }
  return [];
}
