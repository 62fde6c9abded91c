import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { flatten } from '../../src/geometry/flatten.js';
import { fillArc } from '../../src/lettering/arc-text.js';
import { type ShapedLine, shapeLine } from '../../src/lettering/shaped-line.js';
import { fonts, garamond, plain } from './test-fonts.js';

const word = fc.string({ unit: fc.constantFrom(...'AVTobilöŒß19'), minLength: 1, maxLength: 6 });
const words = fc.array(word, { minLength: 1, maxLength: 5 }).map((w) => w.join(' '));

/** The least and greatest x of a line's drawing. */
function ink(line: ShapedLine): [number, number] {
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
        const line = shapeLine(font, text, 'tabular');
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
  const line = shapeLine(garamond, 'NINE LIGHTS', 'tabular');
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
  const line = shapeLine(plain, 'O', 'tabular');
  expect(fillArc(line, 2)).toBe(line);
  expect(fillArc(line, 0.1)).toBeUndefined();
});
