import fc from 'fast-check';
import polygonClipping from 'polygon-clipping';
import { describe, expect, test } from 'vitest';
import {
  crossingPoint,
  distanceBetweenSegments,
  distanceToSegment,
  distanceToSegments,
  segmentsCross,
  segmentsOf,
  segmentsTouch,
} from '../../src/geometry/segment.js';
import { gridPoint, point, polyline } from './arbitraries.js';
import { exactSide } from './exact.js';

/** The least of the distances to points all along a segment: too great by no more than a step's share. */
const sampled = (x: number, y: number, ax: number, ay: number, bx: number, by: number) =>
  Math.min(
    ...Array.from({ length: 1001 }, (_, k) =>
      Math.hypot(x - ax - (k / 1000) * (bx - ax), y - ay - (k / 1000) * (by - ay)),
    ),
  );

describe('distances', () => {
  test('from a point to a segment are those to the nearest of many points on it', () => {
    fc.assert(
      fc.property(gridPoint, gridPoint, gridPoint, (p, a, b) => {
        const d = distanceToSegment(...p, ...a, ...b);
        const near = sampled(...p, ...a, ...b);
        expect(d).toBeLessThanOrEqual(near + 1e-12);
        expect(d).toBeGreaterThanOrEqual(near - Math.hypot(b[0] - a[0], b[1] - a[1]) / 1000);
      }),
      { numRuns: 300, seed: 5 },
    );
  });

  test('to none are endless, and to several the least', () => {
    expect(distanceToSegments(0, 0, [])).toBe(Number.POSITIVE_INFINITY);
    expect(
      distanceToSegments(0, 0, [
        [3, 0, 3, 1],
        [2, -1, 2, 1],
      ]),
    ).toBe(2);
  });

  test('between segments are 0 where they cross, else the least from an end, whichever is asked first', () => {
    fc.assert(
      fc.property(gridPoint, gridPoint, gridPoint, gridPoint, (a, b, c, d) => {
        const between = distanceBetweenSegments(...a, ...b, ...c, ...d, 1e9);
        expect(distanceBetweenSegments(...c, ...d, ...a, ...b, 1e9)).toBe(between);
        const ends = Math.min(
          distanceToSegment(...a, ...c, ...d),
          distanceToSegment(...b, ...c, ...d),
          distanceToSegment(...c, ...a, ...b),
          distanceToSegment(...d, ...a, ...b),
        );
        const met = segmentsTouch(...a, ...b, ...c, ...d);
        if (met) expect(between).toBeLessThan(1e-12);
        else expect(between).toBeCloseTo(ends, 12);
      }),
      { numRuns: 1000, seed: 6 },
    );
  });

  test('need no more than be not less than `below`', () => {
    fc.assert(
      fc.property(
        gridPoint,
        gridPoint,
        gridPoint,
        gridPoint,
        fc.integer({ min: 0, max: 8 }),
        (a, b, c, d, below) => {
          const whole = distanceBetweenSegments(...a, ...b, ...c, ...d, 1e9);
          const some = distanceBetweenSegments(...a, ...b, ...c, ...d, below);
          if (whole < below) expect(some).toBe(whole);
          else expect(some).toBeGreaterThanOrEqual(below);
        },
      ),
      { numRuns: 1000, seed: 7 },
    );
  });
});

describe('crossings', () => {
  test('touch as whole-number arithmetic says', () => {
    const on = (a: readonly number[], b: readonly number[], p: readonly number[]) =>
      exactSide(a[0]!, a[1]!, b[0]!, b[1]!, p[0]!, p[1]!) === 0 &&
      (p[0]! - a[0]!) * (p[0]! - b[0]!) <= 0 &&
      (p[1]! - a[1]!) * (p[1]! - b[1]!) <= 0;
    fc.assert(
      fc.property(gridPoint, gridPoint, gridPoint, gridPoint, (a, b, c, d) => {
        const proper =
          exactSide(...a, ...b, ...c) * exactSide(...a, ...b, ...d) < 0 &&
          exactSide(...c, ...d, ...a) * exactSide(...c, ...d, ...b) < 0;
        const touching = on(a, b, c) || on(a, b, d) || on(c, d, a) || on(c, d, b);
        expect(segmentsTouch(...a, ...b, ...c, ...d)).toBe(proper || touching);
        if (proper) expect(segmentsCross(...a, ...b, ...c, ...d)).toBe(true);
        if (!proper && !touching) expect(segmentsCross(...a, ...b, ...c, ...d)).toBe(false);
      }),
      { numRuns: 3000, seed: 8 },
    );
  });

  test('a line through a corner of a ring crosses an even number of its sides', () => {
    const ring = polyline([
      [0, 0],
      [4, 0],
      [2, 2],
      [4, 4],
      [0, 4],
    ]);
    const sides = segmentsOf({ points: ring, closed: true });
    const crossed = sides.filter((s) => segmentsCross(-1, 2, 9, 2, ...s));
    expect(crossed.length % 2).toBe(0);
  });

  test('lie on both segments', () => {
    fc.assert(
      fc.property(point, point, point, point, (a, b, c, d) => {
        const at = crossingPoint([...a, ...b], [...c, ...d]);
        expect(at !== undefined).toBe(segmentsCross(...a, ...b, ...c, ...d));
        if (!at) return;
        expect(distanceToSegment(...at, ...a, ...b)).toBeLessThan(1e-9);
        expect(distanceToSegment(...at, ...c, ...d)).toBeLessThan(1e-6);
      }),
      { numRuns: 500, seed: 9 },
    );
  });

  test('are found where polygon-clipping finds triangles to overlap', () => {
    const triangle = fc
      .tuple(point, point, point)
      .filter(([a, b, c]) => Math.abs(exactSide(...a, ...b, ...c)) === 1);
    fc.assert(
      fc.property(triangle, triangle, (s, t) => {
        const ring = (r: typeof s) => segmentsOf({ points: polyline(r), closed: true });
        const cross = ring(s).some((p) => ring(t).some((q) => segmentsCross(...p, ...q)));
        if (!cross) return;
        expect(polygonClipping.intersection([[...s]], [[...t]]).length).toBeGreaterThan(0);
      }),
      { numRuns: 300, seed: 10 },
    );
  });
});
