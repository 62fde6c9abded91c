import { expect, test } from 'vitest';
import { sweptAgainst } from './swept-against.js';
import { sweptJob } from './swept-jobs.js';

// As in `swept-cut.test.ts`, over more jobs.
test.each(Array.from({ length: 200 }, (_, k) => sweptJob(100 + k)))(
  'a cut as the metal keeps it, $what',
  (job) => {
    const { edges, depth, cut } = sweptAgainst(job, 400);
    expect({ edges, deep: depth >= 0.002 ? depth : 0 }).toEqual({ edges: 0, deep: 0 });
    expect(cut).toBeGreaterThan(20);
  },
);
