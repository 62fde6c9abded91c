import { expect } from 'vitest';
import type { Plant, SampleProgram } from '../fixtures/faults/fault.js';
import { harmlessEdits } from '../fixtures/faults/harmless.js';
import { plantedFaults } from '../fixtures/faults/index.js';
import { pickFrom } from '../fixtures/faults/program-lines.js';
import { type Bench, textOf } from '../fixtures/faults/sample-programs.js';

interface Sample {
  readonly bench: Bench;
  readonly program: SampleProgram;
}

const samplesOf = (benches: readonly Bench[]): Sample[] =>
  benches.flatMap((bench) => bench.programs.map((program) => ({ bench, program })));

/** A change planted in one sample after another, beginning at one of them, `variants` times where it has a place. */
function* plantings(samples: readonly Sample[], plant: Plant, first: number, variants: number) {
  let made = 0;
  for (let k = 0; k < 3 * samples.length + variants && made < variants; k++) {
    const seed = 1000 * first + k;
    const { bench, program } = samples[(first + k) % samples.length]!;
    const planted = plant(program, pickFrom(seed));
    if (planted === undefined) continue;
    const text = textOf(planted);
    if (text === textOf(program.lines)) continue;
    made++;
    yield { bench, text, place: `${program.name}, seed ${seed}` };
  }
}

/** Plants each fault so many times; each must be found, and named by its kind. Gives how often each was planted. */
export function findPlantedFaults(
  benches: readonly Bench[],
  variants: number,
  groups: readonly string[] = Object.keys(plantedFaults),
): Map<string, number> {
  const samples = samplesOf(benches);
  const planted = new Map<string, number>();
  const missed: string[] = [];
  groups
    .flatMap((group) => plantedFaults[group]!)
    .forEach(({ name, codes, plant }, k) => {
      let times = 0;
      for (const { bench, text, place } of plantings(samples, plant, k, variants)) {
        times++;
        const { ok, problems } = bench.read(text);
        const found = [...new Set(problems.map(({ code }) => code))];
        if (ok || !found.some((code) => codes.includes(code)))
          missed.push(`${name} (${place}): ${ok ? 'not found' : `named ${found.join(', ')}`}`);
      }
      planted.set(name, times);
    });
  expect(missed).toEqual([]);
  return planted;
}

/** Makes each harmless edit so many times; none may be refused. Gives how many were made. */
export function acceptHarmlessEdits(benches: readonly Bench[], variants: number): number {
  const samples = samplesOf(benches);
  const refused: string[] = [];
  let made = 0;
  for (const [k, { name, plant }] of harmlessEdits.entries()) {
    for (const { bench, text, place } of plantings(samples, plant, k, variants)) {
      made++;
      const { ok, problems } = bench.read(text);
      if (!ok)
        refused.push(`${name} (${place}): ${problems.map(({ where, code }) => `${where} ${code}`)[0]}`);
    }
  }
  expect(refused).toEqual([]);
  return made;
}
