import { beforeAll, expect, test } from 'vitest';
import { cutDifference } from '../fixtures/faults/cut-difference.js';
import { harmlessEdits } from '../fixtures/faults/harmless.js';
import { plantedFaults } from '../fixtures/faults/index.js';
import { pickFrom } from '../fixtures/faults/program-lines.js';
import { type Bench, openBenches, textOf } from '../fixtures/faults/sample-programs.js';
import { readMutatedPrograms } from './mutated-programs.js';
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

test('programs changed by chance are read to their end, and none that cuts otherwise is called good', () => {
  expect(readMutatedPrograms(benches, 80)).toBeGreaterThan(0);
});

test('the independent comparison sees what is cut otherwise, and nothing else', () => {
  const [program] = benches[0]!.programs;
  const { lines, radius } = program!;
  const difference = (plant: (typeof harmlessEdits)[number]['plant']) =>
    cutDifference(textOf(lines), textOf(plant(program!, pickFrom(5))!), radius);
  const same = ['one glyph turned by a whole turn', 'glyphs in another order', 'a long cut in two halves'];
  for (const { name, plant } of harmlessEdits)
    if (same.includes(name)) expect([name, difference(plant)]).toEqual([name, undefined]);
  const other = [
    'a point 0.05 mm off along the axis',
    'a glyph lost',
    'all moved a little along',
    'all 0.02 mm deeper',
    'all 0.02 mm shallower',
    'a plunge too deep',
    'a stray cut',
  ];
  const faults = plantedFaults.moves!.filter(({ name }) => other.includes(name));
  expect(faults).toHaveLength(other.length);
  for (const { name, plant } of faults) expect([name, difference(plant)]).toEqual([name, expect.any(String)]);
});
