import { expect, it } from 'vitest';
import { hostileDrawings } from './hostile.js';
import { CUT_TOO_OFTEN, FOLLOWED, LONG, READ, REFUSED, TANGLED } from './hostile-files.js';

it('counts more than a hundred files, each with a name of its own', () => {
  const names = [REFUSED, TANGLED, CUT_TOO_OFTEN, FOLLOWED, READ].flat().map(([name]) => name);
  expect(names.length).toBeGreaterThan(100);
  expect(new Set(names).size).toBe(names.length);
  for (const name of LONG) expect(names).toContain(name);
});

hostileDrawings((name) => !LONG.has(name));
