import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { styles } from '../../fonts/source/styles.js';
import { writeFont } from '../../fonts/source/write-font.js';
import { writeSpecimen } from '../../fonts/source/write-specimen.js';
import { flatten } from '../../src/geometry/flatten.js';
import type { Glyph } from '../../src/lettering/font.js';
import { type LineGlyph, shapeLine } from '../../src/lettering/shaped-line.js';
import { strokeFont } from '../../src/lettering/stroke-font.js';
import { lineOf } from '../words-of.js';

const range = (from: number, to: number): string[] =>
  Array.from({ length: to - from + 1 }, (_, k) => String.fromCodePoint(from + k));

/** Every printable character of ISO/IEC 8859-1, and the whole block Latin Extended-A of Unicode (U+0100 to U+017F). */
const LATIN_1 = [...range(0x20, 0x7e), ...range(0xa0, 0xff)];
const EXTENDED_A = range(0x100, 0x17f);
const DIGITS = [...'0123456789'];
const COVERAGE = [
  ...LATIN_1,
  ...EXTENDED_A,
  ...'ȘșȚțẞ‘’‚“”„–—…•‹›™€№⁄⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉½¼¾⅓⅔⅛ªºᵃᵇᶜᵈᵉʰⁿᵒʳˢᵗ',
];

const committed = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

/** Points of a line of glyphs, x and y in turn, in letter heights. */
const inkOf = (glyphs: readonly LineGlyph[]): number[] =>
  glyphs.flatMap(({ glyph, x }) =>
    flatten(glyph.path, 1, 0.0005).flatMap((p) => [...p.points].map((v, i) => (i % 2 === 0 ? v + x : v))),
  );

const NUMERALS = [
  ['M', 1000],
  ['CM', 900],
  ['D', 500],
  ['CD', 400],
  ['C', 100],
  ['XC', 90],
  ['L', 50],
  ['XL', 40],
  ['X', 10],
  ['IX', 9],
  ['V', 5],
  ['IV', 4],
  ['I', 1],
] as const;

function romanNumeral(n: number): string {
  let [left, out] = [n, ''];
  for (const [numeral, value] of NUMERALS) {
    out += numeral.repeat(Math.floor(left / value));
    left %= value;
  }
  return out;
}

const BANDS = 20;
const HOLLOW = 0.25;

/** Room at one side of a glyph, band by band of its height, no deeper than HOLLOW behind its outermost point. */
function side(glyph: Glyph, right: boolean): number[] {
  const edges = Array<number>(BANDS).fill(Infinity);
  for (const { points } of flatten(glyph.path, 1, 0.001))
    for (let i = 2; i < points.length; i += 2)
      for (let k = 0; k <= 40; k++) {
        const t = k / 40;
        const x = points[i - 2]! + t * (points[i]! - points[i - 2]!);
        const y = points[i - 1]! + t * (points[i + 1]! - points[i - 1]!);
        const band = Math.min(BANDS - 1, Math.max(0, Math.floor(y * BANDS)));
        edges[band] = Math.min(edges[band]!, right ? glyph.advance - x : x);
      }
  const outermost = Math.min(...edges);
  return edges.map((edge) => Math.min(edge, outermost + HOLLOW));
}

/** Mean space between two neighbours set at their bare advances, in letter heights. */
const space = (left: Glyph, right: Glyph): number => {
  const [a, b] = [side(left, true), side(right, false)];
  return a.reduce((sum, v, i) => sum + v + b[i]!, 0) / BANDS;
};

/** Standard deviation. */
const spread = (values: readonly number[]): number => {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length);
};

