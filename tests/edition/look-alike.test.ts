import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  foldName,
  nameDifferences,
  oddLetters,
  readAlike,
  readingsOf,
  readWords,
  toLatin,
} from '../../src/edition/look-alike.js';

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

describe('two names', () => {
  test.each([
    ['an accent, composed or not', 'Niné', 'Nine\u0301', 'Nine'],
    ['a small capital, a hook, a stroke', '\u0274i\u0272e', 'N\u0268ne', 'Nine'],
    ['1, l, I and |', 'Ll1|', 'I1ll', 'l|lI'],
    ['0 and O, 5 and S, 8 and B', '0S8', 'o5b', 'OsB'],
    ['rn and m, vv and w', 'Termvv', 'Terrnw', 'terrnVV'],
    ['signs of no letter', 'Nine\u2605+\u2122', '\u00aeNine', 'Nine'],
    ['a sign that is read as a letter, or not', 'N|ne|Lights', 'Nine Lights', 'N|neLight$'],
    ['letters in circles and flags', '\u24c3\u{1F158}\u{1F17D}\u{1F1EA}', 'NINE', 'nine'],
    ['Greek in capitals', '\u03a6\u03a9\u03a3', '\u03c6\u03c9\u03c2', '\u03c6\u03c9\u03c3'],
    ['nothing that anyone sees', '\u2800', '\u2800\u200b', '\u{1D159}'],
    ['signs alone', '\u2605 \u2605', '\u2605\u2605', '\u2605\u2800\u2605'],
  ])('read alike: %s', (_what, ...names) => {
    for (const one of names)
      for (const other of names) expect([one, other, readAlike(one, other)]).toEqual([one, other, true]);
  });

  test.each([
    ['Nine Lights', 'Ten Lights'],
    ['Nine Lights', 'Nine Lights I'],
    ['Nine Lights I', 'Nine Lights II'],
    ['Nine Lights 1', 'Nine Lights 2'],
    // Vowels of Devanagari, and voiced kana, make another name.
    ['\u0930\u093e\u092e', '\u0930\u0940\u092e'],
    ['\u30ab', '\u30ac'],
    ['\u2605', '\u2606'],
    ['|||', '\u2605'],
  ])('do not read alike: %s and %s', (one, other) => {
    expect(readAlike(one, other)).toBe(false);
  });

  test('come to the same with something that nobody sees, whatever they are', () => {
    const letter = fc.constantFrom(..."aBiIl1|0oO5sS8bBmrnwvVW .,-'@\u00e9\u2122\u0131");
    fc.assert(
      fc.property(fc.string({ unit: letter, maxLength: 12 }), (name) => {
        expect(readWords(`${name}\u200b`)).toEqual(readWords(name));
        expect(readAlike(name, name.toUpperCase())).toBe(true);
      }),
    );
  });

  test('are compared in bounded work, however many signs they have', () => {
    expect(readingsOf('|'.repeat(60)).length).toBeLessThanOrEqual(65);
    expect(readAlike(`${'|'.repeat(5)}N|ne L|ghts`, 'Nine Lights')).toBe(true);
  });
});
