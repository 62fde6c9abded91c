import { beforeAll, expect, test } from 'vitest';
import { plantedFaults } from '../fixtures/faults/index.js';
import { type Bench, openBenches, textOf } from '../fixtures/faults/sample-programs.js';
import { acceptHarmlessEdits, findPlantedFaults } from './planted-faults.js';

let benches: Bench[];
beforeAll(async () => {
  benches = await openBenches();
});

test('programs of lines, grooves, cleared shapes, patterns and windings are good on four stations', () => {
  for (const { programs, read } of benches)
    for (const { name, lines } of programs) expect([name, read(textOf(lines)).problems]).toEqual([name, []]);
});

test.each(Object.keys(plantedFaults))(
  'each fault of %s, planted ten times, is found and named by its kind',
  (group) => {
    const planted = findPlantedFaults(benches, 10, [group]);
    expect([...planted].filter(([, times]) => times < 10)).toEqual([]);
  },
);

test('no harmless edit is refused, of more than two hundred', () => {
  expect(acceptHarmlessEdits(benches, 8)).toBeGreaterThan(200);
});
