import type { PathCommand } from '../geometry/path-command.js';

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

export type Figures = 'tabular' | 'proportional' | 'old-style';

/**
 * A font ready to set. A stroke font's paths are the lines the cutter follows; an outline font's are the edges of
 * letters.
 */
export interface Font {
  readonly id: string;
  readonly kind: 'stroke' | 'outline';
  /** The glyph for a character, with figures all one width where asked and where the font has them. */
  glyph(character: string, figures: Figures): Glyph | undefined;
  /** Space to add between two neighbours, in letter heights; negative draws them together. */
  kern(left: Glyph, right: Glyph): number;
}
