import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Series } from '../../src/documents/schema/edition.js';
import { excludedBy, labelOf, numbersOf, plannedNumbers } from '../../src/edition/labels.js';
import { fromRoman } from '../../src/edition/roman.js';
import { Refusal } from '../../src/problem.js';
import { nineLights, seriesOf } from './nine-lights.js';

describe('a label', () => {
  const main = seriesOf({ id: 'main', to: 90, total: { joiner: '/' } });

  test('joins number and total', () => {
    expect(labelOf(main, 12)).toBe('12/90');
  });

  test('fills the number, not the total', () => {
    expect(labelOf({ ...main, pad: 3 }, 7)).toBe('007/90');
    expect(labelOf({ ...main, pad: 2 }, 123)).toBe('123/90');
  });

  test('writes number and total in Roman figures', () => {
    const proofs = seriesOf({ id: 'ap', to: 9, figures: 'roman', total: { joiner: '/' } });
    expect(labelOf(proofs, 4)).toBe('IV/IX');
  });

  test('states another total where the document does', () => {
    expect(labelOf({ ...main, total: { joiner: ' of ', of: 100 } }, 1)).toBe('1 of 100');
  });

  test('has text before and after', () => {
    expect(labelOf({ ...main, before: 'No. ', after: ' E' }, 3)).toBe('No. 3/90 E');
    expect(labelOf(seriesOf({ id: 'x', to: 5 }), 3)).toBe('3');
  });

  test.each([0, -1, 1.5, Number.NaN])('of %d is refused', (n) => {
    expect(() => labelOf(main, n)).toThrow(Refusal);
  });

  test('beyond Roman figures is refused with the place', () => {
    const long = seriesOf({ id: 'long', to: 4000, figures: 'roman' });
    expect(labelOf({ ...long, to: 3999 }, 3999)).toBe('MMMCMXCIX');
    expect(() => labelOf(long, 4000)).toThrow(/^series long: /);
    // Its total has no figures either.
    expect(() => labelOf({ ...long, total: { joiner: '/' } }, 1)).toThrow(Refusal);
  });
});

describe('numbers of a series', () => {
  const series = seriesOf({
    id: 'main',
    to: 50,
    exclude: [
      { numbers: [13], why: 'thought unlucky' },
      { containing: '4', why: 'sounds like death' },
    ],
  });

  test('leave out the excluded', () => {
    const numbers = numbersOf(series);
    expect(numbers).not.toContain(13);
    expect(numbers.filter((n) => String(n).includes('4'))).toEqual([]);
    // 1 to 50 holds 4, 14, 24, 34 and 40 to 49: fourteen; and 13.
    expect(numbers).toHaveLength(35);
  });

  test('say which exclusion', () => {
    expect(excludedBy(series, 13)?.why).toBe('thought unlucky');
    expect(excludedBy(series, 42)?.why).toBe('sounds like death');
    expect(excludedBy(series, 12)).toBeUndefined();
  });

  test('filling does not make a number contain 0', () => {
    const filled = seriesOf({
      id: 'f',
      to: 20,
      pad: 3,
      exclude: [{ containing: '0', why: 'no round numbers' }],
    });
    expect(numbersOf(filled)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 13, 14, 15, 16, 17, 18, 19]);
  });

  test('Roman series exclude by the arabic figures', () => {
    const roman = seriesOf({ id: 'r', to: 15, figures: 'roman', exclude: [{ containing: '4', why: 'w' }] });
    expect(numbersOf(roman)).not.toContain(14);
  });

  test('agree with excludedBy', () => {
    fc.assert(
      fc.property(anySeries, (given) => {
        const kept = new Set(numbersOf(given));
        for (let n = given.from; n <= given.to; n++) {
          expect(kept.has(n)).toBe(excludedBy(given, n) === undefined);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('the plan', () => {
  test('has every piece of Nine Lights, in the order of the document', () => {
    const plan = plannedNumbers(nineLights());
    expect(plan).toHaveLength(99);
    expect(plan[0]).toEqual({ series: 'main', number: 1, label: '1/90' });
    expect(plan[89]).toEqual({ series: 'main', number: 90, label: '90/90' });
    expect(plan[90]).toEqual({ series: 'proofs', number: 1, label: 'A.P. I/IX' });
    expect(plan[98]).toEqual({ series: 'proofs', number: 9, label: 'A.P. IX/IX' });
  });
});

const anySeries: fc.Arbitrary<Series> = fc
  .record({
    from: fc.integer({ min: 1, max: 300 }),
    length: fc.integer({ min: 0, max: 200 }),
    figures: fc.constantFrom('arabic' as const, 'roman' as const),
    pad: fc.integer({ min: 1, max: 6 }),
    joiner: fc.option(fc.constantFrom('/', ' of ', '·', '1'), { nil: undefined }),
    before: fc.option(fc.string({ maxLength: 8, unit: 'grapheme' }), { nil: undefined }),
    after: fc.option(fc.string({ maxLength: 8, unit: 'grapheme' }), { nil: undefined }),
    numbers: fc.array(fc.integer({ min: 1, max: 500 }), { maxLength: 5 }),
    containing: fc.option(fc.constantFrom('4', '13', '0'), { nil: undefined }),
  })
  .map(({ from, length, joiner, numbers, containing, ...rest }) =>
    seriesOf({
      id: 's',
      ...rest,
      from,
      to: from + length,
      total: joiner === undefined ? undefined : { joiner },
      exclude: [{ numbers, containing, why: 'w' }],
    }),
  );

describe('any series', () => {
  test('gives each number a label of its own', () => {
    fc.assert(
      fc.property(anySeries, (series) => {
        const numbers = numbersOf(series);
        expect(new Set(numbers.map((n) => labelOf(series, n))).size).toBe(numbers.length);
      }),
      { numRuns: 100 },
    );
  });

  test('gives labels from which the number can be read back', () => {
    fc.assert(
      fc.property(anySeries, (series) => {
        for (const n of numbersOf(series)) {
          const label = labelOf(series, n);
          const tail = label.length - labelTail(series).length;
          const figures = label.slice((series.before ?? '').length, tail);
          expect(series.figures === 'roman' ? fromRoman(figures) : Number(figures)).toBe(n);
        }
      }),
      { numRuns: 60 },
    );
  });
});

/** What stands after the number, worked out apart from the code under test. */
function labelTail(series: Series): string {
  const last =
    series.figures === 'roman'
      ? labelOf(seriesOf({ id: 't', to: series.to, figures: 'roman' }), series.to)
      : `${series.to}`;
  return (series.total ? series.total.joiner + last : '') + (series.after ?? '');
}
