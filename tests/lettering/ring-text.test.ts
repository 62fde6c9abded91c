import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Font } from '../../src/lettering/font.js';
import { type RingOptions, shapeRing } from '../../src/lettering/ring-text.js';
import { type ShapedLine, shapeLine } from '../../src/lettering/shaped-line.js';
import { fonts, plain, squares } from './test-fonts.js';

const options = (repeats: RingOptions['repeats'] = 1, spacing = 0): RingOptions => ({
  digits: 'tabular',
  spacing,
  repeats,
});

/** The way from each glyph's end to the next one's start all round a ring, less what kerning and spacing make of it. */
function spared(
  font: Font,
  ring: ShapedLine,
  spacing: number,
  inFull = (g: ShapedLine['glyphs'][number]) => g.glyph,
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
        const natural = shapeLine(font, `${text} · `.repeat(repeats), 'tabular', spacing).width + spacing;
        const ring = shapeRing(font, text, ' · ', natural * more, options(repeats, spacing));
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
    const ring = shapeRing(font, 'AVATO', '', 20, options(2))!;
    const gaps = spared(font, ring, 0).map((g) => g.over);
    for (const gap of gaps) expect(gap).toBeCloseTo(gaps[0]!, 12);
    expect(gaps[0]).toBeGreaterThan(0);
  });

  test('stand as often as their natural spaces let them', () => {
    fc.assert(
      fc.property(words, fc.double({ min: 1, max: 120, noNaN: true }), (text, width) => {
        const ring = shapeRing(font, text, ' ', width, options('most'));
        const twice = shapeLine(font, `${text} ${text} `, 'tabular').width;
        const period = twice - shapeLine(font, `${text} `, 'tabular').width;
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
  const ring = shapeRing(plain, 'avat', '', 10, { ...options(3), capitals: 'small' })!;
  const inFull = (g: ShapedLine['glyphs'][number]) => plain.glyph(g.character, 'tabular')!;
  const steps = ring.glyphs.map((g, k) => (ring.glyphs[k + 1]?.x ?? ring.width) - g.x);
  const period = steps.slice(0, 4);
  expect(steps).toEqual([...period, ...period, ...period].map((s) => expect.closeTo(s, 12)));
  expect(plain.kern(inFull(ring.glyphs[3]!), inFull(ring.glyphs[0]!))).toBeLessThan(0);
});

describe('a ring too short', () => {
  const font = squares('ab \u2009');
  const space = font.glyph(' ', 'tabular')!.advance;
  const natural = shapeLine(font, 'ab ab ', 'tabular').width;

  test('is closed down to half of each word space', () => {
    expect(shapeRing(font, 'ab', ' ', natural - space + 1e-6, options(2))).toBeDefined();
    expect(shapeRing(font, 'ab', ' ', natural - space - 1e-6, options(2))).toBeUndefined();
  });

  test('is closed by a twentieth of a letter height between letters', () => {
    const bare = shapeLine(font, 'abab', 'tabular').width;
    expect(shapeRing(font, 'ab', '', bare - 0.2 + 1e-6, options(2))).toBeDefined();
    expect(shapeRing(font, 'ab', '', bare - 0.2 - 1e-6, options(2))).toBeUndefined();
  });

  test('has no words that take no room', () => {
    expect(shapeRing(font, 'ж', '', 10, options('most'))).toBeUndefined();
    expect(
      shapeRing(font, 'a', '', 10, options('most', -font.glyph('a', 'tabular')!.advance)),
    ).toBeUndefined();
  });
});
