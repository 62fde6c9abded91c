import { describe, expect, test } from 'vitest';
import type { FitResult } from '../../src/layout/fit.js';
import { fitSpread } from '../../src/layout/fit-spread.js';
import { numberRequest } from './requests.js';

describe('the smallest size of words that are spread', () => {
  /** Words that may be so many mm long, at 90 degrees on the cap, between a least and a greatest size. */
  const resultOf = (min: number, max: number, longest: number): FitResult => {
    const request = numberRequest({ place: { z: 14, angle: 90 }, size: { min, max } });
    const [{ label, line }] = request.lines as [(typeof request.lines)[0]];
    const lineAt = (size: number) => (size * line.width > longest ? undefined : line);
    return fitSpread({ lineAt, closes: false, lines: new Map([[label, line]]) }, request).result;
  };
  const found = (min: number, max: number, longest: number): number | undefined => {
    const result = resultOf(min, max, longest);
    return result.ok ? result.size : undefined;
  };

  test('does not change the size found', () => {
    for (const longest of [2, 4.7, 6.13]) {
      const widest = found(0.1, 4, longest)!;
      expect(widest).toBeGreaterThan(0.1);
      for (const min of [widest, widest - 0.000_04, widest * 0.9981, widest / 3])
        expect(found(min, 4, longest), `min ${min}`).toBe(widest);
      for (const more of [1.000_01, 1.001, 1.004])
        expect(found(widest * more, 4, longest), `more ${more}`).toBeUndefined();
    }
  });
  test('words too long at every size do not pass as they are, and hear what size would do', () => {
    const result = resultOf(1, 1, 2);
    if (result.ok) throw new Error('They are too long.');
    const { limit } = result.smallest;
    expect(limit.obstacle.phrase).toBe('layout.own-length');
    const [nearest] = result.nearest;
    if (nearest?.change !== 'size') throw new Error('No size was found.');
    expect(found(nearest.size, nearest.size, 2)).toBe(nearest.size);
    expect(limit.clearance).toBeLessThan(0);
    expect(resultOf(100, 100, 2)).toMatchObject({ ok: false });
  });
  test('one size is tried as it is', () => {
    expect(found(1.23456, 1.23456, 100)).toBe(1.23456);
  });
});
