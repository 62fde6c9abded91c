import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type PatternSpec, ringLines, rosetteCurves } from '../../src/artwork/engine-turned.js';
import { MOST_LINES, MOST_POINTS, patternProblems, sizeOfPattern } from '../../src/artwork/pattern-size.js';
import { lineOf } from '../words-of.js';

const TOLERANCE = 0.0008;
const whole = (min: number, max: number) => fc.integer({ min, max });
const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const rows = { amplitude: some(0, 2), rows: whole(1, 9), rise: some(0.1, 2) };

/** Small enough to be made; every form. */
const pattern: fc.Arbitrary<PatternSpec> = fc.oneof(
  fc.record({ form: fc.constant('waves' as const), count: whole(1, 40), step: some(-1, 1), ...rows }),
  fc.record({ form: fc.constant('barleycorn' as const), count: whole(1, 40), ...rows }),
  fc.record({ form: fc.constant('basket' as const), count: whole(1, 40), strands: whole(1, 5), ...rows }),
  fc.record({
    form: fc.constant('moire' as const),
    count: whole(1, 40),
    second: whole(1, 40),
    step: some(-1, 1),
    ...rows,
  }),
  fc.record({
    form: fc.constant('rosettes' as const),
    count: whole(1, 9),
    rows: whole(1, 4),
    rise: some(0.1, 2),
    step: some(-1, 1),
    radius: some(0.1, 3),
    lobes: whole(2, 40),
    depth: some(0, 0.9),
    curves: whole(1, 6),
  }),
);

function made(spec: PatternSpec): { lines: number; points: number } {
  if (spec.form !== 'rosettes') {
    const lines = ringLines(spec, TOLERANCE);
    return { lines: lines.length, points: lines.reduce((sum, line) => sum + line.length / 2, 0) };
  }
  const curves = rosetteCurves(spec, TOLERANCE);
  const times = spec.count * spec.rows;
  return { lines: times * curves.length, points: times * curves.reduce((sum, c) => sum + c.length / 2, 0) };
}

describe('the size of a pattern', () => {
  test('is that of its lines, before they are made', () => {
    fc.assert(
      fc.property(pattern, (spec) => {
        expect(sizeOfPattern(spec, TOLERANCE)).toEqual(made(spec));
      }),
      { numRuns: 200, seed: 4 },
    );
  });

  const huge: PatternSpec = {
    form: 'rosettes',
    count: 400,
    rows: 500,
    rise: 1,
    step: 0,
    radius: 1,
    lobes: 12,
    depth: 0.15,
    curves: 6,
  };

  test('of 400 rosettes by 500 rows by 6 curves is refused, with what to reduce', () => {
    const [problem, ...more] = patternProblems([
      { where: 'mark a', form: huge.form, size: sizeOfPattern(huge, TOLERANCE) },
    ]);
    expect(more).toEqual([]);
    expect(problem).toMatchObject({ code: 'artwork.pattern-too-large', where: 'mark a' });
    expect(problem!.values).toMatchObject({
      lines: 1_200_000,
      mostLines: MOST_LINES,
      mostPoints: MOST_POINTS,
    });
    expect(lineOf(problem!)).toMatch(/`curves`/);
  });

  test('counts for a design as a whole: the mark that exceeds the limit is named', () => {
    const size = { lines: 1, points: 0.4 * MOST_POINTS };
    const marks = ['a', 'b', 'c', 'd'].map((where) => ({ where, form: 'repeat' as const, size }));
    expect(patternProblems(marks.slice(0, 2))).toEqual([]);
    expect(patternProblems(marks).map((p) => p.where)).toEqual(['c']);
    expect(lineOf(patternProblems(marks)[0]!)).toMatch(/`repeat`/);
  });
});
