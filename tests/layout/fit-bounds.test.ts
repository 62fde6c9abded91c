import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type FitResult, fitMark } from '../../src/layout/fit.js';
import { StepBudget } from '../../src/layout/step-budget.js';
import type { Refusal } from '../../src/problem.js';
import { lineOf } from '../words-of.js';
import { barrel, numberRequest, type Wish } from './requests.js';

/** Steps of a fit that is cut short, so that a test need not wait for the whole of it. */
const FEW_STEPS = 2_000_000;

function resultOrCode(search: () => FitResult): FitResult | string {
  try {
    return search();
  } catch (error) {
    return (error as Refusal).problems[0]!.code;
  }
}

const places: Wish['place'][] = [
  { z: 14, angle: 90 },
  { z: [9, 19], angle: 90 },
  { z: 14, angle: [60, 130] },
  { z: [9, 19], angle: [40, 140] },
];

describe('the smallest size of a range', () => {
  test('does not change the size found', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...places),
        fc.constantFrom(9, 12, 14),
        fc.constantFrom('ring', 'lengthwise'),
        fc.integer({ min: 5, max: 90 }).map((tenths) => tenths / 10),
        fc.array(fc.double({ min: 0.000_000_5, max: 1, noNaN: true }), { minLength: 3, maxLength: 3 }),
        (place, diameter, baseline, max, shares) => {
          const resultFor = (min: number) =>
            fitMark(
              numberRequest({ part: barrel(diameter, diameter * 0.9), place, baseline, size: { min, max } }),
            );
          const widest = resultFor(0.000_000_5);
          const found = widest.ok ? widest.size : 0;
          for (const share of shares) {
            const min = share * max;
            const result = resultFor(min);
            expect(result.ok ? result.size : undefined, `min ${min}`).toBe(min <= found ? found : undefined);
            // What is reported is short of clearance.
            if (!result.ok) expect(result.smallest.limit.clearance).toBeLessThan(0.0005);
          }
        },
      ),
      { numRuns: 8, seed: 22 },
    );
  });

  test('found or not at the size itself and just above it', () => {
    const place = places[0];
    const widest = fitMark(numberRequest({ place, size: { min: 0.1, max: 4 } }));
    if (!widest.ok) throw new Error('It has to fit.');
    for (const min of [widest.size, widest.size - 0.000_04, widest.size / 3])
      expect(fitMark(numberRequest({ place, size: { min, max: 4 } }))).toMatchObject({ size: widest.size });
    expect(fitMark(numberRequest({ place, size: { min: widest.size + 0.000_01, max: 4 } })).ok).toBe(false);
  });
});

describe('work has a bound', () => {
  test('a range from half a millionth of a millimetre ends, whether anything fits or not', () => {
    const size = { min: 0.000_000_5, max: 2.4 };
    expect(fitMark(numberRequest({ size })).ok).toBe(true);
    // The middle of the clip: nothing fits at any size.
    const none = fitMark(numberRequest({ size, place: { z: 20, angle: 0 } }));
    expect(none.ok).toBe(false);
  });

  test('any range, place and taper gets an answer or a refusal within its steps', () => {
    const tiny = fc.integer({ min: -9, max: 2 }).map((power) => 10 ** power);
    fc.assert(
      fc.property(
        tiny,
        tiny,
        fc.constantFrom(...places),
        fc.constantFrom(0.001, 0.1, 3, 12),
        fc.constantFrom(0, 1e-12, 1e-9, 1e-6, 0.5),
        (a, b, place, diameter, taper) => {
          const budget = new StepBudget(FEW_STEPS);
          const size = { min: Math.min(a, b), max: Math.max(a, b) };
          const part = barrel(diameter, diameter * (1 - taper));
          const request = { ...numberRequest({ part, place, size }), budget };
          const result = resultOrCode(() => fitMark(request));
          if (typeof result === 'string') expect(result).toMatch(/^layout\.fit-too-(long|large)$/);
          else if (result.ok) expect(Number.isFinite(result.size + result.limit.clearance)).toBe(true);
          // Points of one letter and edges of one keep-out are counted together.
          expect(budget.spent).toBeLessThan(FEW_STEPS + 10_000);
        },
      ),
      { numRuns: 20, seed: 23 },
    );
  });

  test('steps that run out are refused by code', () => {
    const request = numberRequest({ place: places[3], size: { min: 1, max: 9 } });
    const refused = (most: number, spent = 0, of = request) => {
      const budget = new StepBudget(most);
      budget.spend(spent, { where: 'mark before', fixed: true });
      try {
        fitMark({ ...of, budget });
      } catch (error) {
        return (error as Refusal).problems[0];
      }
      return undefined;
    };
    expect(refused(10)).toMatchObject({
      code: 'layout.fit-too-large',
      where: 'mark n',
      values: { most: 10, left: 10 },
    });
    expect(refused(5000)).toMatchObject({ code: 'layout.fit-too-long', values: { steps: 5000 } });
    // What is left after the marks before it is named, and no narrower range is advised where there is none.
    expect(refused(5000, 4990)).toMatchObject({
      code: 'layout.fit-too-large',
      values: { most: 5000, left: 10 },
    });
    expect(lineOf(refused(5000)!)).toContain(
      'Use a narrower range of sizes or a smaller zone for the mark, fewer labels',
    );
    const fixed = numberRequest({ place: { z: 14, angle: 90 }, size: 1 });
    const line = lineOf(refused(12_000, 10_800, fixed)!);
    expect(line).toContain('taken 12,000 steps of work');
    expect(line).not.toContain('narrower');
    expect(new StepBudget().spent).toBe(0);
  });
});
