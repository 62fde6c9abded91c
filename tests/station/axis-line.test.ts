import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { toSurfaceLine } from '../../src/station/axis-line.js';
import { writeProgram } from '../../src/station/program.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';
import { FLATTEN_TOLERANCE_MM, PATH_TOLERANCE_MM } from '../../src/units.js';
import {
  barrel,
  blockOf,
  cap,
  figure,
  head,
  lineOf,
  pairs,
  prepared,
  runOn,
  stationOf,
  tube,
} from './lantern-coast.js';
import { type Cone, develop, type Pair, place, sampled, sheetPoint, toPolyline } from './plain-frame.js';
import { plainly, strokes } from './plain-parser.js';

const ring = (line: readonly Pair[]): Pair[] => [...line, line[0]!];

/** The sheet points of a stroke's moves, each walked in n steps straight in X and A, from after the first plunge. */
function walked(
  c: Cone,
  s: Parameters<typeof sheetPoint>[1],
  stroke: ReturnType<typeof strokes>[number],
  turn: number,
  n: number,
): Pair[] {
  const points: Pair[] = [];
  for (const move of stroke) {
    for (let k = 0; k <= n; k++) {
      const t = k / n;
      const x = move.fromX + t * (move.x - move.fromX);
      const a = move.fromA + t * (move.a - move.fromA);
      points.push(sheetPoint(c, s, x, a, turn));
    }
  }
  return points;
}

describe('sheet points recovered from X and A', () => {
  for (const [name, cone] of [
    ['narrowing', cap],
    ['widening', barrel],
    ['straight', tube],
  ] as const) {
    for (const setup of ['level', 'tilted'] as const) {
      for (const sign of [1, -1] as const) {
        for (const turn of [0, 73.25, 359.5]) {
          test(`${name}, ${setup}, signs ${sign}, turned ${turn}`, () => {
            const s = stationOf({ setup, xSign: sign, aSign: sign, xOffset: 12.5, aOffset: -30, zOffset: 3 });
            const run = runOn(cone, s);
            const { text } = writeProgram(run, head, [prepared(run, blockOf(figure, { turn }))]);
            const cut = strokes(plainly(text));
            expect(cut).toHaveLength(2);
            const lines = [ring(pairs[0]!), pairs[1]!];
            cut.forEach((stroke, k) => {
              const path = walked(cone, s, stroke, turn, 20);
              for (const p of path) expect(toPolyline(p, lines[k]!)).toBeLessThan(PATH_TOLERANCE_MM);
              for (const p of sampled(lines[k]!, 0.02)) expect(toPolyline(p, path)).toBeLessThan(0.003);
            });
          });
        }
      }
    }
  }

  test('a mark across the seam runs on through it', () => {
    for (const turn of [0, 0.5, 359.9]) {
      const run = runOn(cap, stationOf());
      const { moves } = plainly(writeProgram(run, head, [prepared(run, blockOf(figure, { turn }))]).text);
      for (const m of moves.filter((one) => !one.rapid)) expect(Math.abs(m.a - m.fromA)).toBeLessThan(60);
      const angles = moves.filter((m) => !m.rapid).map((m) => place(cap, run.station, m.x, m.a).angle);
      expect(Math.min(...angles)).toBeLessThan(turn - 10);
      expect(Math.max(...angles)).toBeGreaterThan(turn + 10);
    }
  });
});

const cones = fc
  .record({
    z0: fc.double({ min: 0, max: 40, noNaN: true }),
    long: fc.double({ min: 20, max: 80, noNaN: true }),
    r: fc.double({ min: 2, max: 20, noNaN: true }),
    lean: fc.oneof(
      fc.constant(0),
      fc.double({ min: 0.05, max: 3, noNaN: true }),
      fc.double({ min: 3, max: 50, noNaN: true }),
    ),
    widens: fc.boolean(),
  })
  .map(({ z0, long, r, lean, widens }): Cone => {
    const far = r + long * Math.tan((lean * Math.PI) / 180);
    return widens ? { z0, z1: z0 + long, r0: r, r1: far } : { z0, z1: z0 + long, r0: far, r1: r };
  });

