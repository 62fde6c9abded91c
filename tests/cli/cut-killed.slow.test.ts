import { test } from 'vitest';
import { GATHERED, killCuts } from './cut-killed.js';
import { cleanAfterAll } from './folders.js';

cleanAfterAll();

test('killed at any moment, cut leaves no half folder to be seen, and the next run clears up', () =>
  killCuts(Array.from({ length: 2 * GATHERED + 2 }, (_, i) => i >> 1)));
