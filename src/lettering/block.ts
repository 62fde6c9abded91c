import { isWordSpace } from './characters.js';
import type { DigitStyle, Font } from './font.js';
import { type SetGlyph, type SetLine, type Substituted, setLine, type TextOptions } from './shape.js';

export interface BlockOptions extends TextOptions {
  readonly figures: DigitStyle;
  readonly spacing: number;
  /** From row to row, in letter heights. */
  readonly leading: number;
  readonly align: 'left' | 'middle' | 'right' | 'justified';
}

/**
 * Several rows of text as one block, as wide as its widest row, its middle half the letter height above the baseline
 * of a single line. Justified rows are opened at their spaces; a row of one word between its letters.
 */
export function setBlock(font: Font, rows: readonly string[], options: BlockOptions): SetLine {
  const { figures, spacing, leading, align } = options;
  const set = rows.map((row) => setLine(font, row, figures, spacing, options));
  const width = Math.max(0, ...set.map((r) => r.width));
  const glyphs = set.flatMap((row, k): SetGlyph[] => {
    const y = ((rows.length - 1) / 2 - k) * leading;
    const over = width - row.width;
    const placed = align === 'justified' ? opened(row.glyphs, over) : row.glyphs;
    const dx = align === 'middle' ? over / 2 : align === 'right' ? over : 0;
    return placed.map((g) => ({ ...g, x: g.x + dx, y }));
  });
  const substituted = once(set.flatMap((r) => r.substituted ?? []));
  return {
    glyphs,
    width,
    missing: [...new Set(set.flatMap((r) => r.missing))],
    ...(substituted.length > 0 ? { substituted } : {}),
  };
}

const once = (all: readonly Substituted[]): Substituted[] => [
  ...new Map(all.map((s) => [s.character, s])).values(),
];

/**
 * Glyphs with `over` letter heights shared alike among their word spaces, or among all of them where there is none.
 * `round` also opens what follows the last glyph, which leads to the first.
 */
export function opened(glyphs: readonly SetGlyph[], over: number, round = false): SetGlyph[] {
  const last = round ? glyphs.length : glyphs.length - 1;
  const spaces = glyphs.slice(0, last).filter((g) => isWordSpace(g.character)).length;
  const share = over / Math.max(1, spaces || last);
  let passed = 0;
  return glyphs.map((g) => {
    const x = g.x + share * passed;
    if (spaces === 0 || isWordSpace(g.character)) passed++;
    return { ...g, x };
  });
}
