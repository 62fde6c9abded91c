import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ladderSize, ladderSizeAbove, nextBelow } from '../../src/layout/size-ladder.js';

/** Sizes of any magnitude: a figure of 1 to 10 and a power of ten. */
const sizes = fc
  .tuple(fc.double({ min: 1, max: 9.9999999, noNaN: true }), fc.integer({ min: -9, max: 3 }))
  .map(([figure, power]) => figure * 10 ** power);

test('a size of the ladder has four figures, and is the nearest not above', () => {
  fc.assert(
    fc.property(sizes, (size) => {
      const found = ladderSize(size);
      expect(Number(found.toPrecision(4))).toBe(found);
      expect(found).toBeLessThanOrEqual(size * (1 + 1e-9));
      expect(size - found).toBeLessThan(found * 0.0011);
      expect(ladderSize(found)).toBe(found);
      expect(ladderSizeAbove(found)).toBe(found);
      expect(ladderSizeAbove(size)).toBeGreaterThanOrEqual(size * (1 - 1e-9));
    }),
    { numRuns: 2000, seed: 21 },
  );
});

test('the ladder goes down by one unit of the fourth figure, through a decade too', () => {
  expect([2.4, 2.4005, 2.4001, 1, 1.001, 10, 0.1].map(nextBelow)).toEqual([
    2.399, 2.4, 2.4, 0.9999, 1, 9.999, 0.09999,
  ]);
});

test('there are 9,000 sizes in every decade', () => {
  for (const top of [1000, 1, 0.1, 1e-6]) {
    let count = 0;
    for (let size = top; size > top / 10; size = nextBelow(size)) count++;
    expect(count).toBe(9000);
  }
});
