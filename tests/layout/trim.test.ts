import { describe, expect, test } from 'vitest';
import {
  barriersOf,
  firstBarrierOverlapped,
  firstBarrierTouched,
  trimAreas,
  trimLines,
} from '../../src/layout/trim.js';
import type { Obstacle } from '../../src/surface/keepouts.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';
import { named, trimsAreas, trimsLines } from './trim-cases.js';

const KEPT_AND_GONE = 'what is left keeps its half width away; what is gone was nearer, to 0.001 mm';

describe('trimming lines', () => {
  test(`${KEPT_AND_GONE}; across the seam`, () => trimsLines(12));

  const cylinder = surfaceBetween('s', 0, 20, 5, 5);
  const square: Obstacle = {
    shape: 'patch',
    name: named('window'),
    turn: 0,
    polygons: [Float64Array.of(-1, 9, 1, 9, 1, 11, -1, 11)],
  };
  const circle = (x: number, y: number, r: number) => ({
    closed: true,
    points: Float64Array.from(
      Array.from({ length: 48 }, (_, i) => [
        x + r * Math.cos((Math.PI * i) / 24),
        y + r * Math.sin((Math.PI * i) / 24),
      ]).flat(),
    ),
  });
  const barriers = barriersOf(cylinder, [square], 0.1, 0, [-180, 180]);

  test('a closed line that is cut once is one open line; one that is clear is itself', () => {
    const cut = trimLines([circle(1, 10, 1)], barriers, 0);
    expect(cut).toHaveLength(1);
    expect(cut[0]!.closed).toBe(false);
    const clear = circle(4, 10, 1);
    expect(trimLines([clear], barriers, 0)[0]).toBe(clear);
    expect(trimLines([circle(0, 10, 0.5)], barriers, 0)).toEqual([]);
  });

  test('pieces shorter than the shortest are left out', () => {
    // 0.4 mm is left on the one side, 3.4 mm on the other.
    const points = Float64Array.of(-1.5, 10, 4.5, 10);
    const of = (shortest: number) => trimLines([{ points, closed: false }], barriers, shortest);
    expect(of(0.3)).toHaveLength(2);
    expect(of(0.5)).toHaveLength(1);
    expect(of(0.5)[0]!.points[0]).toBeCloseTo(1.1007, 4);
    expect(of(5)).toHaveLength(0);
  });

  test('a ring holds however far past it a line or an area lies', () => {
    const edge: Obstacle = {
      shape: 'ring',
      name: named('upper edge'),
      from: 19.5,
      to: Number.POSITIVE_INFINITY,
    };
    // The apex of the narrowing cone is at z = 120.
    for (const [r0, r1, heights] of [
      [5, 5, [21, 90, 900]],
      [6, 5, [21, 90, 119]],
      [5, 6, [21, 90, 900]],
    ] as const) {
      const surface = surfaceBetween('s', 0, 20, r0, r1);
      const all = barriersOf(surface, [edge], 0.1, 0, [-9, 9]);
      for (const z of heights) {
        const points = Float64Array.from([-9, 0, 9].flatMap((angle) => [...surface.toSheet(z, angle)]));
        expect(firstBarrierTouched([{ points, closed: false }], all)).toEqual(named('upper edge'));
        expect(trimLines([{ points, closed: false }], all, 0)).toEqual([]);
        const area = Float64Array.of(...points, ...surface.toSheet(z + 0.5, 0));
        expect(firstBarrierOverlapped([area], all)).toEqual(named('upper edge'));
        expect(trimAreas([area], all)).toEqual([]);
      }
    }
  });

  test('a line round a window is clear of it; an area round it is not', () => {
    const around = circle(0, 10, 4);
    expect(firstBarrierTouched([around], barriers)).toBeUndefined();
    expect(firstBarrierOverlapped([around.points], barriers)).toEqual(named('window'));
    expect(firstBarrierOverlapped([circle(6, 10, 4).points], barriers)).toBeUndefined();
  });
});

describe('trimming areas', () => {
  test(KEPT_AND_GONE, () => trimsAreas(25));
});
