import type { PathCommand } from '../geometry/path-command.js';
import type { Problem } from '../problem.js';

export interface Glyph {
  /** Distinct within its font; equal keys mean equal drawings. */
  readonly key: string;
  /** Distance to the next glyph's origin, in letter heights. */
  readonly advance: number;
  /** In letter heights: the height of the font's capitals is 1, y up, origin at the left end of the baseline. */
  readonly path: readonly PathCommand[];
  /** Lines to be followed, where the font's other drawings are edges of areas. */
  readonly stroked?: true;
}

/** How a font draws its digits: of one width, of widths of their own, or rising and hanging as small letters do. */
export type DigitStyle = 'tabular' | 'proportional' | 'old-style';

/**
 * A font. A stroke font's paths are the lines the cutter follows; an outline font's are the edges of letters.
 */
export interface Font {
  readonly id: string;
  readonly kind: 'stroke' | 'outline';
  /** The glyph for a character, a digit in the style asked for where the font has it. */
  glyph(character: string, digits: DigitStyle): Glyph | undefined;
  /** Space to add between two neighbours, in letter heights; negative moves them closer together. */
  kern(left: Glyph, right: Glyph): number;
}

/** A font, or the first problem that keeps its file from being read. */
export type FontResult =
  | { readonly ok: true; readonly font: Font }
  | { readonly ok: false; readonly problem: Problem };
