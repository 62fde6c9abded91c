import { expect, test } from 'vitest';
import { listLabels } from '../../src/edition/list-labels.js';

const labels = (n: number) => Array.from({ length: n }, (_, k) => `${k + 1}/90`);

test('labels in a sentence: each up to eight, then how many more', () => {
  expect(listLabels(labels(1))).toBe('1/90');
  expect(listLabels(labels(2))).toBe('1/90 and 2/90');
  expect(listLabels(labels(3))).toBe('1/90, 2/90 and 3/90');
  expect(listLabels(labels(8))).toMatch(/, 7\/90 and 8\/90$/);
  expect(listLabels(labels(12))).toMatch(/, 8\/90 and 4 more$/);
});
