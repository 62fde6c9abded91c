import { capitals } from './capitals.js';
import { figures } from './figures.js';
import type { Glyph } from './glyph.js';
import { type Kern, kerns } from './kerning.js';
import { dotlessI, lower } from './lower.js';
import { accented } from './marks.js';
import { SPACE_ADVANCE } from './metrics.js';
import { missing, signs } from './signs.js';

export interface Drawing {
  readonly family: string;
  readonly glyphs: readonly Glyph[];
  readonly missing: Glyph;
  readonly kerns: readonly Kern[];
}

const space: Glyph = { name: 'space', char: ' ', advance: SPACE_ADVANCE, strokes: [], anchors: {} };
const fixedSpace: Glyph = { ...space, name: 'nbspace', char: '\u00a0' };

const byCodePoint = (a: Glyph, b: Glyph): number => a.char.codePointAt(0)! - b.char.codePointAt(0)!;

/** Burin Plain: an upright single-line sans for numbering and short inscriptions at small sizes. */
export const plain: Drawing = {
  family: 'Burin Plain',
  glyphs: [space, fixedSpace, ...capitals, ...lower, dotlessI, ...figures, ...signs, ...accented].sort(
    byCodePoint,
  ),
  missing,
  kerns,
};
