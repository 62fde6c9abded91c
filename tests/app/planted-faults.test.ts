import { beforeAll, expect, test } from 'vitest';
import { harmlessEdits } from '../fixtures/faults/harmless.js';
import { plantedFaults } from '../fixtures/faults/index.js';
import { type Bench, openBenches, textOf } from '../fixtures/faults/sample-programs.js';
import { acceptHarmlessEdits, findPlantedFaults } from './planted-faults.js';

let benches: Bench[];
beforeAll(async () => {
  benches = await openBenches(['nine-lights']);
});

test('the programs in which faults are planted are good', () => {
  for (const { programs, read } of benches)
    for (const { name, lines } of programs) expect([name, read(textOf(lines)).problems]).toEqual([name, []]);
});

test('each fault has a name of its own', () => {
  const names = Object.values(plantedFaults).flatMap((faults) => faults.map(({ name }) => name));
  expect(new Set(names).size).toBe(names.length);
  expect(names.length).toBeGreaterThan(160);
});

test('each fault is found and named by its kind', () => {
  const planted = findPlantedFaults(benches, 1);
  expect([...planted].filter(([, times]) => times === 0)).toEqual([]);
});

test('no harmless edit is refused', () => {
  expect(acceptHarmlessEdits(benches, 1)).toBe(harmlessEdits.length);
});
