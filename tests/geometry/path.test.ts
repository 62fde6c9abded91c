import fc from 'fast-check';
import { expect, test } from 'vitest';
import { containsPoint } from '../../src/geometry/inside.js';
import { lengthOf, reversePolyline } from '../../src/geometry/path.js';
import { distanceBetweenPaths, indexPath } from '../../src/geometry/path-index.js';
import { distanceBetweenSegments, segmentsOf } from '../../src/geometry/segment.js';
import { edgesOf, splitLine } from '../../src/geometry/split.js';
import { mirror, rotateAndMove } from '../../src/geometry/transform.js';
import { gridPoint, gridRing, point, polyline } from './arbitraries.js';

test('a path is as long as its segments together, and as long reversed', () => {
  fc.assert(
    fc.property(gridRing, fc.boolean(), (points, closed) => {
      const sum = segmentsOf({ points, closed }).reduce(
        (s, [ax, ay, bx, by]) => s + Math.hypot(bx - ax, by - ay),
        0,
      );
      expect(lengthOf({ points, closed })).toBeCloseTo(sum, 9);
      expect(lengthOf({ points: reversePolyline(points), closed })).toBeCloseTo(sum, 9);
      expect(reversePolyline(reversePolyline(points))).toEqual(points);
    }),
    { numRuns: 200, seed: 15 },
  );
});

test('two long paths are as far apart as the nearest of their segments', () => {
  const long = fc.array(point, { minLength: 2, maxLength: 40 }).map(polyline);
  fc.assert(
    fc.property(
      long,
      long,
      fc.boolean(),
      fc.boolean(),
      fc.constantFrom(0, 1, 50, 1e9),
      (p, q, c, d, below) => {
        const [a, b] = [
          { points: p, closed: c },
          { points: q, closed: d },
        ];
        const least = Math.min(
          ...segmentsOf(a).flatMap((s) => segmentsOf(b).map((t) => distanceBetweenSegments(...s, ...t, 1e9))),
        );
        expect(distanceBetweenPaths(indexPath(a), indexPath(b), below)).toBe(Math.min(least, below));
      },
    ),
    { numRuns: 300, seed: 16 },
  );
});

test('a rotation with a move keeps lengths; a mirror image of a mirror image is the line', () => {
  fc.assert(
    fc.property(
      gridRing,
      fc.double({ min: -7, max: 7, noNaN: true }),
      gridPoint,
      (points, angle, [dx, dy]) => {
        const moved = rotateAndMove(points, Math.cos(angle), Math.sin(angle), dx, dy);
        expect(lengthOf({ points: moved, closed: true })).toBeCloseTo(lengthOf({ points, closed: true }), 9);
        for (const [k, v] of mirror(mirror(points)).entries()) expect(v).toBe(points[k]! + 0);
      },
    ),
    { numRuns: 200, seed: 17 },
  );
  expect([...rotateAndMove(polyline([[1, 0]]), 0, 1, 5, 5)]).toEqual([5, 6]);
});

test('a line is split where it enters and leaves areas', () => {
  fc.assert(
    fc.property(gridRing, point, point, (ring, a, b) => {
      const line = { points: polyline([a, b]), closed: false };
      const parts = splitLine(line, [edgesOf([ring])]);
      const sum = parts.reduce(
        (s, p) => s + lengthOf({ points: Float64Array.from(p.points), closed: false }),
        0,
      );
      expect(sum).toBeCloseTo(lengthOf(line), 6);
      for (const { inside, points } of parts) {
        const n = points.length;
        const middle = [(points[0]! + points[n - 2]!) / 2, (points[1]! + points[n - 1]!) / 2] as const;
        if (n === 4) expect(containsPoint([ring], ...middle)).toBe(inside);
      }
    }),
    { numRuns: 500, seed: 18 },
  );
});
