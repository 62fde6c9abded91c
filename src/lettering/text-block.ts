import type { DigitStyle, Font } from './font.js';
import {
  type LineGlyph,
  type ShapedLine,
  type Substitution,
  shapeLine,
  type TextOptions,
} from './shaped-line.js';
import { spreadGlyphs } from './spread-glyphs.js';

export interface BlockOptions extends TextOptions {
  readonly digits: DigitStyle;
  readonly spacing: number;
  /** From row to row, in letter heights. */
  readonly leading: number;
  readonly align: 'left' | 'middle' | 'right' | 'justified';
}

/**
 * Several rows of text as one block, as wide as its widest row, with its middle half the letter height above the baseline
 * of a single line. Justified rows are spread at their word spaces; a row of one word, between its letters.
 */
export function shapeBlock(font: Font, texts: readonly string[], options: BlockOptions): ShapedLine {
  const { digits, spacing, leading, align } = options;
  const rows = texts.map((text) => shapeLine(font, text, digits, spacing, options));
  const width = Math.max(0, ...rows.map((r) => r.width));
  const glyphs = rows.flatMap((row, k): LineGlyph[] => {
    const y = ((rows.length - 1) / 2 - k) * leading;
    const extra = width - row.width;
    const aligned = align === 'justified' ? spreadGlyphs(row.glyphs, extra) : row.glyphs;
    const dx = align === 'middle' ? extra / 2 : align === 'right' ? extra : 0;
    return aligned.map((g) => ({ ...g, x: g.x + dx, y }));
  });
  const substituted = uniqueByCharacter(rows.flatMap((r) => r.substituted ?? []));
  return {
    glyphs,
    width,
    missing: [...new Set(rows.flatMap((r) => r.missing))],
    ...(substituted.length > 0 ? { substituted } : {}),
  };
}

const uniqueByCharacter = (all: readonly Substitution[]): Substitution[] => [
  ...new Map(all.map((s) => [s.character, s])).values(),
];
