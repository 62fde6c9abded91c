import { describe, expect, test } from 'vitest';
import { excludedNumber, findLabel, labelIndexOf } from '../../src/edition/label-index.js';
import { editionOf } from './nine-lights.js';

const exclude = [{ numbers: [13], why: 'thought unlucky' }];
const index = labelIndexOf(
  editionOf(
    { id: 'main', to: 20, from: 3, pad: 2, exclude },
    { id: 'proofs', to: 9, figures: 'roman', before: 'A.P. ', exclude: [{ numbers: [4], why: 'lost' }] },
  ),
  'tides',
);

const problemOf = (text: string) => {
  const found = findLabel(index, text);
  return found.ok ? found.numbered.number : found.problem;
};

describe('a label that stands for no number of the edition', () => {
  test.each([
    ['13', 13, 'main', 'thought unlucky'],
    ['A.P. IV', 4, 'proofs', 'lost'],
  ])('%s is an excluded number, and says why', (label, number, series, why) => {
    expect(problemOf(label)).toMatchObject({
      code: 'edition.label-excluded',
      where: 'edition tides',
      values: { number, series, label, why },
    });
    expect(excludedNumber(index, label)).toMatchObject({ number, series, excluded: why });
  });

  test.each([
    ['02', 'main', 2, 3, 20],
    ['21', 'main', 21, 3, 20],
    ['A.P. X', 'proofs', 10, 1, 9],
  ])('%s would be one if its series ran so far', (text, series, number, from, to) => {
    expect(problemOf(text)).toMatchObject({
      code: 'edition.label-outside-series',
      values: { text, series, number, from, to },
    });
    expect(excludedNumber(index, text)).toBeUndefined();
  });

  test('one letter from an excluded number and from no other, it names that', () => {
    expect(problemOf('I3')).toMatchObject({
      code: 'edition.label-mistyped-excluded',
      values: { text: 'I3', number: 13, series: 'main', label: '13', why: 'thought unlucky' },
    });
  });

  test('figures that are written otherwise, or are none, are not that number', () => {
    for (const text of ['013', '7', 'A.P. IIII', '1234567', '']) {
      const problem = problemOf(text);
      expect(problem, text).toMatchObject({ code: expect.stringMatching(/label-(mistyped|unknown)/) });
      expect(excludedNumber(index, text)).toBeUndefined();
    }
  });
});

test('a label of the edition is its number', () => {
  expect(['03', '20', 'A.P. IX'].map(problemOf)).toEqual([3, 20, 9]);
});
