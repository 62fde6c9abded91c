import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  boundsMeet,
  boundsOf,
  boundsOfAll,
  boundsOfPaths,
  centreOf,
  diagonalOf,
} from '../../src/geometry/bounds.js';
import { signedArea } from '../../src/geometry/curve-area.js';
import { boundsOfCurves } from '../../src/geometry/curve-bounds.js';
import { flatten } from '../../src/geometry/flatten.js';
import { containsPoint } from '../../src/geometry/inside.js';
import type { PathCommand } from '../../src/geometry/path-command.js';
import { area, grow, inset, outlineLines, union, unionEvenOdd } from '../../src/geometry/polygons.js';
import { sweep } from '../../src/geometry/sweep.js';
import { gridPoint, gridRing, point, polyline } from './arbitraries.js';

test('bounds of lines are the least and the most of their coordinates', () => {
  fc.assert(
    fc.property(fc.array(gridRing, { minLength: 1, maxLength: 5 }), (rings) => {
      const xs = rings.flatMap((r) => [...r].filter((_, i) => i % 2 === 0));
      const ys = rings.flatMap((r) => [...r].filter((_, i) => i % 2 === 1));
      const all = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
      expect(boundsOfAll(rings)).toEqual(all);
      expect(boundsOfPaths(rings.map((points) => ({ points, closed: true })))).toEqual(all);
    }),
    { numRuns: 200, seed: 12 },
  );
});

test('bounds of nothing have no extent and meet nothing', () => {
  expect(diagonalOf(boundsOf([]))).toBe(0);
  expect(boundsMeet(boundsOf([]), [0, 0, 1, 1])).toBe(false);
  expect(boundsMeet([0, 0, 1, 1], [1, 1, 2, 2])).toBe(true);
  expect(diagonalOf([0, 0, 3, 4])).toBe(5);
  expect(centreOf([0, 0, 3, 4])).toEqual([1.5, 2]);
});

const curve = fc
  .tuple(
    point,
    fc.array(fc.tuple(point, point, point), { minLength: 1, maxLength: 4 }),
    fc.tuple(point, point),
  )
  .map(([start, cubics, [c, e]]): PathCommand[] => [
    ['M', ...start],
    ...cubics.map(([p, q, r]): PathCommand => ['C', ...p, ...q, ...r]),
    ['Q', ...c, ...e],
    ['Z'],
  ]);

test('bounds and areas of curves are those of their flat lines', () => {
  fc.assert(
    fc.property(curve, (path) => {
      const flat = flatten(path, 1, 0.01).map((p) => p.points);
      const [curved, lines] = [boundsOfCurves(path), boundsOfAll(flat)];
      for (let k = 0; k < 4; k++) expect(Math.abs(curved[k]! - lines[k]!)).toBeLessThan(0.02);
      // A chord 0.01 mm off at most, along at most some thousands of mm.
      expect(Math.abs(signedArea(path) - area(flat))).toBeLessThan(400);
    }),
    { numRuns: 100, seed: 13 },
  );
});

test('the area of a circle of four cubics is near pi r2', () => {
  const k = 0.5522847498;
  const circle: PathCommand[] = [
    ['M', 1, 0],
    ['C', 1, k, k, 1, 0, 1],
    ['C', -k, 1, -1, k, -1, 0],
    ['C', -1, -k, -k, -1, 0, -1],
    ['C', k, -1, 1, -k, 1, 0],
    ['Z'],
  ];
  expect(signedArea(circle)).toBeCloseTo(Math.PI, 2);
  for (const v of boundsOfCurves(circle)) expect(Math.abs(v)).toBeCloseTo(1, 12);
});

test('grown, drawn in and swept polygons have the areas of their formulas', () => {
  // Steiner's formula: A + P d + pi d2 for a convex figure.
  const square = [
    polyline([
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ]),
  ];
  expect(area(grow(square, 1))).toBeCloseTo(100 + 40 + Math.PI, 1);
  expect(area(grow(square, 0))).toBeCloseTo(100, 9);
  expect(area(inset(square, 1))).toBeCloseTo(64, 9);
  const line = {
    points: polyline([
      [0, 0],
      [10, 0],
    ]),
    closed: false,
  };
  expect(area(sweep([line], 2))).toBeCloseTo(20 + Math.PI, 2);
  const style = { ends: 'butt', corners: 'bevel', sag: 0.001, precision: 6 } as const;
  expect(area(outlineLines([line], 2, style))).toBeCloseTo(20, 9);
  expect(area(outlineLines([line], 2, { ...style, ends: 'square' }))).toBeCloseTo(24, 9);
  const ring = { points: square[0]!, closed: true };
  expect(area(union(outlineLines([ring], 2, { ...style, corners: 'round' })))).toBeCloseTo(
    144 - 4 + Math.PI - 64,
    2,
  );
});

test('the even-odd rule leaves out what the non-zero rule fills twice', () => {
  const two = [
    polyline([
      [0, 0],
      [4, 0],
      [4, 4],
      [0, 4],
    ]),
    polyline([
      [1, 1],
      [3, 1],
      [3, 3],
      [1, 3],
    ]),
  ];
  expect(area(union(two))).toBeCloseTo(16, 9);
  expect(area(unionEvenOdd(two))).toBeCloseTo(12, 9);
});

test('the union holds what lies within any ring by the non-zero rule', () => {
  fc.assert(
    fc.property(fc.array(gridRing, { minLength: 1, maxLength: 4 }), gridPoint, (rings, [i, j]) => {
      const [x, y] = [i + Math.SQRT1_2, j + Math.PI / 7];
      expect(containsPoint(union(rings), x, y)).toBe(containsPoint(rings, x, y));
    }),
    { numRuns: 500, seed: 14 },
  );
});
