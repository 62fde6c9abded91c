import { beforeAll, expect, test } from 'vitest';
import { type Bench, openBenches } from '../fixtures/faults/sample-programs.js';
import { readMutatedPrograms } from './mutated-programs.js';

let benches: Bench[];
beforeAll(async () => {
  benches = await openBenches(['nine-lights', 'dedicated']);
});

/** 20,000 in all: on a busy machine they take longer than one test may. */
const EACH = 2_500;

test.each(Array.from({ length: 8 }, (_, k) => k * EACH))(
  'of programs changed by chance, from seed %d on, none that cuts otherwise is called good',
  (from) => {
    expect(readMutatedPrograms(benches, EACH, from)).toBeGreaterThan(50);
  },
);
