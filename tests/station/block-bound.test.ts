import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { CutLine } from '../../src/cutting/cuts.js';
import { prepareBlock } from '../../src/station/block.js';
import { boundBlock } from '../../src/station/block-bound.js';
import { barrel, blockOf, cap, figure, runOn, stationOf, tube } from './lantern-coast.js';

const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Lines that lie on any of the three surfaces, about sheet y 20; some go deeper along their way. */
const lines = fc
  .record({
    points: fc.array(fc.tuple(some(-2, 2), some(17, 23)), { minLength: 2, maxLength: 6 }),
    closed: fc.boolean(),
    deepens: fc.boolean(),
  })
  .map(
    ({ points, closed, deepens }): CutLine => ({
      points: Float64Array.from(points.flat()),
      closed,
      ...(deepens ? { depths: Float64Array.from(points, (_, k) => (k % 2 === 0 ? 0.06 : 0.01)) } : {}),
    }),
  );

/** Limits near to what the lines ask for, so that some setups pass a block and some refuse it. */
const stations = fc
  .record({
    setup: fc.constantFrom('level' as const, 'tilted' as const),
    feed: fc.constantFrom('inverse-time' as const, 'per-minute' as const),
    decimals: fc.constantFrom(3, 4, 6),
    xSign: fc.constantFrom(1 as const, -1 as const),
    aSign: fc.constantFrom(1 as const, -1 as const),
    x: fc.record({ min: some(-70, -25), max: some(25, 70), speed: some(110, 900) }),
    a: fc.record({ min: some(-400, -20), max: some(20, 400), speed: some(1000, 9000) }),
    z: fc.record({ min: some(-9, 0), max: fc.constant(100), speed: some(110, 900) }),
  })
  .map((wish) => stationOf({ ...wish, zOffset: 0 }));

/** How often the bound decided, and how often the station refused. */
const counts = { decided: 0, open: 0, refused: 0 };

test('a block that the bounds pass is written, in no more bytes than they say', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(cap, barrel, tube),
      stations,
      fc.array(lines, { minLength: 1, maxLength: 2 }),
      some(-720, 720),
      (cone, station, drawn, turn) => {
        const run = runOn(cone, station, { feed: 120, plunge: 40 });
        const block = blockOf(drawn, { turn });
        const bound = boundBlock(run, block);
        const made = prepareBlock(run, block);
        if (Array.isArray(made)) counts.refused++;
        if (bound === undefined) {
          counts.open++;
          return;
        }
        counts.decided++;
        if (Array.isArray(made)) throw new Error(made.map((p) => p.code).join());
        expect(Buffer.byteLength((made as { text: string }).text)).toBeLessThanOrEqual(bound);
      },
    ),
    { numRuns: 1000 },
  );
  for (const [kind, count] of Object.entries(counts)) expect(count, kind).toBeGreaterThan(50);
});

test('a block well within every limit needs no writing, and one past a limit does', () => {
  const block = blockOf(figure);
  expect(boundBlock(runOn(cap, stationOf()), block)).toBeGreaterThan(0);
  for (const wish of [
    { x: { max: 10 } },
    { x: { min: 40 } },
    { a: { min: 0, max: 10 } },
    { z: { min: -0.01 } },
    { x: { speed: 100 } },
    { a: { speed: 500 } },
    { z: { max: 2 } },
  ])
    expect(boundBlock(runOn(cap, stationOf(wish)), block), JSON.stringify(wish)).toBeUndefined();
});
