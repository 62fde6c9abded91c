import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { flatten } from '../../src/geometry/flatten.js';
import { type CloseOptions, closeRing, fillArc } from '../../src/lettering/close.js';
import type { Font } from '../../src/lettering/font.js';
import { type SetLine, setLine } from '../../src/lettering/shape.js';
import { fonts, garamond, plain, squares } from './shape-fonts.js';

const options = (repeats: CloseOptions['repeats'] = 1, spacing = 0): CloseOptions => ({
  figures: 'tabular',
  spacing,
  repeats,
});

/** The way from each glyph's end to the next one's start all round a ring, less what kerning and spacing make of it. */
function spared(
  font: Font,
  ring: SetLine,
  spacing: number,
  inFull = (g: SetLine['glyphs'][number]) => g.glyph,
) {
  return ring.glyphs.map((g, k) => {
    const next = ring.glyphs[(k + 1) % ring.glyphs.length]!;
    const x = k + 1 < ring.glyphs.length ? next.x : next.x + ring.width;
    const over = x - g.x - g.glyph.advance - font.kern(inFull(g), inFull(next)) - spacing;
    return { character: g.character, over };
  });
}

const word = fc.string({ unit: fc.constantFrom(...'AVTobilöŒß19'), minLength: 1, maxLength: 6 });
const words = fc.array(word, { minLength: 1, maxLength: 5 }).map((w) => w.join(' '));
const spacing = fc.double({ min: 0, max: 1, noNaN: true });

describe.each(fonts)('words round a ring in %s', (_, font) => {
  test('close: letters keep their distance, word spaces share what is over alike', () => {
    const more = fc.double({ min: 0.9, max: 3, noNaN: true });
    fc.assert(
      fc.property(words, fc.integer({ min: 1, max: 4 }), more, spacing, (text, repeats, more, spacing) => {
        const natural = setLine(font, `${text} · `.repeat(repeats), 'tabular', spacing).width + spacing;
        const ring = closeRing(font, text, ' · ', natural * more, options(repeats, spacing));
        if (!ring) {
          expect(more).toBeLessThan(1);
          return;
        }
        expect(ring.width).toBe(natural * more);
        expect(ring.glyphs.map((g) => g.character).join('')).toBe(`${text} · `.repeat(repeats));
        const gaps = spared(font, ring, spacing);
        const spaces = gaps.filter((g) => g.character === ' ');
        for (const g of spaces) expect(Math.abs(g.over - spaces[0]!.over)).toBeLessThan(1e-12 * ring.width);
        for (const g of gaps)
          if (g.character !== ' ') expect(Math.abs(g.over)).toBeLessThan(1e-12 * ring.width);
      }),
      { numRuns: 60 },
    );
  });

  test('open between letters where there is no space', () => {
    const ring = closeRing(font, 'AVATO', '', 20, options(2))!;
    const gaps = spared(font, ring, 0).map((g) => g.over);
    for (const gap of gaps) expect(gap).toBeCloseTo(gaps[0]!, 12);
    expect(gaps[0]).toBeGreaterThan(0);
  });

  test('stand as often as their natural spaces let them', () => {
    fc.assert(
      fc.property(words, fc.double({ min: 1, max: 120, noNaN: true }), (text, width) => {
        const ring = closeRing(font, text, ' ', width, options('most'));
        const twice = setLine(font, `${text} ${text} `, 'tabular').width;
        const period = twice - setLine(font, `${text} `, 'tabular').width;
        if (!ring) {
          expect(period).toBeGreaterThan(width);
          return;
        }
        const times = ring.glyphs.length / [...text, ' '].length;
        expect(Number.isInteger(times)).toBe(true);
        expect((times + 1) * period).toBeGreaterThan(width);
        if (times > 1) expect(times * period).toBeLessThan(width + 1e-6);
      }),
      { numRuns: 60 },
    );
  });
});

test('small capitals are kerned across the closing as anywhere', () => {
  const ring = closeRing(plain, 'avat', '', 10, { ...options(3), capitals: 'small' })!;
  const inFull = (g: SetLine['glyphs'][number]) => plain.glyph(g.character, 'tabular')!;
  const steps = ring.glyphs.map((g, k) => (ring.glyphs[k + 1]?.x ?? ring.width) - g.x);
  const period = steps.slice(0, 4);
  expect(steps).toEqual([...period, ...period, ...period].map((s) => expect.closeTo(s, 12)));
  expect(plain.kern(inFull(ring.glyphs[3]!), inFull(ring.glyphs[0]!))).toBeLessThan(0);
});

