import { isWordSpace } from './characters.js';
import type { DigitStyle, Font } from './font.js';
import { type ShapedLine, shapeLine, type TextOptions } from './shaped-line.js';
import { spreadGlyphs } from './spread-glyphs.js';

/** A word space is narrowed to this share of itself at most. Common practice, no source. */
const NARROWEST_SPACE = 0.5;
/** Letters are moved closer together by this much at most, in letter heights. Common practice, no source. */
export const TIGHTEST_LETTERS = -0.05;
/** Words are repeated round a ring at most this often, however short they are. */
const MOST_REPEATS = 500;

export interface RingOptions extends TextOptions {
  readonly digits: DigitStyle;
  readonly spacing: number;
  /** How often the words are repeated; `most`: as often as their natural spaces allow. */
  readonly repeats: number | 'most';
}

/**
 * Words with a separator after them, repeated round a ring that is `width` letter heights long, so that the last
 * separator leads to the first word. Letters keep their distance; what is left over is shared equally among the word
 * spaces or, where there is none, among the letters. Undefined when the words are too long for the ring.
 */
export function shapeRing(
  font: Font,
  text: string,
  separator: string,
  width: number,
  options: RingOptions,
): ShapedLine | undefined {
  const repeat = (times: number) =>
    shapeLine(font, `${text}${separator}`.repeat(times), options.digits, options.spacing, options);
  const one = repeat(1).width;
  const period = repeat(2).width - one;
  if (!(period > 0)) return undefined;
  const most = Math.min(MOST_REPEATS, Math.max(1, Math.floor(width / period + 1e-9)));
  const line = repeat(options.repeats === 'most' ? most : options.repeats);
  const extra = width - line.width - (period - one);
  const spaces = line.glyphs.filter((g) => isWordSpace(g.character)).map((g) => g.glyph.advance);
  const least =
    spaces.length > 0
      ? (NARROWEST_SPACE - 1) * Math.min(...spaces) * spaces.length
      : TIGHTEST_LETTERS * line.glyphs.length;
  return extra < least ? undefined : { ...line, glyphs: spreadGlyphs(line.glyphs, extra, true), width };
}
