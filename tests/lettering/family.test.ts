import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { styles } from '../../src/lettering/drawing/styles.js';
import { writeFont } from '../../src/lettering/drawing/write-font.js';
import { writeSpecimen } from '../../src/lettering/drawing/write-specimen.js';
import { flatten } from '../../src/lettering/flatten.js';
import { setLine } from '../../src/lettering/shape.js';
import { strokeFont } from '../../src/lettering/stroke.js';

const range = (from: number, to: number): string[] =>
  Array.from({ length: to - from + 1 }, (_, k) => String.fromCodePoint(from + k));

/** Every printable character of ISO/IEC 8859-1, and the whole block Latin Extended-A of Unicode (U+0100 to U+017F). */
const LATIN_1 = [...range(0x20, 0x7e), ...range(0xa0, 0xff)];
const EXTENDED_A = range(0x100, 0x17f);
const FIGURES = [...'0123456789'];
const COVERAGE = [
  ...LATIN_1,
  ...EXTENDED_A,
  ...'ȘșȚțẞ‘’‚“”„–—…•‹›™€№⁄⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉½¼¾⅓⅔⅛ªºᵃᵇᶜᵈᵉʰⁿᵒʳˢᵗ',
];

const committed = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

describe.each(styles.map((s) => [s.id, s] as const))('%s', (id, style) => {
  const text = committed(`fonts/${id}.svg`);
  const read = strokeFont(id, text);
  if (!read.ok) throw new Error(read.problem.what);
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
      for (const figures of ['tabular', 'proportional', 'old-style'] as const) {
        const glyph = font.glyph(c, figures)!;
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

  it('has figures of one width, of their own widths, and old-style ones that rise and hang', () => {
    const advances = FIGURES.map((c) => font.glyph(c, 'tabular')!.advance);
    expect(new Set(advances).size).toBe(1);
    const own = FIGURES.map((c) => font.glyph(c, 'proportional')!.advance);
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
      expect(setLine(font, c.normalize('NFD'), 'tabular')).toEqual(setLine(font, c, 'tabular'));
  });

  it('sets a fraction as numerator, slash and denominator', () => {
    const set = setLine(font, '11⁄12', 'tabular').glyphs.map((g) => g.character);
    expect(set.join('')).toBe('¹¹⁄₁₂');
  });

  it('draws letters with marks from the same letter', () => {
    for (const [plain, ...marked] of ['aàáâãäåāăą', 'nñńņň', 'OÒÓÔÕÖŌŎŐ', 'cçćĉċč']) {
      const base = font.glyph(plain!, 'tabular')!.path.length;
      for (const c of marked) expect(font.glyph(c, 'tabular')!.path.length, c).toBeGreaterThan(base);
    }
  });
});
