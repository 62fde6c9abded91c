import { test } from 'vitest';
import { cleanAfterAll } from './folders.js';
import { compareStarted } from './started-steps.js';

cleanAfterAll();

test('started as a process, every command does and says what it does within one', () =>
  compareStarted(() => true));
