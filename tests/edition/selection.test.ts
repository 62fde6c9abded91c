import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseNumbers } from '../../src/edition/selection.js';
import { countCalls } from '../count-calls.js';
import { describeProblem } from '../words-of.js';

describe('a selection of numbers', () => {
  test.each([
    ['1-5,9', [1, 2, 3, 4, 5, 9]],
    ['9, 1 - 3', [1, 2, 3, 9]],
    ['7', [7]],
    ['3,1,3,2-3', [1, 2, 3]],
    ['1–3', [1, 2, 3]],
    ['007', [7]],
    ['5-9,1-6,2', [1, 2, 3, 4, 5, 6, 7, 8, 9]],
  ])('%s', (text, numbers) => {
    expect(parseNumbers(text)).toEqual({ numbers, problems: [] });
  });

  test.each([
    '',
    ' ',
    ',',
    '1,',
    '1,,2',
    '1-',
    '-1',
    'a',
    '1-2-3',
    '1.5',
    '1e3',
    '0',
    '0-3',
    '5-1',
    '0x10',
    'IV',
    '１',
  ])('"%s" is refused with a cure', (text) => {
    const { numbers, problems } = parseNumbers(text, 'argument 2');
    expect(numbers).toEqual([]);
    expect(problems).toHaveLength(1);
    expect(problems[0]?.where).toBe('argument 2');
    expect(describeProblem(problems[0]!).hint).not.toBe('');
  });

  test('huge ranges are refused without writing them out', () => {
    for (const text of ['1-999999999', '1-100000', '99999999999', '1-99999,'.repeat(5000)]) {
      const pushed = countCalls(Array.prototype, 'push', () =>
        expect(parseNumbers(text).problems).toHaveLength(1),
      );
      expect(pushed).toBeLessThan(1000);
    }
  });

  test('a thousand ranges over the same numbers cost what one does', () => {
    const text = Array(1000).fill('1-99999').join(',');
    let numbers: readonly number[] = [];
    const pushed = countCalls(Array.prototype, 'push', () => {
      numbers = parseNumbers(text).numbers;
    });
    expect(numbers).toHaveLength(99_999);
    // Written out one by one it would be 10^8.
    expect(pushed).toBeLessThan(99_999 + 2000);
  });

  test('reads back what was written, in whatever order', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 99_999 }), { minLength: 1, maxLength: 50 }), (list) => {
        const expected = [...new Set(list)].sort((a, b) => a - b);
        expect(parseNumbers(list.join(',')).numbers).toEqual(expected);
      }),
    );
  });
});
