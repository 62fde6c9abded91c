import { test } from 'vitest';
import { GATHERED, killCuts } from './cut-killed.js';
import { cleanAfterAll } from './folders.js';

cleanAfterAll();

test('killed at the start, midway and at the end, cut leaves no half folder to be seen, and the next run clears up', () =>
  killCuts([0, GATHERED / 2, GATHERED]));
