import { expect, it } from 'vitest';
import { readDamaged } from './damaged.js';

const SEED = 77;
const TIMES = 400;

it(`reads or refuses ${TIMES} damaged drawings (seed ${SEED})`, () => {
  const ends = readDamaged(TIMES, SEED);
  expect(ends.read).toBeGreaterThan(TIMES / 5);
  expect(ends.refused).toBeGreaterThan(TIMES / 10);
});
