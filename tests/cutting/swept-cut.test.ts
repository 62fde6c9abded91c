import { expect, test } from 'vitest';
import { sweptAgainst } from './swept-against.js';
import { sweptJob } from './swept-jobs.js';

// Against a solid sweep in space by brute force (`solid-sweep.ts`): edges to 0.005 mm, depths to 0.002 mm.
test.each(Array.from({ length: 8 }, (_, k) => sweptJob(k)))('a cut as the metal keeps it, $what', (job) => {
  const { edges, depth, cut } = sweptAgainst(job, 60);
  expect(edges).toBe(0);
  expect(cut).toBeGreaterThan(20);
  expect(depth).toBeLessThan(0.002);
});