describe('any polyline on any cone', () => {
  const polyline = fc.array(
    fc.tuple(fc.double({ min: -1, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true })),
    {
      minLength: 2,
      maxLength: 7,
    },
  );
  test('the interpolated path stays within 0.002 mm of the sheet line, and follows all of it', () => {
    fc.assert(
      fc.property(
        cones,
        polyline,
        fc.boolean(),
        fc.constantFrom('level' as const, 'tilted' as const),
        fc.constantFrom(3, 4, 6),
        fc.double({ min: 0, max: 359.99, noNaN: true }),
        (cone, shape, closed, setup, decimals, turn) => {
          // Three figures cannot hold a large or steep cone; the run says so, which another test asks.
          fc.pre(decimals > 3 || Math.max(cone.r0, cone.r1) < 30);
          // Places spread over up to a half turn and the middle of the surface, brought to the sheet.
          const line = shape.map(([u, v]): Pair => {
            const z = cone.z0 + (0.35 + 0.3 * v) * (cone.z1 - cone.z0);
            return develop(cone, z, u * 60);
          });
          const s = stationOf({
            setup,
            decimals,
            xSign: -1,
            aOffset: 17,
            z: { speed: 1e6, min: -900, max: 900 },
            a: { speed: 1e6 },
            x: { speed: 1e6 },
          });
          const run = runOn(cone, s);
          const made = prepared(run, blockOf([lineOf(line, closed)], { turn, passes: [0.06] }));
          const [stroke] = strokes(plainly(writeProgram(run, head, [made]).text));
          const path = walked(cone, s, stroke!, turn, 25);
          const wanted = closed ? ring(line) : line;
          for (const p of path)
            expect(toPolyline(p, wanted)).toBeLessThanOrEqual(
              PATH_TOLERANCE_MM - FLATTEN_TOLERANCE_MM + 1e-9,
            );
          for (const p of sampled(wanted, 0.5))
            expect(toPolyline(p, path)).toBeLessThanOrEqual(PATH_TOLERANCE_MM);
        },
      ),
      { numRuns: 150, seed: 9_090 },
    );
  });

  test('the same line left whole would stray: the measure can fail', () => {
    const cone: Cone = { z0: 0, z1: 40, r0: 20, r1: 8 };
    const line: Pair[] = [develop(cone, 15, -40), develop(cone, 25, 40)];
    const whole = Array.from({ length: 101 }, (_, k) => develop(cone, 15 + k / 10, -40 + 0.8 * k));
    expect(Math.max(...whole.map((p) => toPolyline(p, line)))).toBeGreaterThan(0.5);
  });
});

describe('division', () => {
  const points = Float64Array.of(-5, 5, 5, 25);
  test('a cylinder needs none', () => {
    expect(toSurfaceLine(surfaceBetween('t', 0, 40, 6, 6), points, false, 0.001)!.z).toHaveLength(2);
  });
  test('a cone needs more the more it leans, and four times the tolerance about half as many', () => {
    const count = (r1: number, stray: number) =>
      toSurfaceLine(surfaceBetween('t', 0, 40, 6, r1), points, false, stray)!.z.length - 1;
    expect(count(5, 0.001)).toBeGreaterThan(1);
    expect(count(3, 0.001)).toBeGreaterThan(count(5, 0.001));
    expect(count(3, 0.004) / count(3, 0.001)).toBeCloseTo(0.5, 1);
  });
  test('a line that runs behind the apex is refused, not followed for ever', () => {
    // Half-angle about 63 degrees: the sheet's sector is 322 degrees wide with the apex at y = 11.2, and a straight
    // line above it leaves the sector on one side and enters on the other.
    const wide = surfaceBetween('dish', 0, 4, 10, 2);
    expect(toSurfaceLine(wide, Float64Array.of(-1.5, 13, 1.5, 13), false, 0.001)).toBeUndefined();
  });
});
