import type { Figures, Font, Glyph } from './font.js';

/** A glyph in a line of text: x of its origin from the start of the line, in letter heights. */
export interface SetGlyph {
  readonly glyph: Glyph;
  readonly character: string;
  readonly x: number;
  /** How far its baseline stands above that of a single line, in letter heights; 0 when left out. */
  readonly y?: number;
}

/** A line of text set in one font, in letter heights from the start of its baseline. */
export interface SetLine {
  readonly glyphs: readonly SetGlyph[];
  readonly width: number;
  /** Characters the font does not have, each once. */
  readonly missing: readonly string[];
}

/**
 * Sets a line of text: characters in their composed form (Unicode NFC), each to its glyph, neighbours drawn together
 * by the font's kerning, `spacing` letter heights added between letters.
 */
export function setLine(font: Font, text: string, figures: Figures, spacing = 0): SetLine {
  const glyphs: SetGlyph[] = [];
  const missing = new Set<string>();
  let x = 0;
  let last: Glyph | undefined;
  for (const character of text.normalize('NFC')) {
    const glyph = font.glyph(character, figures);
    if (!glyph) {
      missing.add(character);
      continue;
    }
    if (last) x += font.kern(last, glyph) + spacing;
    glyphs.push({ glyph, character, x });
    x += glyph.advance;
    last = glyph;
  }
  return { glyphs, width: x, missing: [...missing] };
}
