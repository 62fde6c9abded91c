import opentype, { type Glyph as OpentypeGlyph, type Path } from 'opentype.js';
import { describe, expect, it } from 'vitest';
import type { DigitStyle, Font } from '../../src/lettering/font.js';
import { outlineFont } from '../../src/lettering/outline-font.js';
import * as made from '../lettering/made-fonts.js';
import { lineOf } from '../words-of.js';
import { type FontReader, farthest, fontkitReader, harfbuzzReader } from './font-readers.js';

/*
 * Letters as two reference libraries read them. fontkit 2.0.4 is no part of burin, and is the outside reference for
 * everything. HarfBuzz (harfbuzzjs 1.6.4) is the outside reference for outlines, which burin draws with opentype.js; for
 * characters, widths and kerning burin asks it, pair by pair, and here it shapes text as a whole. Both are told the script (latn) and left the default language: told nothing, each guesses a
 * script for text without letters, such as `1/9`, and may then kern by script DFLT.
 */

const EM = 1e-6;
const PLAIN = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.,-/'’"];
const ACCENTED = [...'ÀÅÉÑÖØÆŒßàäåéèñöüçøæœ'];
const DIGITS: Record<DigitStyle, Record<string, readonly string[]>> = {
  // what each font needs to give digits of that kind: nothing where they are so by default
  tabular: { garamond: [], cormorant: ['lnum', 'tnum'], jost: ['tnum'] },
  proportional: { garamond: ['pnum'], cormorant: ['lnum'], jost: [] },
  'old-style': { garamond: ['onum'], cormorant: ['onum'], jost: ['onum'] },
};
const names = ['garamond', 'cormorant', 'jost'] as const;

function opened(bytes: Uint8Array): Font {
  const read = outlineFont('under-test', bytes);
  if (!read.ok) throw new Error(lineOf(read.problem));
  return read.font;
}

const glyphOf = (font: Font, character: string, digits: DigitStyle = 'proportional') => {
  const glyph = font.glyph(character, digits);
  if (!glyph) throw new Error(`no ${character}`);
  return glyph;
};

/** Font units in a letter height, from an advance both know. */
const unitsPerLetter = (font: Font, reader: FontReader): number => {
  const [index] = reader.set('H', []).glyphs;
  return reader.advance(index as number) / glyphOf(font, 'H').advance;
};

describe.each(names)('%s, against fontkit and HarfBuzz', (name) => {
  const woff = made.fontFile(name);
  const font = opened(woff);
  const fk = fontkitReader(woff);
  const hb = harfbuzzReader(made.ttf(made.unfolded(woff)));
  const em = fk.font.unitsPerEm;
  const unit = unitsPerLetter(font, hb);

  it('sizes letters by the height the font states for its capitals', () => {
    // OpenType specification 1.9, OS/2: sCapHeight at byte 88
    const os2 = Buffer.from(made.unfolded(woff).get('OS/2') ?? []);
    expect(unit).toBeCloseTo(os2.readInt16BE(88), 6);
  });

  it.each([fk, hb])('advances as $name does', (reader) => {
    for (const digits of ['tabular', 'proportional'] as const) {
      const features = DIGITS[digits][name] as readonly string[];
      for (const character of [...PLAIN, ...ACCENTED, ' ']) {
        const isFigure = /[0-9]/.test(character);
        const [index] = reader.set(character, isFigure ? features : []).glyphs;
        const ours = (glyphOf(font, character, digits).advance * unit) / em;
        const off = Math.abs(ours - reader.advance(index as number) / em);
        expect(off, `${digits} ${character}`).toBeLessThan(EM);
      }
    }
  });

  it.each([fk, hb])('kerns every pair as $name does', (reader) => {
    const features = DIGITS.proportional[name] as readonly string[];
    const differing: string[] = [];
    let kerned = 0;
    for (const a of [...PLAIN, ...ACCENTED]) {
      for (const b of [...PLAIN, ...ACCENTED]) {
        const { glyphs, advances } = reader.set(a + b, ['kern', ...features]);
        const theirs = (advances[0] as number) - reader.advance(glyphs[0] as number);
        const ours = font.kern(glyphOf(font, a), glyphOf(font, b)) * unit;
        if (ours !== 0) kerned += 1;
        if (glyphs.length !== 2 || Math.abs(ours - theirs) / em > EM)
          differing.push(`${a}${b} ${ours} ${theirs}`);
      }
    }
    expect(differing).toEqual([]);
    expect(kerned).toBeGreaterThan(500);
  });

  it.each([fk, hb])('kerns digits of one width as $name does', (reader) => {
    const features = DIGITS.tabular[name] as readonly string[];
    const asSet = (character: string, tags: readonly string[]) => reader.set(character, tags).glyphs[0];
    // `tnum` of Cormorant changes the full stop too; here only digits change, so its pairs are no comparison
    const same = PLAIN.filter((c) => /[0-9]/.test(c) || asSet(c, features) === asSet(c, []));
    expect(PLAIN.length - same.length).toBe(name === 'cormorant' ? 1 : 0);
    for (const pair of same.flatMap((a) => [...'0123456789'].flatMap((b) => [a + b, b + a]))) {
      const [left, right] = pair as unknown as [string, string];
      const { glyphs, advances } = reader.set(pair, ['kern', ...features]);
      const theirs = (advances[0] as number) - reader.advance(glyphs[0] as number);
      const ours = font.kern(glyphOf(font, left, 'tabular'), glyphOf(font, right, 'tabular')) * unit;
      expect(Math.abs(ours - theirs) / em, pair).toBeLessThan(EM);
    }
  });

  it.each([fk, hb])('draws every character as $name does', (reader) => {
    let drawn = 0;
    for (const code of fk.font.characterSet) {
      const glyph = font.glyph(String.fromCodePoint(code), 'proportional');
      if (!glyph || /[0-9]/.test(String.fromCodePoint(code))) continue;
      const off = farthest(glyph.path, unit, reader.outlines(fk.font.glyphForCodePoint(code).id));
      expect(off / em, `U+${code.toString(16)}`).toBeLessThan(EM);
      drawn += 1;
    }
    expect(drawn).toBeGreaterThan(150);
  });

  it.each([fk, hb])('draws both kinds of digits as $name does', (reader) => {
    for (const digits of ['tabular', 'proportional'] as const) {
      for (const digit of '0123456789') {
        const [index] = reader.set(digit, DIGITS[digits][name] as readonly string[]).glyphs;
        const off = farthest(glyphOf(font, digit, digits).path, unit, reader.outlines(index as number));
        expect(off / em, `${digits} ${digit}`).toBeLessThan(EM);
      }
    }
  });
});

