import { describe, test } from 'vitest';
import { cleanAfterAll } from './folders.js';
import {
  CHECKPOINT,
  CUT,
  expectRefused,
  ISSUE,
  MOVE,
  newMachine,
  RECORD,
  RETIRE,
  WAYS,
} from './gate-ways.js';

cleanAfterAll();

describe.each([
  { signs: false, told: 'without a key' },
  { signs: true, told: 'with a key' },
])('a register lost, copied, set back or swapped, $told', ({ signs }) => {
  test.each(Object.entries(WAYS))('%s: no number twice', async (_, way) => {
    await expectRefused(await newMachine({ signs }), way, [
      ...[ISSUE, RECORD, CUT, CHECKPOINT, MOVE],
      ...(signs ? [RETIRE] : []),
    ]);
  });
});
