import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { containsPoint, pointLocator } from '../../src/geometry/inside.js';
import { area, union } from '../../src/geometry/polygons.js';
import { gridCoordinate, gridRing, polyline } from './arbitraries.js';

const SQUARE = polyline([
  [0, 0],
  [4, 0],
  [4, 4],
  [0, 4],
]);
const HOLE = polyline([
  [1, 1],
  [1, 3],
  [3, 3],
  [3, 1],
]);

describe('containsPoint', () => {
  test('knows inside, outside and hole', () => {
    expect(containsPoint([SQUARE, HOLE], 0.5, 2)).toBe(true);
    expect(containsPoint([SQUARE, HOLE], 2, 2)).toBe(false);
    expect(containsPoint([SQUARE, HOLE], 5, 2)).toBe(false);
    expect(containsPoint([], 0, 0)).toBe(false);
  });

  test('takes left and lower edges and corners as inside, right and upper ones as outside', () => {
    const edges = [
      [0, 2, true],
      [2, 0, true],
      [0, 0, true],
      [4, 2, false],
      [2, 4, false],
      [4, 4, false],
      [4, 0, false],
      [0, 4, false],
    ] as const;
    for (const [x, y, inside] of edges) expect(containsPoint([SQUARE], x, y), `${x}, ${y}`).toBe(inside);
  });

  test('puts each point of a plane cut into triangles into one of them', () => {
    const triangles = [
      [0, 0, 4, 0, 1, 3],
      [4, 0, 4, 4, 1, 3],
      [4, 4, 0, 4, 1, 3],
      [0, 4, 0, 0, 1, 3],
    ].map((t) => Float64Array.from(t));
    const inside = fc.double({ min: 0, max: 3.999, noNaN: true });
    // Points of a grid lie on the edges of the triangles.
    const any = fc.oneof(
      inside,
      fc.integer({ min: 0, max: 31 }).map((k) => k / 8),
    );
    fc.assert(
      fc.property(any, any, (x, y) => {
        expect(triangles.filter((t) => containsPoint([t], x, y))).toHaveLength(1);
      }),
      { numRuns: 2000, seed: 2 },
    );
  });

  test('agrees with the sum of angles about the point, for points off the edges', () => {
    // The winding number as the angle turned through, over a whole turn (Hormann and Agathos 2001, section 2).
    const windings = (rings: readonly Float64Array[], x: number, y: number) => {
      let turned = 0;
      for (const ring of rings)
        for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
          const [ax, ay, bx, by] = [ring[j]! - x, ring[j + 1]! - y, ring[i]! - x, ring[i + 1]! - y];
          turned += Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
        }
      return Math.round(turned / (2 * Math.PI));
    };
    fc.assert(
      fc.property(
        fc.array(gridRing, { minLength: 1, maxLength: 3 }),
        gridCoordinate,
        gridCoordinate,
        (r, i, j) => {
          // No segment between points of the grid passes through these.
          const [x, y] = [i + Math.SQRT1_2, j + Math.PI / 7];
          expect(containsPoint(r, x, y)).toBe(windings(r, x, y) !== 0);
        },
      ),
      { numRuns: 1000, seed: 3 },
    );
  });
});

describe('pointLocator', () => {
  test('answers as containsPoint does, on edges and corners too', () => {
    const at = fc.oneof(gridCoordinate, fc.double({ min: -5, max: 5, noNaN: true }));
    fc.assert(
      fc.property(fc.array(gridRing, { maxLength: 12 }), at, at, (rings, x, y) => {
        expect(pointLocator(rings)(x, y)).toBe(containsPoint(rings, x, y));
      }),
      { numRuns: 2000, seed: 4 },
    );
  });

  test('holds the share of points that the area of the union says', () => {
    const rings = [
      SQUARE,
      polyline([
        [2, 2],
        [6, 2],
        [6, 6],
        [2, 6],
      ]),
    ];
    const locate = pointLocator(rings);
    let inside = 0;
    for (let i = 0; i < 80; i++)
      for (let j = 0; j < 80; j++) if (locate((i + 0.5) / 10, (j + 0.5) / 10)) inside++;
    expect(inside / 100).toBeCloseTo(area(union(rings)), 9);
  });
});
