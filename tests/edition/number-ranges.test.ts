import { expect, test } from 'vitest';
import { formatRanges } from '../../src/edition/number-ranges.js';

const apart = (n: number) => Array.from({ length: n }, (_, k) => 2 * k + 1);

test('numbers as ranges, in any order given; beyond twenty ranges the rest is counted', () => {
  expect(formatRanges([])).toBe('');
  expect(formatRanges([7, 2, 1, 3])).toBe('1-3, 7');
  expect(formatRanges(apart(20))).toMatch(/, 37, 39$/);
  expect(formatRanges(apart(21))).toMatch(/, 39 and 1 more range$/);
  expect(formatRanges(apart(23))).toMatch(/, 39 and 3 more ranges$/);
});
