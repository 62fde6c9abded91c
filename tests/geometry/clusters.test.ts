import fc from 'fast-check';
import { expect, test } from 'vitest';
import { boundsOf } from '../../src/geometry/bounds.js';
import { clusterRings } from '../../src/geometry/clusters.js';

const box = (x: number, y: number, w: number, h: number): Float64Array =>
  Float64Array.of(x, y, x + w, y, x + w, y + h, x, y + h);
const side = fc.integer({ min: 0, max: 30 });
const size = fc.integer({ min: 1, max: 6 });

test('rings are in one cluster exactly where a chain of near bounds leads from one to the other', () => {
  const seed = 20261130;
  fc.assert(
    fc.property(
      fc.array(fc.tuple(side, side, size, size), { minLength: 1, maxLength: 25 }),
      fc.constantFrom(0, 0.5, 1.5),
      (boxes, apart) => {
        const rings = boxes.map(([x, y, w, h]) => box(x, y, w, h));
        const near = (i: number, j: number) => {
          const [a, b] = [boundsOf(rings[i]!), boundsOf(rings[j]!)];
          return a[0] - b[2] <= apart && b[0] - a[2] <= apart && a[1] - b[3] <= apart && b[1] - a[3] <= apart;
        };
        // Spread from each ring to its neighbours until nothing comes to it.
        const reached = (from: number): number[] => {
          const all = new Set([from]);
          for (const i of all) for (let j = 0; j < rings.length; j++) if (near(i, j)) all.add(j);
          return [...all].sort((a, b) => a - b);
        };
        const clusters = clusterRings(rings, apart);
        expect(clusters.flat().sort((a, b) => a - b)).toEqual(rings.map((_, i) => i));
        for (const cluster of clusters) expect(cluster).toEqual(reached(cluster[0]!));
        expect(clusters.map(([first]) => first)).toEqual(
          [...clusters.map(([first]) => first!)].sort((a, b) => a - b),
        );
      },
    ),
    { seed, numRuns: 300 },
  );
});

test('so many abreast that comparing them would be long are taken together', () => {
  const rows = (count: number) => Array.from({ length: count }, (_, i) => box(i / count, 3 * i, 5, 1));
  expect(clusterRings(rows(100), 0)).toHaveLength(100);
  expect(clusterRings(rows(3000), 0)).toHaveLength(1);
});
