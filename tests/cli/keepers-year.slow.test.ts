import { expect, test } from 'vitest';
import { cleanAfterAll } from './folders.js';
import { keepersYear } from './keepers-year.js';

cleanAfterAll();

test('a year of 300 numbers with every slip ends without a dead end, and with a clean audit', async () => {
  expect(await keepersYear(20310302, 300)).toHaveLength(300);
}, 900_000);
