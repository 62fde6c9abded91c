import { beforeAll, expect, test } from 'vitest';
import { plantedFaults } from '../fixtures/faults/index.js';
import { type Bench, openBenches, textOf } from '../fixtures/faults/sample-programs.js';
import { acceptHarmlessEdits, findPlantedFaults } from './planted-faults.js';

/** How often each fault is planted; `npm run soak` makes it ten. */
const TIMES = Number(process.env.SOAK_VARIANTS ?? 2);

let benches: Bench[];
beforeAll(async () => {
  benches = await openBenches();
});

test('programs of lines, grooves, cleared shapes, patterns and windings are good on four stations', () => {
  for (const { programs, read } of benches)
    for (const { name, lines } of programs) expect([name, read(textOf(lines)).problems]).toEqual([name, []]);
});

test.each(Object.keys(plantedFaults))(
  `each fault of %s, planted ${TIMES} times, is found and named by its kind`,
  (group) => {
    const planted = findPlantedFaults(benches, TIMES, [group]);
    expect([...planted].filter(([, times]) => times < TIMES)).toEqual([]);
  },
);

test('no harmless edit is refused', () => {
  expect(acceptHarmlessEdits(benches, TIMES)).toBeGreaterThan(25 * TIMES);
});