it('draws AC of EB Garamond 27 units closer, as the extension lookups of its GPOS say', () => {
  const font = opened(made.fontFile('garamond'));
  const unit = unitsPerLetter(font, fontkitReader(made.fontFile('garamond')));
  expect(font.kern(glyphOf(font, 'A'), glyphOf(font, 'C')) * unit).toBeCloseTo(-27, 9);
});

describe('pairs the specification settles, against fontkit and HarfBuzz', () => {
  const base = made.unfolded(made.fontFile('jost'));
  base.delete('GPOS');
  base.delete('GSUB');
  const [A, V, T] = ['A', 'V', 'T'].map(
    (c) => fontkitReader(made.ttf(base)).set(c, []).glyphs[0] as number,
  ) as [number, number, number];
  const withTables = (tables: Record<string, Uint8Array>): Uint8Array =>
    made.ttf(new Map([...base, ...Object.entries(tables)]));
  const kernOf = (bytes: Uint8Array): number => {
    const font = opened(bytes);
    return font.kern(glyphOf(font, 'A'), glyphOf(font, 'V')) * unitsPerLetter(font, harfbuzzReader(bytes));
  };
  const readKern = (reader: FontReader): number => {
    const { glyphs, advances } = reader.set('AV', ['kern']);
    return (advances[0] as number) - reader.advance(glyphs[0] as number);
  };
  const { gpos, lookup, onePair, classPair, table, coverage } = made;
  const extension = (of: Uint8Array): Uint8Array => table(1, 2, { far: of });
  const minus = (n: number): Uint8Array => lookup(2, onePair(A, V, -n));

  // OpenType specification 1.9, "GPOS" and "OpenType Layout Common Table Formats"
  it.each([
    [
      'the first subtable with the pair ends its lookup, even at nought',
      0,
      { latn: [0] },
      [lookup(2, onePair(A, V, 0), onePair(A, V, -50))],
    ],
    [
      'a subtable with the left glyph but not the pair does not',
      -50,
      { latn: [0] },
      [lookup(2, onePair(A, T, 0), onePair(A, V, -50))],
    ],
    ['lookups add up', -30, { latn: [0, 1] }, [minus(10), minus(20)]],
    ['a right glyph of no class is of class 0', 15, { latn: [0] }, [lookup(2, classPair(A, T, 15, -40))]],
    [
      'class 0 ends the lookup as any class does',
      0,
      { latn: [0] },
      [lookup(2, classPair(A, T, 0, -40), onePair(A, V, -50))],
    ],
    [
      'extensions are followed',
      -50,
      { latn: [0] },
      [lookup(9, extension(onePair(A, T, 0)), extension(onePair(A, V, -50)))],
    ],
    ['latn comes before DFLT', -20, { DFLT: [0], latn: [1] }, [minus(10), minus(20)]],
    ['DFLT stands in for latn', -10, { DFLT: [0], grek: [1] }, [minus(10), minus(20)]],
    [
      'the advance is found among other values',
      -30,
      { latn: [0] },
      [lookup(2, table(1, coverage(A), 5, 0, 1, table(1, V, 7, -30)))],
    ],
    [
      'values of the right glyph are stepped over',
      -30,
      { latn: [0] },
      [lookup(2, table(1, coverage(A), 4, 4, 1, table(1, V, -30, 9)))],
    ],
  ] as [string, number, Record<string, number[]>, Uint8Array[]][])('%s', (_, value, scripts, lookups) => {
    const bytes = withTables({ GPOS: gpos(scripts, lookups) });
    expect(kernOf(bytes)).toBeCloseTo(value, 9);
    expect(readKern(fontkitReader(bytes))).toBe(value);
    expect(readKern(harfbuzzReader(bytes))).toBe(value);
  });

  /** A `kern` table of subtables: coverage, then left, right, value and so on. */
  const kern = (...subtables: [number, ...number[]][]): Uint8Array =>
    Buffer.concat([
      table(0, subtables.length),
      ...subtables.map(([cover, ...pairs]) =>
        table(0, 14 + 2 * pairs.length, cover, pairs.length / 3, 6, 0, 0, ...pairs),
      ),
    ]);

  // OpenType specification 1.9, "kern". HarfBuzz as built here leaves this table out, so fontkit is asked alone.
  it.each([
    ['pairs of a kern table', -25, kern([1, A, T, -5, A, V, -25]), undefined],
    ['its subtables add up', -28, kern([1, A, V, -25], [1, A, V, -3]), undefined],
    ['a later one may stand in place of the sum', -3, kern([1, A, V, -25], [9, A, V, -3]), undefined],
    ['values across the line are left out', -25, kern([1, A, V, -25], [5, A, V, -3]), undefined],
    [
      'GPOS without kerning for Latin leaves it in force',
      -25,
      kern([1, A, V, -25]),
      gpos({ grek: [0] }, [minus(10)]),
    ],
    ['GPOS with kerning for Latin silences it', -10, kern([1, A, V, -25]), gpos({ latn: [0] }, [minus(10)])],
  ] as [string, number, Uint8Array, Uint8Array | undefined][])('%s', (_, value, old, GPOS) => {
    const bytes = withTables({ kern: old, ...(GPOS && { GPOS }) });
    expect(kernOf(bytes)).toBeCloseTo(value, 9);
    expect(readKern(fontkitReader(bytes))).toBe(value);
  });

  it('least values of a kern table are limits, not kerning', () => {
    // "kern", coverage bit 1: "if the bit is set to 1, the table has minimum values". fontkit adds them (-28).
    expect(kernOf(withTables({ kern: kern([1, A, V, -25], [3, A, V, -3]) }))).toBeCloseTo(-25, 9);
  });
});

