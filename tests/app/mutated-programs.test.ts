import { expect, test } from 'vitest';
import { openBenches } from '../fixtures/faults/sample-programs.js';
import { readMutatedPrograms } from './mutated-programs.js';

test('programs changed by chance are read to their end, and none that cuts otherwise is called good', async () => {
  expect(readMutatedPrograms(await openBenches(['nine-lights']), 400)).toBeGreaterThan(10);
});
