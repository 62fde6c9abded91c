import { DOT } from './metrics.js';
import { bar, east, oval, pen, type Stroke, south, spot, translate } from './pen.js';
import type { MarkDrawing } from './style.js';

/**
 * Marks are drawn about the point they hang from: x from its middle, y from the letter's edge. Setting one on a
 * letter is a move to the letter's anchor, so every letter with anchors takes every mark.
 */
const top = (name: string, ...strokes: Stroke[]): MarkDrawing => ({ name, place: 'top', strokes });
const bottom = (name: string, ...strokes: Stroke[]): MarkDrawing => ({ name, place: 'bottom', strokes });

/** The comma that hangs below, and turned stands above g. */
const hook = pen(20, -150, 278).curve(-40, -295, 232).end();

/** By the combining character of Unicode. */
export const marks: Readonly<Record<string, MarkDrawing>> = {
  '\u0300': top('grave', bar(-75, 325, 45, 180)),
  '\u0301': top('acute', bar(75, 325, -45, 180)),
  '\u0302': top('circumflex', pen(-130, 185).line(0, 325).line(130, 185).end()),
  '\u0303': top(
    'tilde',
    pen(-150, 205, 66).curve(-75, 270, east).sway(75, 205, east, 68, 68).curve(150, 270, 66).end(),
  ),
  '\u0304': top('macron', bar(-135, 240, 135, 240)),
  '\u0306': top('breve', pen(-130, 320, 285).curve(0, 190, east).curve(130, 320, 75).end()),
  '\u0307': top('dotaccent', spot(0, 240, DOT)),
  '\u0308': top('dieresis', spot(-110, 240, DOT), spot(110, 240, DOT)),
  '\u030a': top('ring', oval(0, 275, 85, 85)),
  '\u030b': top('hungarumlaut', bar(-30, 325, -130, 180), bar(150, 325, 50, 180)),
  '\u030c': top('caron', pen(-130, 325).line(0, 185).line(130, 325).end()),
  '\u0312': top('turnedcomma', ...translate([pen(-20, 180, 98).curve(40, 340, 52).end()], 0, 0)),
  '\u0326': bottom('commaaccent', hook),
  '\u0327': bottom(
    'cedilla',
    pen(0, 0).line(-30, -95).corner(12).curve(95, -190, south).curve(-110, -290, 174).end(),
  ),
  '\u0328': bottom('ogonek', pen(0, 0, 225).curve(-95, -170, south).curve(20, -270, 10).end()),
};

/** The caron of d, t, l and L: a tick at their upper right, from its middle. */
export const tallCaron: readonly Stroke[] = [pen(20, 0, 278).curve(-35, -180, 236).end()];
