import { describe, expect, it } from 'vitest';
import {
  formatCoordinate,
  formatCount,
  formatDuration,
  formatNumber,
} from '../../src/sheets/readable-numbers.js';

describe('coordinates', () => {
  it('have four decimals at most, no exponent and no -0', () => {
    expect([1, 0.5, -0.00001, -0, 1e-9, 123456.78916, -2.5].map((v) => formatCoordinate(v))).toEqual([
      '1',
      '0.5',
      '0',
      '0',
      '0',
      '123456.7892',
      '-2.5',
    ]);
    expect(formatCoordinate(100, 0)).toBe('100');
    expect(() => formatCoordinate(Number.NaN)).toThrow(RangeError);
    expect(formatNumber(-3.2)).toBe('\u22123.2');
  });
});

describe('counts', () => {
  it('take their noun in the singular for one alone', () => {
    expect([0, 1, 2].map((n) => formatCount(n, 'piece'))).toEqual(['0 pieces', '1 piece', '2 pieces']);
    expect([1, 2].map((n) => formatCount(n, 'pass', 'passes'))).toEqual(['1 pass', '2 passes']);
  });
});

describe('durations', () => {
  it('are rounded up to whole seconds, and from an hour on to whole minutes', () => {
    expect([0, 0.01, 1, 1.2, 59.999, 60, 150.5].map(formatDuration)).toEqual([
      '0 s',
      '1 s',
      '1 min 00 s',
      '1 min 12 s',
      '1 h 00 min',
      '1 h 00 min',
      '2 h 31 min',
    ]);
  });
});
