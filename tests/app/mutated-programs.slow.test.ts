import { beforeAll, expect, test } from 'vitest';
import { type Bench, openBenches } from '../fixtures/faults/sample-programs.js';
import { readMutatedPrograms } from './mutated-programs.js';

/** `npm run soak` makes it twenty thousand. */
const COUNT = Number(process.env.SOAK_MUTANTS ?? 1000);
/** So many at a time: on a busy machine twenty thousand take longer than one test may. */
const EACH = 1000;

let benches: Bench[];
beforeAll(async () => {
  benches = await openBenches(['nine-lights', 'dedicated']);
});

test.each(Array.from({ length: Math.ceil(COUNT / EACH) }, (_, k) => k * EACH))(
  'of programs changed by chance, from seed %d on, none that cuts otherwise is called good',
  (from) => {
    const good = readMutatedPrograms(benches, Math.min(EACH, COUNT - from), from);
    expect(good).toBeGreaterThan(0);
  },
);
