import { expect, test } from 'vitest';
import { thinStrokes } from '../../src/cutting/min-feature-thin.js';
import { MinFeatureWork } from '../../src/cutting/min-feature-work.js';
import type { Refusal } from '../../src/problem.js';

/** A star of so many spikes, 9 mm across, each narrower at its end than the cut. */
function star(spikes: number): Float64Array {
  const points: number[] = [];
  for (let k = 0; k < 2 * spikes; k++) {
    const radius = k % 2 === 0 ? 4.5 : 2;
    const angle = (Math.PI * k) / spikes;
    points.push(radius * Math.cos(angle), radius * Math.sin(angle));
  }
  return Float64Array.from(points);
}
const CUT = 0.06;
/** Steps for drawing a star of 60 spikes in and out again for a score of widths, not for a score of widths for each spike. */
const A_SCORE_OF_WIDTHS = 2_000_000;

test('spikes that are alike are measured together', () => {
  const thin = thinStrokes([star(60)], CUT, new MinFeatureWork(A_SCORE_OF_WIDTHS));
  expect(thin).toHaveLength(60);
  for (const { measured } of thin) expect(measured).toBeCloseTo(thin[0]!.measured, 3);
});

test('slanting strokes side by side are not held against one another', () => {
  const points = [0, 0, 0, 1];
  for (let x = 0; x < 4; x += 0.04) points.push(x, 1, x + 3, 7, x + 3.02, 7, x + 0.02, 1);
  const comb = Float64Array.from([...points, 4, 1, 4, 0]).map(
    (_, i, all) => all[all.length - 2 - (i & ~1) + (i & 1)]!,
  );
  const work = new MinFeatureWork();
  expect(thinStrokes([comb], CUT, work)).toHaveLength(100);
  expect(work.steps).toBeLessThan(8_000_000);
});

test('more steps than the budget are refused', () => {
  let problems: Refusal['problems'] = [];
  try {
    thinStrokes([star(6000)], CUT);
  } catch (error) {
    problems = (error as Refusal).problems;
  }
  expect(problems).toMatchObject([
    { code: 'cutting.too-many-strokes', values: { points: 12_000, most: 60_000_000 } },
  ]);
});
