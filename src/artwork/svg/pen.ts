import type { PathCommand } from '../../geometry/path-command.js';
import type { DrawnStroke } from './drawing.js';
import type { Matrix } from './matrix.js';
import { paints, type Style } from './style.js';
import { lengthOf, numbersOf } from './units.js';
import { diagonal, type Viewport } from './viewport.js';

/** The stroke a style draws along a path in the shape's own units; undefined where it draws none. */
export function strokeOf(
  own: readonly PathCommand[],
  map: Matrix,
  style: Style,
  viewport: Viewport,
): DrawnStroke | undefined {
  if (!paints(style.stroke!, style['stroke-opacity']!, style.color!)) return undefined;
  const width = lengthOf(style['stroke-width'], diagonal(viewport)) ?? 1;
  if (!(width > 0)) return undefined;
  const oneOf = <T extends string>(name: string, words: readonly T[]): T =>
    words.find((w) => w === style[name]) ?? words[0]!;
  return {
    width,
    cap: oneOf('stroke-linecap', ['butt', 'round', 'square'] as const),
    join: oneOf('stroke-linejoin', ['miter', 'round', 'bevel'] as const),
    miter: Math.max(1, Number.parseFloat(style['stroke-miterlimit']!) || 4),
    dashes: dashesOf(style['stroke-dasharray']!, viewport),
    dashFrom: lengthOf(style['stroke-dashoffset'], diagonal(viewport)) ?? 0,
    own,
    map,
  };
}

/** Lengths of dashes and gaps in turn, an even number; none for a whole line, or where they cannot be read. */
function dashesOf(text: string, viewport: Viewport): number[] {
  if (text === 'none') return [];
  const plain = numbersOf(text);
  const dashes = plain ?? text.split(/[\s,]+/).map((w) => lengthOf(w, diagonal(viewport)) ?? Number.NaN);
  if (dashes.length === 0 || dashes.some((d) => !(d >= 0))) return [];
  if (dashes.reduce((a, b) => a + b, 0) === 0) return [];
  return dashes.length % 2 === 0 ? dashes : [...dashes, ...dashes];
}
