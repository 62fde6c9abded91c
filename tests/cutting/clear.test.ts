import { describe, expect, test } from 'vitest';
import { clear, floorWidth } from '../../src/cutting/clear.js';
import { clearShapes, judged, NECKED, ring, WAYS } from './cleared-shapes.js';

// Each shape in one of the four ways, by turns; all of them in `clear.slow.test.ts`.
clearShapes((shape, way) => (shape + way) % 4 === 0);

describe('clearing', () => {
  test('the grid sees a ring left out, and a cut over the edge', () => {
    const lines = clear(NECKED, { width: 0.3, floor: 0.25 });
    expect(judged(NECKED, lines.slice(1), 0.3, 0.25).floor).toBeLessThan(0.999);
    expect(judged(NECKED, clear(NECKED, { width: 0.28, floor: 0.25 }), 0.3, 0.25).over).toBeGreaterThan(
      0.005,
    );
  });

  test('the finishing line comes last, half a width inside the edge, with the edge on its right', () => {
    const square = [ring(0, 0, 2, 0, 2, 2, 0, 2), ring(0.8, 0.8, 0.8, 1.2, 1.2, 1.2, 1.2, 0.8)];
    for (const [, how] of WAYS) {
      const finish = clear(square, { width: 0.2, floor: 0.2 }, how).slice(-2);
      const areas = finish.map(({ points: p }) => {
        let twice = 0;
        for (let i = 0, j = p.length - 2; i < p.length; j = i, i += 2)
          twice += p[j]! * p[i + 1]! - p[i]! * p[j + 1]!;
        return twice / 2;
      });
      // round the outside anticlockwise, round the island clockwise: 1.8 squared; 0.4 squared, four sides, a disc
      expect(areas.sort((a, b) => a - b)[1]).toBeCloseTo(1.8 ** 2, 3);
      expect(areas[0]).toBeCloseTo(-(0.4 ** 2 + 4 * 0.4 * 0.1 + Math.PI * 0.1 ** 2), 3);
      expect(finish.every((line) => line.closed)).toBe(true);
    }
  });

  test('hatching a plain shape is one line to and fro, and the finish', () => {
    const lines = clear(
      [ring(0, 0, 3, 0, 3, 2, 0, 2)],
      { width: 0.3, floor: 0.2 },
      { by: 'hatch', angle: 20 },
    );
    expect(lines.map((l) => l.closed)).toEqual([false, true]);
  });

  test('what is narrower than the cut is not cut at all', () => {
    for (const [, how] of WAYS)
      expect(clear([ring(0, 0, 3, 0, 3, 0.29, 0, 0.29)], { width: 0.3, floor: 0.2 }, how)).toEqual([]);
  });

  test('a point without a flat still ends, lines a tenth of the cut apart', () => {
    expect(clear([ring(0, 0, 0.99, 0, 0.99, 0.99, 0, 0.99)], { width: 0.2, floor: 0 }).length).toBe(20);
  });
});

describe('the flat a cutter leaves', () => {
  const common = { kind: 'cutter', version: 1, name: 'x', feed: 1, plunge: 1, depth: 1, speed: 1 } as const;
  test('cone, flat', () => {
    expect(floorWidth({ ...common, shape: 'cone', tip: 0.1, angle: 60 })).toBe(0.1);
    expect(floorWidth({ ...common, shape: 'flat', diameter: 0.8 })).toBe(0.8);
  });

  test('a ball of 1 mm leaves ridges of 0.005 mm at steps of 0.141 mm', () => {
    // h = R - sqrt(R^2 - (s / 2)^2), the ridge between two passes of a ball (plane geometry)
    const s = floorWidth({ ...common, shape: 'ball', diameter: 1 });
    expect(0.5 - Math.sqrt(0.25 - (s / 2) ** 2)).toBeCloseTo(0.005, 9);
    expect(s).toBeCloseTo(0.1411, 4);
  });
});
