import fc from 'fast-check';
import { expect } from 'vitest';
import { clear } from '../../src/cutting/clear.js';
import type { CutLine } from '../../src/cutting/cuts.js';
import { anglesOf, barriersOf, trimLines } from '../../src/layout/trim.js';
import { writeProgram } from '../../src/station/program.js';
import { proveText } from '../../src/station/prove.js';
import { PATH_TOLERANCE_MM } from '../../src/units.js';
import { blockOf, head, prepared, runOn, type StationWish, stationOf } from './lantern-coast.js';
import { type Cone, develop } from './plain-frame.js';

/**
 * On a level cone the depth of every word is rounded with Z. Cleared shapes and trimmed lines hold stretches a
 * micrometre long, where that rounding is as long as the stretch itself.
 */
const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const cones = fc
  .record({ r0: some(3, 8), change: fc.oneof(some(-0.3, -0.01), some(0.01, 0.3)) })
  .map(({ r0, change }): Cone => ({ z0: 0, z1: 30, r0, r1: r0 * (1 + change) }));

const stations = fc.record({
  decimals: fc.constantFrom(3, 4, 5),
  feed: fc.constantFrom('inverse-time' as const, 'per-minute' as const),
});

/** Width of the flat end that clears, mm. */
const END_MM = 0.2;
const DEPTH = 0.06;

/** A ragged shape about the middle of a cone, z 15 and angle 0. */
const shapes = fc.array(some(0.3, 1), { minLength: 5, maxLength: 24 });
const ring = (cone: Cone, radii: readonly number[]): Float64Array =>
  Float64Array.from(
    radii.flatMap((r, i) => {
      const t = (2 * Math.PI * i) / radii.length;
      return develop(cone, 15 + 2 * r * Math.sin(t), 18 * r * Math.cos(t));
    }),
  );

function expectProved(cone: Cone, wish: StationWish, lines: readonly CutLine[]): void {
  const fast = { speed: 1e6 };
  const run = runOn(cone, stationOf({ ...wish, a: fast, x: fast, z: fast }));
  const block = blockOf(lines, { turn: 40, depth: DEPTH, passes: [0.03, DEPTH] });
  const proof = proveText(run, writeProgram(run, head, [prepared(run, block)]).text, [block]);
  if (Array.isArray(proof)) throw new Error(JSON.stringify(proof));
  expect(proof.problems).toEqual([]);
  expect(proof.ok).toBe(true);
  expect(proof.worstMm).toBeLessThanOrEqual(PATH_TOLERANCE_MM);
}

/** Cleared shapes, in rings and by hatching, are written so that read-back takes them. */
export function checkClearedShapes(numRuns: number): void {
  fc.assert(
    fc.property(cones, stations, shapes, fc.boolean(), (cone, station, radii, hatched) => {
      const lines = clear(
        [ring(cone, radii)],
        { width: END_MM, floor: END_MM },
        hatched ? { by: 'hatch', angle: 30 } : { by: 'offset' },
      );
      fc.pre(lines.length > 0);
      expectProved(cone, station, lines);
    }),
    { numRuns },
  );
}

/** Waves trimmed at a window are written so that read-back takes them. */
export function checkTrimmedWaves(numRuns: number): void {
  fc.assert(
    fc.property(cones, stations, shapes, some(0, 1), (cone, station, radii, phase) => {
      const { surface } = runOn(cone, stationOf());
      const window = {
        shape: 'patch',
        name: { phrase: 'window', values: {} },
        turn: 40,
        polygons: [ring(cone, radii)],
      } as const;
      const waves = [-2, -1, 0, 1, 2].map((row) => ({
        closed: false,
        points: Float64Array.from(
          Array.from({ length: 201 }, (_, i) =>
            develop(cone, 15 + 0.7 * row + 0.3 * Math.sin(0.3 * i + 6 * phase), 0.3 * (i - 100)),
          ).flat(),
        ),
      }));
      const lines = waves.map((w) => w.points);
      const barriers = barriersOf(surface, [window], END_MM / 2, 40, anglesOf(surface, lines));
      expectProved(cone, station, trimLines(waves, barriers, 0));
    }),
    { numRuns },
  );
}
