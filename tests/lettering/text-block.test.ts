import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type ShapedLine, shapeLine } from '../../src/lettering/shaped-line.js';
import { type BlockOptions, shapeBlock } from '../../src/lettering/text-block.js';
import { fonts, plain, squares } from './test-fonts.js';

const options = (align: BlockOptions['align'], leading = 1.6, spacing = 0): BlockOptions => ({
  digits: 'tabular',
  spacing,
  leading,
  align,
});

/** The rows of a block from the top, each with where it starts and ends. */
function rowsOf(block: ShapedLine) {
  const ys = [...new Set(block.glyphs.map((g) => g.y!))].sort((a, b) => b - a);
  return ys.map((y) => {
    const glyphs = block.glyphs.filter((g) => g.y === y);
    const last = glyphs.at(-1)!;
    return { y, glyphs, start: glyphs[0]!.x, end: last.x + last.glyph.advance };
  });
}

const word = fc.string({ unit: fc.constantFrom(...'AVTobilöŒß19'), minLength: 1, maxLength: 6 });
const row = fc.array(word, { minLength: 1, maxLength: 4 }).map((words) => words.join(' '));
const someRows = fc.array(row, { minLength: 1, maxLength: 6 });
const spacing = fc.double({ min: -0.1, max: 1, noNaN: true });

describe.each(fonts)('a block in %s', (_, font) => {
  test('of one row is the line', () => {
    fc.assert(
      fc.property(row, spacing, (text, spacing) => {
        for (const align of ['left', 'middle', 'right', 'justified'] as const) {
          const line = shapeLine(font, text, 'tabular', spacing);
          const block = shapeBlock(font, [text], options(align, 1.6, spacing));
          expect(block).toEqual({ ...line, glyphs: line.glyphs.map((g) => ({ ...g, y: 0 })) });
        }
      }),
      { numRuns: 30 },
    );
  });

  test('is as wide as its widest row, its rows a leading apart about the middle', () => {
    const leading = fc.double({ min: 0.5, max: 10, noNaN: true });
    fc.assert(
      fc.property(someRows, leading, spacing, (rows, leading, spacing) => {
        const block = shapeBlock(font, rows, options('left', leading, spacing));
        const widths = rows.map((text) => shapeLine(font, text, 'tabular', spacing).width);
        expect(block.width).toBe(Math.max(...widths));
        const set = rowsOf(block);
        expect(set).toHaveLength(rows.length);
        expect(set[0]!.y + set.at(-1)!.y).toBeCloseTo(0, 12);
        for (const [k, one] of set.entries()) {
          if (k > 0) expect(set[k - 1]!.y - one.y).toBeCloseTo(leading, 12);
          expect(one.glyphs.map((g) => g.character).join('')).toBe(rows[k]);
        }
      }),
      { numRuns: 40 },
    );
  });

  test('stands left, in the middle, right, and justified from edge to edge', () => {
    fc.assert(
      fc.property(someRows, spacing, (rows, spacing) => {
        const of = (align: BlockOptions['align']) => {
          const block = shapeBlock(font, rows, options(align, 1.6, spacing));
          return { width: block.width, rows: rowsOf(block) };
        };
        for (const r of of('left').rows) expect(r.start).toBe(0);
        const { width } = of('middle');
        for (const r of of('middle').rows) expect(r.start + r.end).toBeCloseTo(width, 10);
        for (const r of of('right').rows) expect(r.end).toBeCloseTo(width, 10);
        for (const r of of('justified').rows) {
          expect(r.start).toBe(0);
          if (r.glyphs.length > 1) expect(r.end).toBeCloseTo(width, 10);
        }
      }),
      { numRuns: 40 },
    );
  });

  test('justified is opened alike at word spaces, and between letters only in a row of one word', () => {
    fc.assert(
      fc.property(someRows, (rows) => {
        const set = rowsOf(shapeBlock(font, rows, options('justified')));
        for (const [k, { glyphs }] of set.entries()) {
          const line = shapeLine(font, rows[k]!, 'tabular').glyphs;
          const moved = glyphs.map((g, i) => g.x - line[i]!.x);
          const steps = moved.slice(1).map((m, i) => m - moved[i]!);
          const words = line.some((g) => g.character === ' ');
          const at = steps.filter((_, i) => !words || line[i]!.character === ' ');
          for (const step of at) expect(step).toBeCloseTo(at[0]!, 10);
          const others = steps.filter((_, i) => words && line[i]!.character !== ' ');
          for (const step of others) expect(step).toBeCloseTo(0, 10);
        }
      }),
      { numRuns: 40 },
    );
  });
});

// UAX 14, section 3, from memory: only the plain and the no-break space are subject to it; others have a fixed width.
test('fixed spaces keep their width in a justified row', () => {
  const font = squares('ab \u00a0\u2009');
  const { glyphs, width } = shapeBlock(font, ['a b\u2009b\u00a0a', 'abababababab'], options('justified'));
  const natural = shapeLine(font, 'a b\u2009b\u00a0a', 'tabular');
  const over = width - natural.width;
  const moved = glyphs.slice(0, 7).map((g, k) => g.x - natural.glyphs[k]!.x);
  const share = over / 2;
  expect(moved).toEqual([0, 0, share, share, share, share, over].map((m) => expect.closeTo(m, 12)));
});

test('an empty row is room between two others', () => {
  const set = rowsOf(shapeBlock(plain, ['Nine', '', 'Lights'], options('middle', 2)));
  expect(set.map((r) => r.y)).toEqual([2, -2]);
});

test('a block names what its rows lack, and what was set for it, once', () => {
  expect(shapeBlock(plain, ['A☂', '☂Ж'], options('left')).missing).toEqual(['☂', 'Ж']);
  const font = squares('oOE');
  const block = shapeBlock(font, ['őő', 'őŒ'], { ...options('left'), substitute: true });
  expect(block.substituted).toEqual([
    { character: 'ő', by: 'o' },
    { character: 'Œ', by: 'OE' },
  ]);
});
