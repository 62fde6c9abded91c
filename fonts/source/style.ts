import type { Glyph } from './glyph.js';
import type { Kern } from './kerning.js';
import type { Stroke } from './pen.js';

/** Marks by the Unicode character that combines, U+0300 on. */
export interface MarkDrawing {
  readonly name: string;
  readonly place: 'top' | 'bottom';
  /** Drawn about the point they hang from: x from its middle, y from the letter's edge. */
  readonly strokes: readonly Stroke[];
}

/** What is drawn by hand for a style; everything else is composed from it. */
export interface Style {
  readonly id: string;
  readonly family: string;
  readonly note: string;
  /** Height of small letters, in thousandths of the letter height. */
  readonly xHeight: number;
  /** Letters, signs and digits drawn for themselves, digits on one advance. */
  readonly drawn: readonly Glyph[];
  readonly missing: Glyph;
  readonly dotlessJ: Glyph;
  /** By the combining character. */
  readonly marks: Readonly<Record<string, MarkDrawing>>;
  /** The caron of tall letters, a tick beside them. */
  readonly tallCaron: readonly Stroke[];
  /** 0, 1 and 2 as high as small letters, for old-style digits. */
  readonly smallDigits: readonly [zero: readonly Stroke[], one: readonly Stroke[], two: readonly Stroke[]];
  readonly kernGroups: readonly (readonly [left: string, right: string, tighter: number])[];
}

/** A style as it is written: every glyph once, in the order of its character. */
export interface Drawing {
  readonly id: string;
  readonly family: string;
  readonly note: string;
  readonly xHeight: number;
  readonly glyphs: readonly Glyph[];
  readonly missing: Glyph;
  readonly kerns: readonly Kern[];
}