describe.each(styles.map((s) => [s.id, s] as const))('%s', (id, style) => {
  const text = committed(`fonts/${id}.svg`);
  const read = strokeFont(id, text);
  if (!read.ok) throw new Error(lineOf(read.problem));
  const { font } = read;
  const inked = (c: string): boolean => !/^\s$/u.test(c);

  it('is in fonts/ and docs/ as its source writes it', () => {
    expect(text).toBe(writeFont(style));
    expect(committed(`docs/lettering/${id}.svg`)).toBe(writeSpecimen(style));
  });

  it('has every character of the coverage list, drawn', () => {
    const bare = COVERAGE.filter((c) => {
      const glyph = font.glyph(c, 'tabular');
      return !glyph || (inked(c) && glyph.path.length < 2);
    });
    expect(bare).toEqual([]);
  });

  it('keeps every glyph inside its advance, and none of its strokes a point alone', () => {
    const out: string[] = [];
    for (const c of COVERAGE) {
      for (const digits of ['tabular', 'proportional', 'old-style'] as const) {
        const glyph = font.glyph(c, digits)!;
        for (const { points } of flatten(glyph.path, 1, 0.0005)) {
          const xs = points.filter((_, i) => i % 2 === 0);
          const ys = points.filter((_, i) => i % 2 === 1);
          if (Math.min(...xs) < 0 || Math.max(...xs) > glyph.advance) out.push(`${c} leaves its advance`);
          if (Math.min(...ys) < -0.301 || Math.max(...ys) > 1.401) out.push(`${c} is too tall or too deep`);
          const apart = Math.hypot(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
          if (apart < 0.02) out.push(`${c} has a stray point`);
          for (let i = 2; i < points.length; i += 2)
            if (points[i] === points[i - 2] && points[i + 1] === points[i - 1]) out.push(`${c} stands still`);
        }
      }
    }
    expect([...new Set(out)]).toEqual([]);
  });

  it('has digits of one width, of their own widths, and old-style ones that rise and hang', () => {
    const advances = DIGITS.map((c) => font.glyph(c, 'tabular')!.advance);
    expect(new Set(advances).size).toBe(1);
    const own = DIGITS.map((c) => font.glyph(c, 'proportional')!.advance);
    expect(new Set(own).size).toBeGreaterThan(3);
    const span = (c: string): [number, number] => {
      const ys = flatten(font.glyph(c, 'old-style')!.path, 1, 0.001).flatMap((p) =>
        [...p.points].filter((_, i) => i % 2 === 1),
      );
      return [Math.min(...ys), Math.max(...ys)];
    };
    // The old-style custom: 0, 1, 2 small; 6, 8 rise; 3, 4, 5, 7, 9 hang. Common practice, no source.
    for (const c of '012') expect(span(c)[1], c).toBeLessThan(0.75);
    for (const c of '68') expect(span(c)[1], c).toBeGreaterThan(0.9);
    for (const c of '34579') expect(span(c)[0], c).toBeLessThan(-0.2);
  });

  it('sets a letter and its combining mark as the composed letter', () => {
    const composed = COVERAGE.filter((c) => c.normalize('NFD') !== c && c.normalize('NFC') === c);
    expect(composed.length).toBeGreaterThan(150);
    for (const c of composed)
      expect(shapeLine(font, c.normalize('NFD'), 'tabular')).toEqual(shapeLine(font, c, 'tabular'));
  });

  it('sets a fraction as numerator, slash and denominator', () => {
    const set = shapeLine(font, '11⁄12', 'tabular').glyphs.map((g) => g.character);
    expect(set.join('')).toBe('¹¹⁄₁₂');
  });

  it('draws a fraction as one just as it sets its parts', () => {
    for (const [one, parts] of [
      ['½', '1⁄2'],
      ['¾', '3⁄4'],
      ['⅔', '2⁄3'],
      ['⅞', '7⁄8'],
    ] as const) {
      const whole = inkOf(shapeLine(font, one, 'tabular').glyphs);
      const made = inkOf(shapeLine(font, parts, 'tabular').glyphs);
      expect(whole.length).toBe(made.length);
      const shift = whole[0]! - made[0]!;
      const off = whole.map((v, i) => Math.abs(v - made[i]! - (i % 2 === 0 ? shift : 0)));
      expect(Math.max(...off), one).toBeLessThan(0.0005);
    }
  });

  it('kerns a letter with a mark as the letter, where the marks leave room', () => {
    const kern = (pair: string): number => {
      const [left, right] = [...pair].map((c) => font.glyph(c, 'tabular')!);
      return font.kern(left!, right!);
    };
    for (const pair of ['AV', 'LT', 'TA']) expect(kern(pair), pair).toBeLessThan(0);
    for (const pair of ['ÁV', 'ĽT', 'ŁT', 'ÄV', 'LŢ', 'LŦ', 'TĄ', 'AŴ']) {
      const plain = [...pair].map((c) => ({ Ł: 'L', Ŧ: 'T' })[c] ?? c.normalize('NFD')[0]).join('');
      expect(kern(pair), pair).toBeLessThan(0);
      expect(kern(pair), pair).toBeGreaterThanOrEqual(kern(plain));
    }
  });

  // Even spacing of capitals is common practice, no source; the hollows are counted no deeper than the eye follows.
  it('sets Roman numerals more evenly than their bare advances', () => {
    const pairs = new Set<string>();
    for (let n = 1; n < 4000; n++) {
      const numeral = romanNumeral(n);
      for (let i = 1; i < numeral.length; i++) pairs.add(numeral.slice(i - 1, i + 1));
    }
    const spaces = [...pairs].map((pair) => {
      const [left, right] = [...pair].map((c) => font.glyph(c, 'tabular')!);
      const bare = space(left!, right!);
      return { bare, kerned: bare + font.kern(left!, right!) };
    });
    expect(spread(spaces.map((s) => s.kerned))).toBeLessThan(0.95 * spread(spaces.map((s) => s.bare)));
  });

  it('draws letters with marks from the same letter', () => {
    for (const [plain, ...marked] of ['aàáâãäåāăą', 'nñńņň', 'OÒÓÔÕÖŌŎŐ', 'cçćĉċč']) {
      const base = font.glyph(plain!, 'tabular')!.path.length;
      for (const c of marked) expect(font.glyph(c, 'tabular')!.path.length, c).toBeGreaterThan(base);
    }
  });
});
