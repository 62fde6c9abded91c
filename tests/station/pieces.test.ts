import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cover, DEEP, PieceGrid, PieceList } from '../../src/station/readback-pieces.js';
import { type Pair, sampled, toSegment } from './plain-frame.js';

/** A piece of one depth from end to end. */
type Laid = readonly [Pair, Pair, depth?: number];
const gridOf = (pieces: readonly Laid[], reach: number, counter?: { steps: number }): PieceGrid => {
  const list = new PieceList();
  for (const [a, b, depth = 1] of pieces) list.add(...a, ...b, depth, depth);
  return new PieceGrid(list, reach, counter);
};
const near = (grid: PieceGrid, x: number, y: number): number[] => {
  const cell = grid.cellAt(x, y);
  return cell < 0 ? [] : [...grid.members.subarray(grid.starts[cell], grid.starts[cell + 1])];
};
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
          const grid = gridOf(ends, 0.3);
          for (const [k, [a, b]] of ends.entries()) {
            const far = toSegment([x, y], a, b);
            expect(grid.pieces.distance(k, x, y)).toBeCloseTo(far, 9);
            if (far <= 0.3) expect(near(grid, x, y)).toContain(k);
          }
        },
      ),
      { numRuns: 500, seed: 6 },
    );
  });
  test.each([0.001, 0.02, 1, 30])('a ring of pieces %d mm long: few are looked at', (length) => {
    const count = 20_000;
    const radius = (length * count) / (2 * Math.PI);
    const at = (k: number): Pair => [
      radius * Math.cos((2 * Math.PI * k) / count),
      radius * Math.sin((2 * Math.PI * k) / count),
    ];
    const counter = { steps: 0 };
    const grid = gridOf(
      Array.from({ length: count }, (_, k) => [at(k), at(k + 1)] as const),
      length / 10,
      counter,
    );
    expect(counter.steps).toBeLessThan(6 * count);
    counter.steps = 0;
    for (let k = 0; k < count; k++) expect(near(grid, ...at(k + 0.5))).toContain(k);
    expect(counter.steps).toBeLessThan(8 * count);
  });
});

describe('a stretch covered by pieces', () => {
  const long = gridOf(
    [
      [
        [0, 0],
        [5, 0],
      ],
    ],
    0.01,
  );
  test('by one, by two end to end, by a bent line', () => {
    expect(cover(long, 1, 0.002, 4, -0.002, 0.01, DEEP, 1)).toMatchObject({ ok: true, worst: 0.002 });
    const two = gridOf(
      [
        [
          [0, 0],
          [2, 0],
        ],
        [
          [2, 0],
          [5, 0],
        ],
      ],
      0.01,
    );
    expect(cover(two, 0, 0, 5, 0, 0.01, DEEP, 1).ok).toBe(true);
  });
  test('not where it starts, ends or runs too far off', () => {
    expect(cover(long, 1, 0.011, 4, 0, 0.01, DEEP, 1).ok).toBe(false);
    expect(cover(long, 1, 0, 4, 0.011, 0.01, DEEP, 1).ok).toBe(false);
    expect(cover(long, 4, 0, 5.02, 0, 0.01, DEEP, 1).ok).toBe(false);
    const bent = gridOf(
      [
        [
          [0, 0],
          [1, 0.05],
        ],
        [
          [1, 0.05],
          [2, 0],
        ],
      ],
      0.01,
    );
    expect(cover(bent, 0, 0, 2, 0, 0.01, DEEP, 1).ok).toBe(false);
  });
  test('not over a gap, however near its ends', () => {
    const gap = gridOf(
      [
        [
          [0, 0],
          [2, 0],
        ],
        [
          [2.04, 0],
          [5, 0],
        ],
      ],
      0.01,
    );
    const found = cover(gap, 0, 0, 5, 0, 0.01, DEEP, 1);
    if (found.ok) throw new Error('the gap was not seen');
    expect(found.x).toBeGreaterThan(2.01);
    expect(found.x).toBeLessThan(2.03);
  });
  test('not by pieces that will not do, though they are near', () => {
    const found = cover(long, 1, 0, 4, 0, 0.01, DEEP, 2);
    expect(found).toMatchObject({ ok: false, x: 1, depth: 1 });
  });
  test('a verdict agrees with dense sampling', () => {
    fc.assert(
      fc.property(fc.array(place, { minLength: 2, maxLength: 6 }), place, place, (line, a, b) => {
        const tolerance = 0.5;
        const pieces = line.slice(1).map((to, k) => [line[k]!, to] as const);
        const far = Math.max(
          ...sampled([a, b], 0.002).map(([x, y]) =>
            Math.min(...pieces.map(([from, to]) => toSegment([x, y], from, to))),
          ),
        );
        fc.pre(Math.abs(far - tolerance) > 0.005);
        expect(cover(gridOf(pieces, tolerance), ...a, ...b, tolerance, DEEP, 1).ok).toBe(far < tolerance);
      }),
      { numRuns: 300, seed: 7 },
    );
  });
});
