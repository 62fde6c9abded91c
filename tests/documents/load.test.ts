import path from 'node:path';
import { expect, test } from 'vitest';
import { loadWorkshop } from '../../src/documents/load.js';

const good = path.resolve(import.meta.dirname, '../fixtures/workshop');
const builtInFonts = new Set(['single-line', 'garamond']);

test('the good workshop loads', async () => {
  const loaded = await loadWorkshop(good, { builtInFonts });
  if (!loaded.ok) expect(loaded.problems).toEqual([]);
  expect(loaded.ok).toBe(true);
});
