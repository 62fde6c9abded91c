import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { containsPoint } from '../../src/geometry/inside.js';
import { area, outlineLines, union } from '../../src/geometry/polygons.js';
import { sweep } from '../../src/geometry/sweep.js';

const ring = (...points: number[]) => ({ points: Float64Array.from(points), closed: true });
const square = ring(0, 0, 10, 0, 10, 10, 0, 10);
const style = { ends: 'round', corners: 'round', sag: 0.0002, precision: 6 } as const;
/** A disc of diameter 1, and the ground beside the sides of a square of 10 mm. */
const DISC = Math.PI / 4;
const ROUND_SQUARE = 4 * 10 + DISC - 4 * (1 / 4);

describe('closed lines that come to less than a ring when they are rounded', () => {
  test('to one place: a dot', () => {
    expect(area(sweep([ring(1e-7, 3, 2e-7, 3 - 1e-7)], 1))).toBeCloseTo(DISC, 2);
    expect(area(sweep([ring(1e-7, 3, 2e-7, 3, 1e-7, 3 + 1e-7)], 1))).toBeCloseTo(DISC, 2);
    expect(area(sweep([square, ring(50, 3, 50 + 1e-7, 3)], 1))).toBeCloseTo(ROUND_SQUARE + DISC, 2);
  });
  test('to one place, with butt ends: nothing', () => {
    expect(outlineLines([ring(1e-7, 3, 2e-7, 3)], 1, { ...style, ends: 'butt' })).toEqual([]);
  });
  test('to two places: a line there and back, and lines after it stay closed', () => {
    const there = ring(50, 0, 60, 0);
    expect(area(sweep([there], 1))).toBeCloseTo(10 + DISC, 2);
    expect(area(union(outlineLines([there, square], 1, style)))).toBeCloseTo(10 + DISC + ROUND_SQUARE, 2);
  });
});

describe('rings that run back along a level line, at which clipper2-ts 2.0.1 does not end', () => {
  test('one that was met at the edge of a surface', () => {
    const ring = Float64Array.of(0.9, 0, 0.85, 0.12, -1.62, 0, -1.66, 0, -1.7, 0);
    expect(area(union([ring]))).toBeCloseTo((2.52 * 0.12) / 2, 9);
  });

  test('a ring on a small grid: what was within them stays within, and nothing else comes to it', () => {
    const point = fc.tuple(fc.nat(6), fc.nat(4));
    const ring = fc.array(point, { minLength: 3, maxLength: 10 });
    const seed = Number(process.env.RINGS_SEED ?? 20261130);
    const inner = (x: number, y: number) => [x * 0.83 + 0.137, y * 0.71 + 0.219] as const;
    fc.assert(
      fc.property(ring, (points) => {
        const given = Float64Array.from(points.flat());
        const united = union([given]);
        for (let i = 0; i < 40; i++) {
          const [x, y] = inner(i % 8, Math.floor(i / 8));
          const within = windingOf(given, x, y) !== 0;
          expect(containsPoint(united, x, y), `seed ${seed}, at ${x}, ${y}`).toBe(within);
        }
      }),
      { seed, numRuns: 3000 },
    );
  });
});

/** How often a ring runs round a point, anticlockwise: crossings of the ray to the right. */
function windingOf(ring: Float64Array, x: number, y: number): number {
  let turns = 0;
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
    const [x0, y0, x1, y1] = [ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!];
    if (y0 > y === y1 > y) continue;
    if (x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) turns += y1 > y0 ? 1 : -1;
  }
  return turns;
}