describe('a CFF font, against fontkit and HarfBuzz', () => {
  const path = (draw: (p: Path) => void): Path => {
    const made = new opentype.Path();
    draw(made);
    return made;
  };
  const bowl = path((p) => {
    p.moveTo(300, 0);
    p.curveTo(130, 0, 40, 150, 40, 350);
    p.curveTo(40, 550, 130, 700, 300, 700);
    p.lineTo(520, 640);
    p.lineTo(520, 60);
    p.close();
  });
  const bar = path((p) => {
    p.moveTo(80, 0);
    p.lineTo(160, 0);
    p.lineTo(160, 700);
    p.lineTo(80, 700);
    p.close();
  });
  const glyph = (name: string, unicode: number, advanceWidth: number, drawn: Path): OpentypeGlyph =>
    new opentype.Glyph({ name, unicode, advanceWidth, path: drawn });
  const bytes = new Uint8Array(
    new opentype.Font({
      familyName: 'Made',
      styleName: 'Plain',
      unitsPerEm: 1000,
      ascender: 800,
      descender: -200,
      glyphs: [glyph('.notdef', 0, 500, bar), glyph('D', 68, 600, bowl), glyph('H', 72, 240, bar)],
    }).toArrayBuffer(),
  );
  const font = opened(bytes);
  it.each([fontkitReader(bytes), harfbuzzReader(bytes)])(
    'draws cubics and advances as $name does',
    (reader) => {
      for (const character of 'DH') {
        const [index] = reader.set(character, []).glyphs as [number];
        const ours = glyphOf(font, character);
        expect(farthest(ours.path, 700, reader.outlines(index)) / 1000).toBeLessThan(EM);
        expect(Math.abs(ours.advance * 700 - reader.advance(index)) / 1000).toBeLessThan(EM);
      }
      expect(glyphOf(font, 'D').path.filter(([type]) => type === 'C')).toHaveLength(2);
    },
  );
});
