import { type Glyph, lettered } from '../glyph.js';
import { CAP, TAIL } from '../metrics.js';
import { mapped, type Stroke } from '../pen.js';
import type { Drawing } from '../style.js';
import { X } from './pieces.js';

/** From the tops of small letters to the ends of their tails: a little less than a figure is high. */
const SQUEEZE = (X - TAIL) / CAP;

const hung = (stroke: Stroke): Stroke => mapped(stroke, ([x, y]) => [x, TAIL + y * SQUEEZE]);

/** The hanging old-style figures, level with the roman's small letters, which are lower than the sans has them. */
export function hangFigures(drawing: Drawing): Drawing {
  const own = new Map(drawing.glyphs.map((g) => [g.name, g]));
  const glyphs = drawing.glyphs.map((glyph): Glyph => {
    const figure = glyph.name.replace(/\.onum$/, '');
    if (figure === glyph.name || !HANGING.includes(figure)) return glyph;
    return lettered(glyph.name, '', 110, 110, own.get(figure)!.strokes.map(hung));
  });
  return { ...drawing, glyphs };
}

const HANGING = ['three', 'four', 'five', 'seven', 'nine'];
