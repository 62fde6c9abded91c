import { expect, test } from 'vitest';
import { linesOf, well } from './burin.js';
import { cleanAfterAll, newQuickBench } from './folders.js';
import { issueAtOnce } from './issue-at-once.js';

cleanAfterAll();

test('three hands at once, 30 numbers each: 90 labels, none twice, no gap', () =>
  issueAtOnce(['E. Marrow', 'O. Vale', 'T. Finch'], [30]));

test('asking again with the same key gives the same labels and takes no more', async () => {
  const cwd = newQuickBench();
  const ask = [
    ...['issue', 'nine-lights', '--series', 'proofs', '--count', '2', '--by', 'E. Marrow'],
    ...['--key', 'order 7'],
  ];
  const [first, again] = [await well(ask, { cwd }), await well(ask, { cwd })];
  expect(linesOf(first)).toEqual(['A.P. I/IX', 'A.P. II/IX']);
  expect(again).toBe(first);
});
