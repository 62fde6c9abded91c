import { type Glyph, glyphOf } from '../glyph.js';
import { CAP, TAIL } from '../metrics.js';
import { mapped, type Stroke } from '../pen.js';
import type { Drawing } from '../style.js';
import { X } from './pieces.js';

/** From the tops of small letters to the ends of their tails: a little less than a digit is high. */
const SQUEEZE = (X - TAIL) / CAP;

const squeezeAndHang = (stroke: Stroke): Stroke => mapped(stroke, ([x, y]) => [x, TAIL + y * SQUEEZE]);

/** The hanging old-style digits, level with the roman's small letters, which are lower than the sans has them. */
export function withOldStyleDigits(drawing: Drawing): Drawing {
  const own = new Map(drawing.glyphs.map((g) => [g.name, g]));
  const glyphs = drawing.glyphs.map((glyph): Glyph => {
    const digit = glyph.name.replace(/\.onum$/, '');
    if (digit === glyph.name || !HANGING.includes(digit)) return glyph;
    return glyphOf(glyph.name, '', 110, 110, own.get(digit)!.strokes.map(squeezeAndHang));
  });
  return { ...drawing, glyphs };
}

const HANGING = ['three', 'four', 'five', 'seven', 'nine'];
