import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { PathCommand } from '../../src/geometry/path-command.js';
import { shapeLine } from '../../src/lettering/shaped-line.js';
import { fonts, garamond, plain, squares } from './test-fonts.js';

const set = (text: string, options = {}) => shapeLine(plain, text, 'tabular', 0, options);
const characters = (line: { glyphs: readonly { character: string }[] }) =>
  line.glyphs.map((g) => g.character).join('');
const extent = (path: readonly PathCommand[]) => {
  const ys = path.flatMap((s) => s.slice(1).filter((_, i) => i % 2 === 1) as number[]);
  return Math.max(...ys) - Math.min(...ys);
};

/**
 * Letters of the Latin alphabets of Europe's official and minority languages beside A to Z, by language; from memory,
 * after the exemplar characters of the Unicode CLDR.
 */
const ALPHABETS: Readonly<Record<string, string>> = {
  Albanian: 'çë',
  Azerbaijani: 'çəğıİöşü',
  Basque: 'ñç',
  Breton: 'êñùü',
  Catalan: 'àçèéíïòóúü',
  'Croatian and Bosnian': 'čćđšž',
  Czech: 'áčďéěíňóřšťúůýž',
  Danish: 'åæøé',
  Dutch: 'áäéëíïĳóöúü',
  Estonian: 'äõöšüž',
  Faroese: 'áðíóúýæø',
  Finnish: 'åäöšž',
  French: 'àâæçèéêëîïôœùûüÿ',
  Frisian: 'âêôúûĳ',
  German: 'äöüßẞ',
  Hungarian: 'áéíóöőúüű',
  Icelandic: 'áðéíóúýþæö',
  Irish: 'áéíóú',
  Italian: 'àèéìîòù',
  Latvian: 'āčēģīķļņšūž',
  Lithuanian: 'ąčęėįšųūž',
  Luxembourgish: 'äéë',
  Maltese: 'ċġħż',
  'North Sámi': 'áčđŋšŧž',
  Norwegian: 'åæøàéôòó',
  Polish: 'ąćęłńóśźż',
  Portuguese: 'ãáâàçéêíõóôú',
  Romanian: 'ăâîșț',
  'Scottish Gaelic': 'àèìòù',
  Slovak: 'áäčďéíĺľňóôŕšťúýž',
  Slovenian: 'čšž',
  Sorbian: 'čćěłńóřŕšśžź',
  Spanish: 'áéíñóúü',
  Swedish: 'åäöé',
  Turkish: 'çğıİöşü',
};
const EUROPE = [...new Set(Object.values(ALPHABETS).flatMap((a) => [...a, ...a.toUpperCase()]))];

const LATIN = Array.from({ length: 0x24f + 0x100 }, (_, k) =>
  String.fromCodePoint(k <= 0x24f ? k : 0x1e00 + k - 0x250),
).filter((c) => /\p{Script=Latin}/u.test(c));

describe.each(fonts)('composed and decomposed letters in %s', (_, font) => {
  test('are one line, over the Latin blocks of Unicode', () => {
    const apart = LATIN.filter((c) => c.normalize('NFD') !== c);
    expect(apart.length).toBeGreaterThan(400);
    for (const c of apart) {
      const text = `A${c}z`;
      expect(shapeLine(font, text.normalize('NFD'), 'proportional')).toEqual(
        shapeLine(font, text.normalize('NFC'), 'proportional'),
      );
    }
  });

  test('are one line in any text of Europe', () => {
    const word = fc.string({ unit: fc.constantFrom(...EUROPE, ...'aeo -'), maxLength: 12 });
    const capitals = fc.constantFrom('as-typed', 'small', 'all-small');
    fc.assert(
      fc.property(word, capitals, fc.boolean(), (text, capitals, substitute) => {
        const options = { capitals, substitute } as const;
        expect(shapeLine(font, text.normalize('NFD'), 'tabular', 0.1, options)).toEqual(
          shapeLine(font, text, 'tabular', 0.1, options),
        );
      }),
      { numRuns: 60 },
    );
  });
});

test('names of all Europe are set in the house font without a substitute, bar the schwa', () => {
  expect(shapeLine(plain, EUROPE.join(''), 'tabular').missing).toEqual(['ə', 'Ə']);
});

test('a mark that Unicode cannot compose with its letter belongs to it, and both are missing together', () => {
  const line = set('Tm\u0304a');
  expect(line.missing).toEqual(['m\u0304']);
  expect(characters(line)).toBe('Ta');
  expect(set('m\u0304', { substitute: true })).toMatchObject({
    missing: [],
    substituted: [{ character: 'm\u0304', by: 'm' }],
  });
});

