import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Cover,
  cover as coverStretch,
  PieceGrid,
  PieceList,
} from '../../src/station/readback-pieces.js';
import { type Pair, sampled, toSegment } from './plain-frame.js';

/** A piece of one depth from end to end. */
type Laid = readonly [Pair, Pair, depth?: number];
const gridOf = (pieces: readonly Laid[], reach: number, counter?: { steps: number }): PieceGrid => {
  const list = new PieceList();
  for (const [a, b, depth = 1] of pieces) list.add(...a, ...b, depth, depth);
  return new PieceGrid(list, reach, counter);
};
/** A stretch of one depth. */
const cover = (
  grid: PieceGrid,
  ax: number,
  ay: number,
  bx: number,
  by: number,
  tolerance: number,
  depth: number,
): Cover => coverStretch(grid, { ax, ay, bx, by, from: depth, to: depth }, tolerance);
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
    expect(cover(long, 1, 0.002, 4, -0.002, 0.01, 1)).toMatchObject({ ok: true, worst: 0.002 });
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
    expect(cover(two, 0, 0, 5, 0, 0.01, 1).ok).toBe(true);
  });
  test('not where it starts, ends or runs too far off', () => {
    expect(cover(long, 1, 0.011, 4, 0, 0.01, 1).ok).toBe(false);
    expect(cover(long, 1, 0, 4, 0.011, 0.01, 1).ok).toBe(false);
    expect(cover(long, 4, 0, 5.02, 0, 0.01, 1).ok).toBe(false);
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
    expect(cover(bent, 0, 0, 2, 0, 0.01, 1).ok).toBe(false);
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
    const found = cover(gap, 0, 0, 5, 0, 0.01, 1);
    if (found.ok) throw new Error('the gap was not seen');
    expect(found.x).toBeGreaterThan(2.01);
    expect(found.x).toBeLessThan(2.03);
  });
  test('not by pieces that will not do, though they are near', () => {
    const found = cover(long, 1, 0, 4, 0, 0.01, 2);
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
        expect(cover(gridOf(pieces, tolerance), ...a, ...b, tolerance, 1).ok).toBe(far < tolerance);
      }),
      { numRuns: 300, seed: 7 },
    );
  });

  const depth = fc.double({ min: 0, max: 1, noNaN: true });
  /** The greatest depth within `within` mm of a point of pieces whose depth changes evenly. */
  const deepestNear = (
    pieces: readonly (readonly [Pair, Pair, number, number])[],
    at: Pair,
    within: number,
  ) => {
    let deepest = Number.NEGATIVE_INFINITY;
    for (const [a, b, from, to] of pieces)
      for (let i = 0; i <= 200; i++) {
        const t = i / 200;
        if (Math.hypot(a[0] + t * (b[0] - a[0]) - at[0], a[1] + t * (b[1] - a[1]) - at[1]) <= within)
          deepest = Math.max(deepest, from + t * (to - from));
      }
    return deepest;
  };
  test('of changing depth: a verdict agrees with dense sampling', () => {
    let covered = 0;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(place, depth), { minLength: 2, maxLength: 4 }),
        fc.nat(2),
        depth,
        depth,
        (line, which, low, slope) => {
          const tolerance = 0.1;
          const pieces = line.slice(1).map(([to, d], k) => [line[k]![0], to, line[k]![1], d] as const);
          const grid = new PieceList();
          for (const [a, b, from, to] of pieces) grid.add(...a, ...b, from, to);
          // A stretch along one of the pieces, deeper at one end.
          const [a, b, from, to] = pieces[which % pieces.length]!;
          const [asked0, asked1] = [from + 0.3 * (low - 0.5), to + 0.3 * (slope - 0.5)];
          const off = Math.max(
            ...Array.from({ length: 201 }, (_, i) => {
              const t = i / 200;
              const at: Pair = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
              return asked0 + t * (asked1 - asked0) - deepestNear(pieces, at, tolerance);
            }),
          );
          fc.pre(Math.abs(off - tolerance) > 0.02);
          const stretch = { ax: a[0], ay: a[1], bx: b[0], by: b[1], from: asked0, to: asked1 };
          const found = coverStretch(new PieceGrid(grid, tolerance), stretch, tolerance);
          expect(found.ok).toBe(off < tolerance);
          if (found.ok) covered++;
        },
      ),
      { numRuns: 150, seed: 8 },
    );
    expect(covered).toBeGreaterThan(25);
    expect(covered).toBeLessThan(125);
  });
  test('not by a point, nor by a piece of no length, that is not as deep', () => {
    const list = new PieceList();
    list.add(1, 0, 1, 0, 0, 0.5);
    const grid = new PieceGrid(list, 0.01);
    const at = (x: number, depth: number) =>
      coverStretch(grid, { ax: x, ay: 0, bx: x, by: 0, from: depth, to: depth }, 0.01).ok;
    expect([at(1, 0.5), at(1, 0.52), at(1.009, 0.5), at(1.02, 0)]).toEqual([true, false, true, false]);
  });
});
