import { flatten } from '../geometry/flatten.js';
import { opened } from './block.js';
import { isWordSpace } from './characters.js';
import type { DigitStyle, Font } from './font.js';
import { type SetGlyph, type SetLine, setLine, type TextOptions } from './shape.js';

/** A word space is drawn in to this share of itself at the most. Common practice, no source. */
const TIGHTEST_SPACE = 0.5;
/** Letters are drawn together by this much at the most, in letter heights. Common practice, no source. */
const TIGHTEST_LETTERS = -0.05;
/** Words stand round a ring no oftener than this, however short they are. */
const MOST_TIMES = 500;

export interface CloseOptions extends TextOptions {
  readonly figures: DigitStyle;
  readonly spacing: number;
  /** How often the words stand round the ring; `most`: as often as there is room for at their natural spaces. */
  readonly repeats: number | 'most';
}

/**
 * Words with a separator after them, repeated round a ring that is `width` letter heights long, so that the last
 * separator leads into the first word. Letters keep their distance, and what is over is shared alike among the word
 * spaces; where there is none, among the letters. Undefined when the words are too long for the ring.
 */
export function closeRing(
  font: Font,
  text: string,
  separator: string,
  width: number,
  options: CloseOptions,
): SetLine | undefined {
  const set = (times: number) =>
    setLine(font, `${text}${separator}`.repeat(times), options.figures, options.spacing, options);
  const one = set(1).width;
  const period = set(2).width - one;
  if (!(period > 0)) return undefined;
  const most = Math.min(MOST_TIMES, Math.max(1, Math.floor(width / period + 1e-9)));
  const times = options.repeats === 'most' ? most : options.repeats;
  const line = set(times);
  const over = width - line.width - (period - one);
  const spaces = line.glyphs.filter((g) => isWordSpace(g.character)).map((g) => g.glyph.advance);
  const least =
    spaces.length > 0
      ? (TIGHTEST_SPACE - 1) * Math.min(...spaces) * spaces.length
      : TIGHTEST_LETTERS * line.glyphs.length;
  return over < least ? undefined : { ...line, glyphs: opened(line.glyphs, over, true), width };
}

/**
 * A line opened, or closed a little, between its letters until its drawing is `width` letter heights long, to a
 * ten-thousandth of one: from the first letter's left edge to the last one's right edge. Undefined when its letters
 * would have to stand closer than the trade lets them.
 */
export function fillArc(line: SetLine, width: number): SetLine | undefined {
  const inks = line.glyphs.map(inkOf).filter((ink) => ink !== undefined);
  const [only, second] = inks;
  if (!only) return line;
  if (!second) return only.right - only.left > width ? undefined : line;
  // How long the drawing is bends upward with the opening, in straight pieces: from above, a piece drawn on meets
  // `width` at the opening that is wanted or short of it, and then the next piece is taken.
  let by = line.width + width + 1;
  for (;;) {
    const [first, last] = ends(inks, by);
    if (last.k <= first.k) return undefined;
    const next = (width - last.right + first.left) / (last.k - first.k);
    if (next >= by) break;
    by = next;
  }
  if (by < TIGHTEST_LETTERS) return undefined;
  const [{ left, k }] = ends(inks, by);
  const start = left + by * k;
  return { ...line, glyphs: line.glyphs.map((g, i) => ({ ...g, x: g.x + by * i - start })), width };
}

/** How far the drawing of the k-th glyph of a line reaches, in letter heights from the line's start. */
interface GlyphInk {
  readonly k: number;
  readonly left: number;
  readonly right: number;
}

const INK_TOLERANCE = 1e-4;

function inkOf({ glyph, x }: SetGlyph, k: number): GlyphInk | undefined {
  const xs = flatten(glyph.path, 1, INK_TOLERANCE).flatMap(({ points }) =>
    [...points].filter((_, i) => i % 2 === 0),
  );
  return xs.length === 0 ? undefined : { k, left: x + Math.min(...xs), right: x + Math.max(...xs) };
}

/** The glyphs that reach farthest left and right once the line is opened. */
const ends = (inks: readonly GlyphInk[], by: number): [GlyphInk, GlyphInk] => [
  inks.reduce((a, b) => (b.left + by * b.k < a.left + by * a.k ? b : a)),
  inks.reduce((a, b) => (b.right + by * b.k > a.right + by * a.k ? b : a)),
];
