import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cover, distance, type Piece, PieceGrid } from '../../src/station/readback-pieces.js';
import { type Pair, sampled, toSegment } from './plain-frame.js';

const piece = ([x0, y0]: Pair, [x1, y1]: Pair, depth = 1): Piece => ({
  x0,
  y0,
  x1,
  y1,
  shallow: depth,
  deep: depth,
});
const gridOf = (pieces: readonly Piece[], reach: number): PieceGrid => {
  const grid = new PieceGrid(reach);
  for (const one of pieces) grid.add(one);
  return grid;
};
const any = () => true;
const place = fc.tuple(
  fc.double({ min: -3, max: 3, noNaN: true }),
  fc.double({ min: -3, max: 3, noNaN: true }),
) as fc.Arbitrary<Pair>;

describe('pieces in cells', () => {
  test('every piece within reach of a point is found', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(place, place), { minLength: 1, maxLength: 12 }),
        place,
        (ends, [x, y]) => {
          const pieces = ends.map(([a, b]) => piece(a, b));
          const grid = gridOf(pieces, 0.3);
          for (const one of pieces) {
            const far = toSegment([x, y], [one.x0, one.y0], [one.x1, one.y1]);
            expect(distance(one, x, y)).toBeCloseTo(far, 9);
            if (far <= 0.3) expect(grid.near(x, y)).toContain(one);
          }
        },
      ),
      { numRuns: 500, seed: 6 },
    );
  });
});

describe('a stretch covered by pieces', () => {
  const long = gridOf([piece([0, 0], [5, 0])], 0.01);
  test('by one, by two end to end, by a bent line', () => {
    expect(cover(long, 1, 0.002, 4, -0.002, 0.01, any)).toMatchObject({ ok: true, worst: 0.002 });
    const two = gridOf([piece([0, 0], [2, 0]), piece([2, 0], [5, 0])], 0.01);
    expect(cover(two, 0, 0, 5, 0, 0.01, any).ok).toBe(true);
  });
  test('not where it starts, ends or runs too far off', () => {
    expect(cover(long, 1, 0.011, 4, 0, 0.01, any).ok).toBe(false);
    expect(cover(long, 1, 0, 4, 0.011, 0.01, any).ok).toBe(false);
    expect(cover(long, 4, 0, 5.02, 0, 0.01, any).ok).toBe(false);
    const bent = gridOf([piece([0, 0], [1, 0.05]), piece([1, 0.05], [2, 0])], 0.01);
    expect(cover(bent, 0, 0, 2, 0, 0.01, any).ok).toBe(false);
  });
  test('not over a gap, however near its ends', () => {
    const gap = gridOf([piece([0, 0], [2, 0]), piece([2.04, 0], [5, 0])], 0.01);
    const found = cover(gap, 0, 0, 5, 0, 0.01, any);
    if (found.ok) throw new Error('the gap was not seen');
    expect(found.x).toBeGreaterThan(2.01);
    expect(found.x).toBeLessThan(2.03);
  });
  test('not by pieces that will not do, though they are near', () => {
    const found = cover(long, 1, 0, 4, 0, 0.01, (one) => one.deep > 2);
    expect(found).toMatchObject({ ok: false, x: 1 });
    expect('near' in found && found.near).toHaveLength(1);
  });
  test('a verdict agrees with dense sampling', () => {
    fc.assert(
      fc.property(fc.array(place, { minLength: 2, maxLength: 6 }), place, place, (line, a, b) => {
        const tolerance = 0.5;
        const pieces = line.slice(1).map((to, k) => piece(line[k]!, to));
        const far = Math.max(
          ...sampled([a, b], 0.002).map(([x, y]) => Math.min(...pieces.map((one) => distance(one, x, y)))),
        );
        fc.pre(Math.abs(far - tolerance) > 0.005);
        expect(cover(gridOf(pieces, tolerance), ...a, ...b, tolerance, any).ok).toBe(far < tolerance);
      }),
      { numRuns: 300, seed: 7 },
    );
  });
});
