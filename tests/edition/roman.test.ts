import { describe, expect, test } from 'vitest';
import { fromRoman, ROMAN_MAX, toRoman } from '../../src/edition/roman.js';

// The usual handbook table of Roman figures in subtractive form (from memory).
const TABLE: readonly [number, string][] = [
  [1, 'I'],
  [2, 'II'],
  [3, 'III'],
  [4, 'IV'],
  [5, 'V'],
  [6, 'VI'],
  [8, 'VIII'],
  [9, 'IX'],
  [10, 'X'],
  [14, 'XIV'],
  [19, 'XIX'],
  [40, 'XL'],
  [49, 'XLIX'],
  [50, 'L'],
  [90, 'XC'],
  [99, 'XCIX'],
  [100, 'C'],
  [400, 'CD'],
  [500, 'D'],
  [888, 'DCCCLXXXVIII'],
  [900, 'CM'],
  [1000, 'M'],
  [1994, 'MCMXCIV'],
  [2024, 'MMXXIV'],
  [3999, 'MMMCMXCIX'],
];

describe('Roman figures', () => {
  test.each(TABLE)('%i is %s', (n, text) => {
    expect(toRoman(n)).toBe(text);
    expect(fromRoman(text)).toBe(n);
  });

  test('every number comes back, and no two are written alike', () => {
    const written = new Set<string>();
    for (let n = 1; n <= ROMAN_MAX; n++) {
      const text = toRoman(n);
      written.add(text);
      expect(fromRoman(text)).toBe(n);
      // The rule of writing, as a pattern: no figure four times, subtraction only by the next lower power of ten.
      expect(text).toMatch(/^M{0,3}(CM|CD|D?C{0,3})(XC|XL|L?X{0,3})(IX|IV|V?I{0,3})$/);
    }
    expect(written.size).toBe(3999);
  });

  test.each([
    '',
    'IIII',
    'VV',
    'IC',
    'IM',
    'XM',
    'VX',
    'IXI',
    'IVI',
    'XCX',
    'CMC',
    'MMMM',
    'iv',
    ' IV',
    'IV ',
    '4',
    'Ⅳ',
  ])('"%s" is not a Roman number', (text) => {
    expect(fromRoman(text)).toBeUndefined();
  });

  test.each([0, -1, 4000, 1.5, Number.NaN, Number.POSITIVE_INFINITY])('%d has no Roman figures', (n) => {
    expect(() => toRoman(n)).toThrow(RangeError);
  });
});
