import { describe, expect, test } from 'vitest';
import { differences, inLatin, nameAsRead, oddLetters, shown } from '../../src/edition/look-alike.js';

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
    expect(inLatin(`x${odd}y`)).toBe(`x${latin}y`);
  });

  test('leave others as they are', () => {
    expect(inLatin('Ωжéß漢')).toBe('Ωжéß漢');
  });
});

describe('a name', () => {
  test('is told from one that reads the same', () => {
    const [plain, greek] = ['E. Marrow', 'E. \u039carrow'];
    expect(greek).not.toBe(plain);
    expect(nameAsRead(greek)).toBe(nameAsRead(plain));
    expect(differences(plain, greek)).toEqual(['letters of another script that look the same']);
    expect(differences(plain, 'E.  Marrow\u200f')).toEqual(['an invisible character', 'blanks or dots']);
    expect(differences(plain, 'e marrow')).toEqual(['capital and small letters', 'blanks or dots']);
    expect(nameAsRead('E. Barrow')).not.toBe(nameAsRead(plain));
  });

  test('of mixed letters is odd by itself; one wholly of another script is not', () => {
    expect(oddLetters('E. \u039carrow')).toEqual(['mixes Latin and Greek letters in one word (U+039C)']);
    expect(oddLetters('M\u0430rrow')[0]).toMatch(/Cyrillic/);
    expect(oddLetters('Marrow\u202e')).toEqual(['holds what nobody sees (U+202E)']);
    for (const fine of ['E. Marrow', 'Ελένη Μαρή', 'Жанна', 'É. Marröw', 'M. Ωμέγα', '陶 明']) {
      expect(oddLetters(fine)).toEqual([]);
    }
  });

  test('has its invisible characters shown', () => {
    expect(shown('a\u202eb\u200bc')).toBe('a<U+202E>b<U+200B>c');
  });
});
