import { isSpace } from './block.js';
import type { Figures, Font } from './font.js';
import { type SetGlyph, type SetLine, setLine, type TextOptions } from './shape.js';

/** A word space is drawn in to this share of itself at the most. Common practice, no source. */
const TIGHTEST_SPACE = 0.5;
/** Letters are drawn together by this much at the most, in letter heights. Common practice, no source. */
const TIGHTEST_LETTERS = -0.05;

export interface CloseOptions extends TextOptions {
  readonly figures: Figures;
  readonly spacing: number;
  /** How often the words stand round the ring; `most`: as often as there is room for at their natural spaces. */
  readonly repeats: number | 'most';
}

/**
 * Words with a separator after them, repeated round a ring that is `width` letter heights long, so that the last
 * separator leads into the first word. Letters keep their distance, and what is over is shared alike among the spaces;
 * where there is none, among the letters. Undefined when the words are too long for the ring.
 */
export function closeRing(
  font: Font,
  text: string,
  separator: string,
  width: number,
  options: CloseOptions,
): SetLine | undefined {
  const { figures, spacing } = options;
  const set = (times: number) =>
    setLine(font, `${text}${separator}`.repeat(times), figures, spacing, options);
  const one = set(1);
  const joint = (line: SetLine): number => {
    const [last, first] = [line.glyphs.at(-1), line.glyphs[0]];
    return last && first ? font.kern(last.glyph, first.glyph) + spacing : 0;
  };
  if (one.glyphs.length === 0) return undefined;
  const times =
    options.repeats === 'most'
      ? Math.max(1, Math.floor(width / (one.width + joint(one)) + 1e-9))
      : options.repeats;
  const line = set(times);
  const natural = line.width + joint(line);
  const spaces = line.glyphs.filter((g) => isSpace(g.character));
  const over = width - natural;
  const room = spaces.reduce((sum, g) => sum + g.glyph.advance, 0) * (1 - TIGHTEST_SPACE);
  const least = spaces.length > 0 ? -room : TIGHTEST_LETTERS * line.glyphs.length;
  if (over < least) return undefined;
  const gaps = spaces.length > 0 ? spaces.length : line.glyphs.length;
  let passed = 0;
  const glyphs = line.glyphs.map((g): SetGlyph => {
    const x = g.x + (over * passed) / gaps;
    if (spaces.length === 0 || isSpace(g.character)) passed++;
    return { ...g, x };
  });
  return { ...line, glyphs, width };
}

/**
 * A line opened, or closed a little, between its letters until it is `width` letter heights long. Undefined when its
 * letters would have to stand closer than the trade lets them.
 */
export function fillArc(line: SetLine, width: number): SetLine | undefined {
  const gaps = line.glyphs.length - 1;
  if (gaps < 1) return line.width <= width ? line : undefined;
  const by = (width - line.width) / gaps;
  if (by < TIGHTEST_LETTERS) return undefined;
  return { ...line, glyphs: line.glyphs.map((g, k) => ({ ...g, x: g.x + by * k })), width };
}
