import fc from 'fast-check';
import { expect } from 'vitest';
import type { CutBlock, CutLine } from '../../src/cutting/cuts.js';
import { writeProgram } from '../../src/station/program.js';
import { proveText } from '../../src/station/prove.js';
import { blockOf, head, prepared, runOn, type StationWish, stationOf } from './lantern-coast.js';
import { type Cone, develop, type Pair } from './plain-frame.js';

/**
 * Jobs that ask the most of what counts how often, how deep and how fast: lines that cross, touch and run back on
 * themselves, lines of a few micrometres, rings, glyphs that share lines, depths that change, on cones and tubes, level
 * and tilted, at both feed modes. Every program that is written of them must be called good.
 */
/** Evenly from one number to another: most doubles lie about nought. */
const some = (min: number, max: number) =>
  fc.nat(100_000).map((part) => min + (part / 100_000) * (max - min));

const cones = fc
  .record({ r0: some(3, 9), change: fc.oneof(fc.constant(0), some(-0.5, 0.5)) })
  .map(({ r0, change }): Cone => ({ z0: 0, z1: 30, r0, r1: r0 * (1 + change) }));

const stations: fc.Arbitrary<StationWish> = fc.record({
  setup: fc.constantFrom('level' as const, 'tilted' as const),
  feed: fc.constantFrom('inverse-time' as const, 'per-minute' as const),
  decimals: fc.constantFrom(3, 4, 5),
  xSign: fc.constantFrom(1 as const, -1 as const),
  aSign: fc.constantFrom(1 as const, -1 as const),
});

/** Places as z and angle about the middle, some of them named again, so that lines meet and run back. */
const places = fc
  .array(
    fc.oneof(
      { weight: 5, arbitrary: fc.tuple(some(-6, 6), some(-40, 40)) },
      { weight: 1, arbitrary: fc.tuple(some(-0.004, 0.004), some(-0.05, 0.05)) },
    ),
    { minLength: 4, maxLength: 8 },
  )
  .chain((all) =>
    fc
      .array(fc.nat(all.length - 1), { maxLength: 4 })
      .map((again) => [...all, ...again.map((k) => all[k]!)] as const),
  );

const lines = fc.record({ places, closed: fc.boolean(), shift: some(-2, 2) });

const jobs = fc.record({
  cone: cones,
  station: stations,
  lines: fc.array(lines, { minLength: 2, maxLength: 4 }),
  turns: fc.uniqueArray(fc.constantFrom(0, 0.3, 5, 118, 200, 359), { minLength: 1, maxLength: 3 }),
  twice: fc.boolean(),
  ring: fc.boolean(),
  varied: fc.boolean(),
  depth: some(0.02, 0.3),
  passes: fc.integer({ min: 1, max: 4 }),
  speed: fc.constantFrom(200, 600, 100_000),
});

const isFar = ([ax, ay]: Pair, [bx, by]: Pair): boolean => Math.hypot(ax - bx, ay - by) > 1e-4;

export function checkGoodPrograms(numRuns: number): void {
  let proved = 0;
  fc.assert(
    fc.property(jobs, ({ cone, station, turns, twice, ring, varied, depth, passes, speed, ...job }) => {
      const fast = { speed: 1e6 };
      const run = runOn(cone, stationOf({ ...station, a: fast, x: fast, z: { speed } }), { speed: 9000 });
      const made = job.lines.flatMap(({ places: all, closed, shift }): CutLine[] => {
        const points = all
          .map(([z, angle]): Pair => develop(cone, 15 + z, angle + shift))
          .filter((point, k, list) => k === 0 || isFar(point, list[k - 1]!));
        if (points.length < 2 || (closed && points.length < 3)) return [];
        if (closed && !isFar(points[0]!, points.at(-1)!)) points.pop();
        const line = { points: Float64Array.from(points.flat()), closed };
        if (!varied) return [line];
        return [
          {
            ...line,
            depths: Float64Array.from(points, (_, k) => depth * (0.2 + 0.8 * ((k * 7) % 5) * 0.25)),
          },
        ];
      });
      // Part of a ring, which the blocks of near turns share.
      const part = Array.from({ length: 21 }, (_, k) => develop(cone, 15, 2 * k - 20));
      if (ring) made.push({ points: Float64Array.from(part.flat()), closed: false });
      // A line that is drawn twice is cut twice.
      const drawn = twice ? [...made, ...made.slice(0, 1)] : made;
      if (drawn.length === 0) return;
      const steps = Array.from({ length: passes }, (_, k) =>
        k + 1 < passes ? (depth * (k + 1)) / passes : depth,
      );
      const blocks = turns.map(
        (turn, k): CutBlock => blockOf(drawn, { key: `${k}`, name: `${k}`, turn, depth, passes: steps }),
      );
      const text = writeProgram(
        run,
        head,
        blocks.map((block) => prepared(run, block)),
      ).text;
      const proof = proveText(run, text, blocks);
      if (Array.isArray(proof)) throw new Error(JSON.stringify(proof));
      expect(proof.problems).toEqual([]);
      expect(proof.ok).toBe(true);
      proved++;
    }),
    { numRuns, seed: 1010 },
  );
  expect(proved).toBeGreaterThan(0.9 * numRuns);
}
