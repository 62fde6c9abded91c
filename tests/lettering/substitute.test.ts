import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { charactersOf } from '../../src/lettering/characters.js';
import { nearestSubstitute } from '../../src/lettering/substitute.js';
import { fonts, squares } from './test-fonts.js';

const ASCII = squares(String.fromCharCode(...Array.from({ length: 95 }, (_, k) => 0x20 + k)));

/*
 * Plain letters for letters that have no decomposition: Unicode CLDR, transform Latin-ASCII, and, in capitals, the
 * table of transliterations of ICAO Doc 9303, part 3, section 6 A; both from memory. Doc 9303 has OE for Ø and Q for
 * the kra, we have the letters nearest to the eye.
 */
test.each([
  ['Æ', 'AE'],
  ['æ', 'ae'],
  ['Œ', 'OE'],
  ['œ', 'oe'],
  ['ß', 'ss'],
  ['Đ', 'D'],
  ['đ', 'd'],
  ['Ð', 'D'],
  ['ð', 'd'],
  ['Ħ', 'H'],
  ['ħ', 'h'],
  ['ı', 'i'],
  ['Ł', 'L'],
  ['ł', 'l'],
  ['ŋ', 'n'],
  ['Ø', 'O'],
  ['ø', 'o'],
  ['Þ', 'TH'],
  ['þ', 'th'],
  ['ŧ', 't'],
  ['ĸ', 'q'],
  ['ŉ', "'n"],
  ['ĳ', 'ij'],
  ['ſ', 's'],
  // Unicode Character Database, UnicodeData.txt: compatibility decompositions.
  ['ﬁ', 'fi'],
  ['ﬄ', 'ffl'],
  ['Ǆ', 'DZ'],
  ['Ⅷ', 'VIII'],
  ['№', 'No'],
  ['…', '...'],
  ['\u00a0', ' '],
  ['\u2009', ' '],
  ['ˢ', 's'],
  // Signs of the type case by those of the typewriter: common practice, no source.
  ['“', '"'],
  ['„', '"'],
  ['»', '"'],
  ['’', "'"],
  ['´', "'"],
  ['–', '-'],
  ['—', '-'],
  ['\u2011', '-'],
  ['•', '.'],
  ['×', 'x'],
])('%s comes nearest to %s', (character, by) => {
  expect(nearestSubstitute(ASCII, character)).toBe(by);
});

describe('a letter with marks', () => {
  test.each([
    ['ế', 'aeéê', 'ê'],
    ['ế', 'aeé', 'é'],
    ['ế', 'ae', 'e'],
    ['ő', 'oöó', 'o'],
    ['ǿ', 'oø', 'ø'],
    ['ǿ', 'o', 'o'],
    ['ǽ', 'æ', 'æ'],
    ['ǽ', 'ae', 'ae'],
    ['ṩ', 'sṡ', 'ṡ'],
    ['m\u0304', 'm', 'm'],
  ])('%s, in a font of %s, keeps as many as it can: %s', (character, has, by) => {
    expect(nearestSubstitute(squares(has), character)).toBe(by);
  });

  test('over the Latin blocks comes down to its letter, as Unicode decomposes it', () => {
    const letters = Array.from({ length: 0x1eff - 0xc0 }, (_, k) => String.fromCodePoint(0xc0 + k))
      .filter((c) => /\p{Script=Latin}/u.test(c))
      .filter((c) => /^[A-Za-z]\p{M}+$/u.test(c.normalize('NFD')));
    expect(letters.length).toBeGreaterThan(450);
    for (const c of letters) expect(nearestSubstitute(ASCII, c), c).toBe(c.normalize('NFD')[0]);
  });
});

test.each([
  ['Cyrillic letters', 'АВЕКМНОРСТХасеорхй'],
  ['Greek letters', 'ΑΒΕΖΗΙΚΜΝΟΡΤΥΧάο'],
  ['digits raised, lowered, in a fraction or a ring', '²₂½①１'],
  ['marks alone, and their signs', '\u0301¨¸˝'],
  ['syllables that come apart into letters', '가'],
  ['signs with a meaning of their own', '€¿✦☂§'],
])('nothing is near to %s', (_, characters) => {
  const font = squares(`${'0123456789 /?!'}${'ABEKMHOPCTXaceopxyZIN'}\u1100\u2044'`);
  for (const c of characters) expect(nearestSubstitute(font, c), c).toBeUndefined();
});

test.each(fonts)('%s has every substitute, and none is blank or a digit', (_, font) => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 6 }), (text) => {
      for (const c of charactersOf(text)) {
        const by = nearestSubstitute(font, c);
        if (by === undefined) continue;
        for (const one of charactersOf(by)) expect(font.glyph(one, 'tabular'), `${c}: ${by}`).toBeDefined();
        if (c.trim() !== '') expect(by.trim()).not.toBe('');
        if (!/[0-9]/.test(c)) expect(by).not.toMatch(/[0-9]/);
      }
    }),
    { numRuns: 500 },
  );
});
