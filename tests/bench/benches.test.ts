import { readdirSync } from 'node:fs';
import { expect, test } from 'vitest';

/** A measurement that no longer runs would be noticed only when somebody needs its figures. */
const benches = readdirSync(import.meta.dirname).filter((file) => file.endsWith('.bench.mjs'));

test.each(benches)('%s finds all that it measures', async (file) => {
  const bench: { title: unknown; measure: unknown } = await import(new URL(file, import.meta.url).href);
  expect(bench.title).toBeTypeOf('string');
  expect(bench.measure).toBeTypeOf('function');
});
