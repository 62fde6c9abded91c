import { BEARING, type Side } from './metrics.js';
import { type Point, reach, type Stroke, translate } from './pen.js';

/** Places on a letter where marks are hung: above, and below. */
export interface Anchors {
  readonly top?: Point;
  readonly bottom?: Point;
}

export interface Glyph {
  readonly name: string;
  readonly char: string;
  readonly advance: number;
  readonly strokes: readonly Stroke[];
  readonly anchors: Anchors;
}

export interface Sides {
  readonly left: Side;
  readonly right: Side;
}

function placed(
  name: string,
  char: string,
  strokes: readonly Stroke[],
  anchors: Anchors,
  dx: number,
  advance: number,
) {
  const shift = (p: Point | undefined): Point | undefined => p && [p[0] + dx, p[1]];
  return {
    name,
    char,
    advance: Math.ceil(advance - 1e-6),
    strokes: translate(strokes, dx, 0),
    anchors: { top: shift(anchors.top), bottom: shift(anchors.bottom) },
  } satisfies Glyph;
}

/** A letter with bearings by the shape of its sides. Strokes are drawn wherever is handy and moved into place. */
export function letter(
  name: string,
  char: string,
  left: Side,
  right: Side,
  strokes: readonly Stroke[],
  anchors: Anchors = {},
): Glyph {
  return glyphOf(name, char, BEARING[left], BEARING[right], strokes, anchors);
}

/** The same with bearings in units, for shapes whose open space needs its own allowance. */
export function glyphOf(
  name: string,
  char: string,
  left: number,
  right: number,
  strokes: readonly Stroke[],
  anchors: Anchors = {},
): Glyph {
  const [from, to] = reach(strokes);
  return placed(name, char, strokes, anchors, left - from, left + (to - from) + right);
}

/** A sign centred on a fixed advance; `lean` moves it off centre where the eye wants that. */
export function tabular(
  name: string,
  char: string,
  advance: number,
  strokes: readonly Stroke[],
  lean = 0,
): Glyph {
  const [from, to] = reach(strokes);
  return placed(name, char, strokes, {}, Math.round((advance - from - to) / 2) + lean, advance);
}
