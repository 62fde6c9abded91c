import { expect, it } from 'vitest';
import { readDamaged } from './damaged.js';

const TIMES = 2_000;

it.each([1, 2, 3, 4, 5])(`reads or refuses ${TIMES} damaged drawings (seed %i)`, (seed) => {
  const ends = readDamaged(TIMES, seed);
  expect(ends.read).toBeGreaterThan(TIMES / 5);
  expect(ends.refused).toBeGreaterThan(TIMES / 10);
});
