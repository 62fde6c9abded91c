import { expect, test } from 'vitest';
import { cutter } from '../../src/documents/schema/cutter.js';
import { cutWidth } from '../../src/layout/cut-width.js';

const of = (shape: object) =>
  cutter.parse({
    kind: 'cutter',
    version: 1,
    name: 'C',
    feed: 100,
    plunge: 50,
    depth: 5,
    speed: 20_000,
    ...shape,
  });

test('a ball leaves the chord of its circle, worked by hand, and never more than its diameter', () => {
  // 3-4-5: a circle of radius 2 has half a chord of 1.6 at 1.2 from its middle, which is 0.8 deep.
  const ball = of({ shape: 'ball', diameter: 4 });
  expect(cutWidth(ball, 0.8)).toBeCloseTo(3.2, 12);
  expect(cutWidth(ball, 2)).toBe(4);
  expect(cutWidth(ball, 5)).toBe(4);
});

test('a flat end leaves its diameter at any depth', () => {
  const flat = of({ shape: 'flat', diameter: 0.8 });
  expect([0.05, 1].map((depth) => cutWidth(flat, depth))).toEqual([0.8, 0.8]);
});