describe('the line', () => {
  test.each(fonts)('of %s: each glyph after the last one, its kern and the spacing', (_, font) => {
    const line = shapeLine(font, 'AVA To Wy', 'tabular', 0.2);
    let x = 0;
    for (const [k, g] of line.glyphs.entries()) {
      if (k > 0) x += font.kern(line.glyphs[k - 1]!.glyph, g.glyph) + 0.2;
      expect(g.x).toBeCloseTo(x, 12);
      x += g.glyph.advance;
    }
    expect(line.width).toBeCloseTo(x, 12);
    expect(font.kern(line.glyphs[0]!.glyph, line.glyphs[1]!.glyph)).toBeLessThan(0);
  });

  test('names what is missing once and sets nothing for it', () => {
    const line = set('A☂B☂Ж');
    expect(line.missing).toEqual(['☂', 'Ж']);
    expect(line.glyphs).toEqual(set('AB').glyphs);
    expect(line.substituted).toBeUndefined();
  });

  test('sets substitutes only when asked, each listed once', () => {
    const font = squares('oOES ');
    expect(shapeLine(font, 'őŒő', 'tabular').missing).toEqual(['ő', 'Œ']);
    const line = shapeLine(font, 'őŒő', 'tabular', 0, { substitute: true });
    expect(characters(line)).toBe('oOEo');
    expect(line.substituted).toEqual([
      { character: 'ő', by: 'o' },
      { character: 'Œ', by: 'OE' },
    ]);
    expect(line.glyphs).toEqual(shapeLine(font, 'oOEo', 'tabular').glyphs);
  });
});

describe('small capitals', () => {
  test('are capitals at three quarters, and capitals stay', () => {
    const line = set('Nine', { capitals: 'small' });
    expect(characters(line)).toBe('NINE');
    const [cap, ...small] = line.glyphs;
    expect(cap!.glyph).toBe(plain.glyph('N', 'tabular'));
    for (const { glyph, character } of small) {
      const full = plain.glyph(character, 'tabular')!;
      expect(glyph.key).toBe(`${full.key}@0.75`);
      expect(glyph.advance).toBeCloseTo(0.75 * full.advance, 12);
      expect(extent(glyph.path)).toBeCloseTo(0.75 * extent(full.path), 12);
    }
  });

  test('are the same line three quarters as large, kerning and all, where all are small', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...EUROPE, ...'AVToWy'), maxLength: 8 }), (text) => {
        for (const font of [plain, garamond]) {
          const small = shapeLine(font, text, 'tabular', 0, { capitals: 'all-small' });
          const full = shapeLine(font, text.toUpperCase(), 'tabular');
          expect(small.width).toBeCloseTo(0.75 * full.width, 10);
          expect(small.glyphs.map((g) => g.x)).toEqual(
            full.glyphs.map((g) => expect.closeTo(0.75 * g.x, 10)),
          );
        }
      }),
      { numRuns: 60 },
    );
  });

  // Unicode Character Database, SpecialCasing.txt: ß is SS, ŉ is an apostrophe and N, in capitals.
  test.each([
    ['weiß', 'WEISS'],
    ['ŉ', '\u02bcN'],
    ['ıi', 'II'],
    ['ÿ', 'Ÿ'],
  ])('of %s are %s', (text, capitals) => {
    const font = squares('WEISŸN\u02bc');
    expect(characters(shapeLine(font, text, 'tabular', 0, { capitals: 'small' }))).toBe(capitals);
  });

  test('leave digits, signs and superior letters as they are', () => {
    const text = '1ˢᵗ & 2ⁿᵈ, No. 9';
    const line = set(text, { capitals: 'all-small' });
    expect(characters(line)).toBe('1ˢᵗ & 2ⁿᵈ, NO. 9');
    expect(line.glyphs.filter((g) => g.glyph.key.includes('@')).map((g) => g.character)).toEqual(['N', 'O']);
  });
});

// The Unicode Standard, section 6.2, "Fraction Slash": digits before and after it are displayed as a fraction.
describe('about a fraction slash', () => {
  test.each([
    ['3\u20444', '³\u2044₄'],
    ['1 1\u20442 in', '1 ¹\u2044₂ in'],
    ['09\u204490', '⁰⁹\u2044₉₀'],
  ])('%s is a fraction', (text, fraction) => {
    expect(characters(set(text))).toBe(fraction);
    expect(set(text).missing).toEqual([]);
  });

  test('digits stay on the line in a font without raised ones, and about other slashes', () => {
    expect(characters(shapeLine(squares('0123456789\u2044'), '3\u20444', 'tabular'))).toBe('3\u20444');
    expect(characters(set('09/90'))).toBe('09/90');
  });
});

test('superior letters of ordinals are kept, not folded into plain ones', () => {
  for (const text of ['1ˢᵗ', '2ⁿᵈ', '3ʳᵈ', '4ᵗʰ', 'Nº', '1ª', 'x²']) {
    expect(characters(set(text))).toBe(text);
    expect(set(text).missing).toEqual([]);
  }
});
