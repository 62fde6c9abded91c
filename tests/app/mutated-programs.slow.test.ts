import { expect, test } from 'vitest';
import { openBenches } from '../fixtures/faults/sample-programs.js';
import { readMutatedPrograms } from './mutated-programs.js';

test('of 20,000 programs changed by chance, none that cuts otherwise is called good', async () => {
  expect(readMutatedPrograms(await openBenches(['nine-lights', 'dedicated']), 20_000)).toBeGreaterThan(500);
});
