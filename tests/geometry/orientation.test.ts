import fc from 'fast-check';
import { expect, test } from 'vitest';
import { orientation } from '../../src/geometry/orientation.js';
import { point } from './arbitraries.js';
import { exactSide } from './exact.js';

test('counts left as positive, with y up', () => {
  expect(orientation(0, 0, 1, 0, 0, 1)).toBe(1);
  expect(orientation(0, 0, 1, 0, 0, -1)).toBe(-1);
  expect(orientation(0, 0, 1, 0, 5, 0)).toBeCloseTo(0, 20);
});

test('has the sign of whole-number arithmetic for points nearly on a line', () => {
  fc.assert(
    fc.property(point, point, fc.double({ min: -2, max: 3, noNaN: true }), (a, b, t) => {
      const c = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])] as const;
      expect(Math.sign(orientation(...a, ...b, ...c)) + 0).toBe(exactSide(...a, ...b, ...c));
    }),
    { numRuns: 300, seed: 1 },
  );
});

test('the plain formula would get some of them wrong', () => {
  // Kettner and others, "Classroom examples of robustness problems in geometric computations" (2008), figure 2a: p near
  // (0.5, 0.5) against the line through (12, 12) and (24, 24).
  const e = 2 ** -53;
  let wrong = 0;
  for (let i = 0; i < 64; i++)
    for (let j = 0; j < 64; j++) {
      const [x, y] = [0.5 + i * e, 0.5 + j * e];
      const sign = exactSide(x, y, 12, 12, 24, 24);
      expect(Math.sign(orientation(x, y, 12, 12, 24, 24)) + 0).toBe(sign);
      if (Math.sign((12 - x) * (24 - y) - (12 - y) * (24 - x)) !== sign) wrong++;
    }
  expect(wrong).toBeGreaterThan(0);
});
