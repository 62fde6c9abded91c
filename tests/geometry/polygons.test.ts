import { describe, expect, test } from 'vitest';
import { area, outlineLines, sweep, union } from '../../src/geometry/polygons.js';

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
