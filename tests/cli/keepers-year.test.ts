import { expect, test } from 'vitest';
import { cleanAfterAll } from './folders.js';
import { keepersYear } from './keepers-year.js';

cleanAfterAll();

test('a year of a keeper with every slip ends without a dead end, and with a clean audit', async () => {
  expect(await keepersYear(20310301, 20)).toHaveLength(20);
});
