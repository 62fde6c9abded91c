import { readdirSync } from 'node:fs';
import { expect, test } from 'vitest';

/** A measurement that no longer runs would be noticed only when somebody needs its figures. */
const benches = readdirSync(import.meta.dirname).filter((file) => file.endsWith('.bench.mjs'));

test.each(benches)('%s finds all that it measures', async (file) => {
  const bench: { title: unknown; measure: unknown } = await import(`./${file}`);
  expect(bench.title).toBeTypeOf('string');
  expect(bench.measure).toBeTypeOf('function');
});

test('the edition bench runs, on a few pieces', async () => {
  const bench: { measure(of: { rounds: number; pieces: number }): Promise<unknown[]> } = await import(
    // @ts-expect-error: a script without types
    './edition.bench.mjs'
  );
  const parts = await bench.measure({ rounds: 1, pieces: 3 });
  expect(parts.join('\n')).toMatch(/^16 files, [\d.]+ MB, 1 rounds, ms:$/m);
});
