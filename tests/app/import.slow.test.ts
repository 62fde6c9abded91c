import { test } from 'vitest';
import { importsManyRows } from './many-rows.js';
import { cleanAfterEach } from './workshop.js';

cleanAfterEach();

test('of 5,000 rows with 37 wrong ones, exactly those are reported, by row, and nothing is written', () =>
  importsManyRows(5000));
