import { expect, test } from 'vitest';
import { labelIndexOf } from '../../src/edition/label-index.js';
import { selectPieces } from '../../src/edition/piece-selection.js';
import { Refusal } from '../../src/problem.js';
import { lineOf } from '../words-of.js';
import { editionOf } from './nine-lights.js';

const exclude = [
  { numbers: [1, 13], why: 'kept by the bench' },
  { containing: '4', why: 'an unlucky figure' },
];
const index = labelIndexOf(editionOf({ id: 'main', from: 1, to: 60, exclude }), 'tides');

const linesFor = (numbers: string | undefined, of = index): string[] => {
  try {
    return selectPieces(of, { series: 'main', numbers }).map(({ label }) => label);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return error.problems.map(lineOf);
  }
};

test.each([
  ['2-3', ['2', '3']],
  [
    '1',
    [
      '--numbers: Number 1 of series main is excluded: kept by the bench. No piece has it; ask for planned numbers.',
    ],
  ],
  [
    '1,2,13-14,64',
    [
      '--numbers: Numbers 1 and 13 of series main are excluded: kept by the bench. No pieces have them; ask for planned numbers.',
      '--numbers: Number 14 of series main is excluded: an unlucky figure. No piece has it; ask for planned numbers.',
      '--numbers: 64 is not in series main. Ask only for numbers of the series.',
    ],
  ],
])('numbers %s of a series', (numbers, lines) => {
  expect(linesFor(numbers)).toEqual(lines);
});

test('all of a series of which every number is excluded', () => {
  const one = [{ numbers: [1, 2], why: 'kept by the bench' }];
  const none = labelIndexOf(editionOf({ id: 'main', to: 2, exclude: one }), 'tides');
  expect(linesFor(undefined, none)).toEqual([
    '--numbers: Numbers 1 and 2 of series main are excluded: kept by the bench. No pieces have them; ask for planned numbers.',
  ]);
});
