import { describe, expect, it } from 'vitest';
import { groove } from '../../src/cutting/groove.js';
import { corners, groovesIn, toCut } from './groove-letters.js';
import { counted, stretches } from './swept.js';

groovesIn('AMZSeg28', '8');

describe('a groove', () => {
  const bar = (length: number, width: number) => Float64Array.of(0, 0, length, 0, length, width, 0, width);
  const deepest = (lines: ReturnType<typeof groove>) => Math.max(...lines.flatMap((l) => [...l.depths!]));

  it.each([
    [0.4, 0.1, 60],
    [0.3, 0, 40],
    [0.25, 0.05, 90],
  ])(
    '%f mm wide is as deep as a cone with a tip of %f mm and %f degrees sinks: w = t + 2 d tan(angle / 2)',
    (width, tip, angle) => {
      const deep = deepest(groove([bar(5, width)], { tip, angle }, 1));
      expect(Math.abs(tip + 2 * deep * Math.tan((angle * Math.PI) / 360) - width)).toBeLessThan(0.001);
    },
  );

  it('is not cut where the stroke is narrower than the tip', () => {
    expect(groove([bar(5, 0.05)], { tip: 0.1, angle: 60 }, 1)).toEqual([]);
  });

  it('of a bar is one way in from a corner, along the middle and out to a corner, and two corners more', () => {
    expect(groove([bar(5, 0.4)], { tip: 0, angle: 60 }, 1)).toHaveLength(3);
  });

  it('comes to the very points of a star', () => {
    const star = Float64Array.from({ length: 28 }, (_, i) => {
      const [k, r] = [Math.floor(i / 2), Math.floor(i / 2) % 2 ? 0.3 : 1.5];
      return r * (i % 2 ? Math.sin((k * Math.PI) / 7) : Math.cos((k * Math.PI) / 7));
    });
    const cut = stretches(groove([star], { tip: 0, angle: 50 }, 1), { tip: 0, angle: 50 });
    const points = corners([star]);
    expect(points).toHaveLength(7);
    for (const [x, y] of points) expect(toCut(cut, x, y)).toBeLessThan(0.002);
  });

  it('takes rings that overlap as one area', () => {
    const cross = [bar(2, 0.3), Float64Array.of(0.8, -1, 1.1, -1, 1.1, 1, 0.8, 1)];
    const cutter = { tip: 0.02, angle: 60 };
    const cut = stretches(groove(cross, cutter, 1), cutter);
    const { letter, cut: taken, beside } = counted(cross, cut, 0.005);
    expect(taken / letter).toBeGreaterThan(0.99);
    expect(beside / letter).toBeLessThan(0.001);
    expect(toCut(cut, 0.95, 0.15)).toBeLessThan(-0.15);
  });

  it('sinks into a round spot', () => {
    const spot = Float64Array.from({ length: 128 }, (_, i) =>
      i % 2 ? 0.2 * Math.sin((Math.PI * (i - 1)) / 64) : 0.2 * Math.cos((Math.PI * i) / 64),
    );
    const cutter = { tip: 0.02, angle: 60 };
    const { letter, cut } = counted([spot], stretches(groove([spot], cutter, 1), cutter), 0.005);
    expect(cut / letter).toBeGreaterThan(0.99);
  });
});
