import { describe, expect, test } from 'vitest';
import { foldName, nameDifferences, oddLetters, toLatin } from '../../src/edition/look-alike.js';

// Pairs from the tables of Unicode Technical Standard 39 ("confusables"); from memory.
const PAIRS = [
  ['\u039c', 'M'],
  ['\u0391', 'A'],
  ['\u03bf', 'o'],
  ['\u03bd', 'v'],
  ['\u0430', 'a'],
  ['\u0435', 'e'],
  ['\u0440', 'p'],
  ['\u0441', 'c'],
  ['\u0445', 'x'],
  ['\u0456', 'i'],
  ['\u0412', 'B'],
  ['\u041d', 'H'],
  ['\u0420', 'P'],
  ['\u04c0', 'I'],
  ['\u0555', 'O'],
] as const;

describe('look-alike letters', () => {
  test.each(PAIRS)('%s is taken for %s', (odd, latin) => {
    expect(toLatin(`x${odd}y`)).toBe(`x${latin}y`);
  });

  test('leave others as they are', () => {
    expect(toLatin('Ωжéß漢')).toBe('Ωжéß漢');
  });
});

describe('a name', () => {
  test('is told from one that reads the same', () => {
    const [plain, greek] = ['E. Marrow', 'E. \u039carrow'];
    expect(greek).not.toBe(plain);
    expect(foldName(greek)).toBe(foldName(plain));
    expect(nameDifferences(plain, greek)).toEqual(['script']);
    expect(nameDifferences(plain, 'E.  Marrow\u200f')).toEqual(['invisible', 'blanks-or-marks']);
    expect(nameDifferences(plain, 'e marrow')).toEqual(['case', 'blanks-or-marks']);
    expect(foldName('E. Barrow')).not.toBe(foldName(plain));
  });

  test('of mixed letters is odd by itself; one wholly of another script is not', () => {
    expect(oddLetters('E. \u039carrow')).toEqual([
      { kind: 'mixed-scripts', script: 'Greek', character: 'U+039C' },
    ]);
    expect(oddLetters('M\u0430rrow')[0]).toMatchObject({ script: 'Cyrillic' });
    expect(oddLetters('Marrow\u202e')).toEqual([{ kind: 'invisible', characters: ['U+202E'] }]);
    for (const fine of ['E. Marrow', 'Ελένη Μαρή', 'Жанна', 'É. Marröw', 'M. Ωμέγα', '陶 明']) {
      expect(oddLetters(fine)).toEqual([]);
    }
  });
});
