import { describe, expect, test } from 'vitest';
import { personReadings, readsAsSamePerson } from '../../src/register/person.js';

const SAME: readonly (readonly [one: string, others: readonly string[]])[] = [
  ['E. Marrow', ['Marrow, E.', 'Marrow E', 'E Marrow', 'MARROW, E', 'E.\u2800Marrow', 'E. Marrow\u2800']],
  [
    'E. Marrow',
    ['E. M\u00e1rrow', 'E. Rnarrow', 'E. Marrovv', '\u1d07. \u1d0da\u0280\u0280\u1d0fw', 'E. Marr0w'],
  ],
  [
    'E. Marrow',
    ['Mr E. Marrow', 'Dr. E. Marrow', 'Frau Prof. Dr. E. Marrow', 'M. E. Marrow', 'Marrow, Sra. E.'],
  ],
  [
    'E. Marrow',
    ['E. Marrow (keeper)', 'E. Marrow [bench 2]', '(keeper) E. Marrow', 'E. Marrow (keeper (second))'],
  ],
  [
    'E. Marrow',
    ['E. Marrow, keeper', 'E. Marrow <e@coast.test>', 'E. Marrow\u2122', 'E|Marrow', 'E. Marrow (keeper'],
  ],
  ['E. Marrow', ['Emma Marrow', 'Marrow, Emma', 'E. J. Marrow', 'Emma Jane Marrow', 'Marrow', 'E.M.']],
  ['Anne-Marie O\u2019Hale', ["O'Hale, Anne Marie", 'A.-M. OHale', 'Annemarie O\u00b4Hale', 'A. M. O`Hale']],
  ['EJ Marrow', ['E.J. Marrow', 'Marrow, E. J.', 'Marrow EJ']],
  ['E. Marrow', ['\u2800', '\u200b', '-', '\u2605']],
  ['Mr Marrow', ['Marrow', 'Mrs Marrow']],
  ['Wilma Ivory', ['VVilma lvory', 'W. Ivory', 'Ivory W']],
];

const OTHERS: readonly (readonly [one: string, other: string])[] = [
  ['E. Marrow', 'A. Moss'],
  ['E. Marrow', 'F. Marrow'],
  ['E. Marrow', 'E. Barrow'],
  ['Emma Marrow', 'Ellen Marrow'],
  ['Emma Marrow', 'Emma Moss'],
  ['E. J. Marrow', 'E. K. Marrow'],
  ['M. Marrow', 'E. Marrow'],
  // The first letter of Martha is an M, though it looks like rn.
  ['R. Moss', 'Martha Moss'],
  ['John Marrow', 'John Marrow Jr.'],
  ['John Marrow II', 'John Marrow III'],
  ['\u9676 \u660e', '\u9676 \u4eae'],
];

describe('a second person', () => {
  test.each(SAME.flatMap(([one, others]) => others.map((other) => [one, other] as const)))(
    '%s is not another person than %s',
    (one, other) => {
      expect(readsAsSamePerson(one, other)).toBe(true);
      expect(readsAsSamePerson(other, one)).toBe(true);
    },
  );

  test.each(OTHERS)('%s is another person than %s', (one, other) => {
    expect(readsAsSamePerson(one, other)).toBe(false);
    expect(readsAsSamePerson(other, one)).toBe(false);
  });
});

test('spellings of one name have a reading in common; a name written in full is one of its own', () => {
  const common = (one: string, other: string) =>
    personReadings(one).some((reading) => personReadings(other).includes(reading));
  expect(common('E. Marrow', 'Marrow, E. (keeper)')).toBe(true);
  expect(common('E. Marrow', 'Mr E. Rnarrow\u2800')).toBe(true);
  expect(common('E. Marrow', 'Emma Marrow')).toBe(false);
});