describe('a ring too short', () => {
  const font = squares('ab \u2009');
  const space = font.glyph(' ', 'tabular')!.advance;
  const natural = setLine(font, 'ab ab ', 'tabular').width;

  test('is closed down to half of each word space', () => {
    expect(closeRing(font, 'ab', ' ', natural - space + 1e-6, options(2))).toBeDefined();
    expect(closeRing(font, 'ab', ' ', natural - space - 1e-6, options(2))).toBeUndefined();
  });

  test('is closed by a twentieth of a letter height between letters', () => {
    const bare = setLine(font, 'abab', 'tabular').width;
    expect(closeRing(font, 'ab', '', bare - 0.2 + 1e-6, options(2))).toBeDefined();
    expect(closeRing(font, 'ab', '', bare - 0.2 - 1e-6, options(2))).toBeUndefined();
  });

  test('has no words that take no room', () => {
    expect(closeRing(font, 'ж', '', 10, options('most'))).toBeUndefined();
    expect(
      closeRing(font, 'a', '', 10, options('most', -font.glyph('a', 'tabular')!.advance)),
    ).toBeUndefined();
  });
});

/** The least and greatest x of a line's drawing. */
function ink(line: SetLine): [number, number] {
  const xs = line.glyphs.flatMap((g) =>
    flatten(g.glyph.path, 1, 1e-6).flatMap(({ points }) =>
      [...points.filter((_, i) => i % 2 === 0)].map((x) => x + g.x),
    ),
  );
  return [Math.min(...xs), Math.max(...xs)];
}

describe.each(fonts)('words over an arc in %s', (_, font) => {
  test('are drawn from end to end of it, opened alike', () => {
    const length = fc.double({ min: 1, max: 80, noNaN: true });
    fc.assert(
      fc.property(words, length, (text, width) => {
        const line = setLine(font, text, 'tabular');
        const filled = fillArc(line, width);
        if (!filled) return;
        const inked = line.glyphs.filter((g) => g.glyph.path.length > 0);
        if (inked.length < 2) {
          expect(filled).toBe(line);
          return;
        }
        const [left, right] = ink(filled);
        expect(Math.abs(left)).toBeLessThan(2e-4);
        expect(Math.abs(right - width)).toBeLessThan(2e-4);
        expect(filled.width).toBe(width);
        const steps = filled.glyphs.map((g, k) => g.x - line.glyphs[k]!.x);
        const by = steps.length > 1 ? steps[1]! - steps[0]! : 0;
        expect(by).toBeGreaterThanOrEqual(-0.05 - 1e-12);
        for (let k = 1; k < steps.length; k++) expect(steps[k]! - steps[k - 1]!).toBeCloseTo(by, 10);
      }),
      { numRuns: 100 },
    );
  });
});

test('letters over an arc are closed by a twentieth of a letter height at the most', () => {
  const line = setLine(garamond, 'NINE LIGHTS', 'tabular');
  const [left, right] = ink(line);
  const least = right - left - 0.05 * 10;
  expect(fillArc(line, least + 1e-3)).toBeDefined();
  expect(fillArc(line, least - 1e-3)).toBeUndefined();
});

test('a letter that reaches over its neighbours still ends where the arc ends', () => {
  // The F's arm is over the point: as long as they stand close, the F is the end of the drawing.
  const point = { key: '.', advance: 0.2, path: [['M', 0.05, 0] as const, ['L', 0.1, 0] as const] };
  const arm = { key: 'F', advance: 0.3, path: [['M', 0, 1] as const, ['L', 1, 1] as const] };
  const glyphs = [
    { glyph: arm, character: 'F', x: 0 },
    { glyph: arm, character: 'F', x: 0.3 },
    { glyph: point, character: '.', x: 0.6 },
  ];
  const line = { glyphs, width: 0.8, missing: [] };
  for (const width of [1.3, 1.5, 1.9, 2, 2.1, 5]) {
    const [left, right] = ink(fillArc(line, width)!);
    expect([left, right]).toEqual([expect.closeTo(0, 9), expect.closeTo(width, 9)]);
  }
});

test('a letter alone stays as it is where it fits', () => {
  const line = setLine(plain, 'O', 'tabular');
  expect(fillArc(line, 2)).toBe(line);
  expect(fillArc(line, 0.1)).toBeUndefined();
});
