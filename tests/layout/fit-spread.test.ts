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
  test('where keep-outs leave no room, the size that is named is one that does', () => {
    // Beside the clip.
    const at = (size: { min: number; max: number }): FitResult => {
      const request = numberRequest({ place: { z: 10.5, angle: 40 }, size });
      const [{ label, line }] = request.lines as [(typeof request.lines)[0]];
      const spread = { lineAt: () => line, closes: false, lines: new Map([[label, line]]) };
      return fitSpread(spread, request).result;
    };
    for (const min of [1.5, 1.634_5, 2.000_1]) {
      const result = at({ min, max: 4 });
      if (result.ok) throw new Error('There is no such room.');
      const nearest = result.nearest.find(({ change }) => change === 'size');
      if (nearest?.change !== 'size') throw new Error('No size was found.');
      expect(nearest.size).toBeLessThan(min);
      expect(at({ min: nearest.size, max: nearest.size })).toMatchObject({ ok: true });
    }
  });
  test('words drawn together at the least size are tried there, whether the way down meets it or not', () => {
    const at = (min: number): FitResult => {
      const request = numberRequest({ place: { z: 14, angle: 90 }, size: { min, max: 4 } });
      const [{ label, line }] = request.lines as [(typeof request.lines)[0]];
      const lineAt = (size: number) => (size > min ? undefined : line);
      return fitSpread({ lineAt, closes: false, lines: new Map([[label, line]]) }, request).result;
    };
    for (const min of [1.2, 1.234_56, 0.7]) expect(at(min)).toMatchObject({ ok: true, size: min });
  });
  test('one size is tried as it is', () => {
    expect(found(1.23456, 1.23456, 100)).toBe(1.23456);
  });
});
