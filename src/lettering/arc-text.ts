import { flatten } from '../geometry/flatten.js';
import { TIGHTEST_LETTERS } from './ring-text.js';
import type { LineGlyph, ShapedLine } from './shaped-line.js';

/**
 * A line with its letters moved apart, or a little closer together, until its drawing is `width` letter heights long, to
 * a ten-thousandth of one: from the first letter's left edge to the last one's right edge. Undefined when its letters
 * would stand closer than the trade allows.
 */
export function fillArc(line: ShapedLine, width: number): ShapedLine | undefined {
  const extents = line.glyphs.map(extentOf).filter((extent) => extent !== undefined);
  const [only, second] = extents;
  if (!only) return line;
  if (!second) return only.right - only.left > width ? undefined : line;
  // The length of the drawing is a convex, piecewise linear function of the step between letters. Newton's method from
  // above reaches the wanted length exactly: each round takes one linear piece, and none is taken twice.
  let step = line.width + width + 1;
  for (;;) {
    const [first, last] = outermostGlyphs(extents, step);
    if (last.k <= first.k) return undefined;
    const next = (width - last.right + first.left) / (last.k - first.k);
    if (next >= step) break;
    step = next;
  }
  if (step < TIGHTEST_LETTERS) return undefined;
  const [{ left, k }] = outermostGlyphs(extents, step);
  const start = left + step * k;
  return { ...line, glyphs: line.glyphs.map((g, i) => ({ ...g, x: g.x + step * i - start })), width };
}

/** How far the drawing of the k-th glyph of a line reaches, in letter heights from the line's start. */
interface Extent {
  readonly k: number;
  readonly left: number;
  readonly right: number;
}

const FLATTENING_TOLERANCE = 1e-4;

function extentOf({ glyph, x }: LineGlyph, k: number): Extent | undefined {
  const xs = flatten(glyph.path, 1, FLATTENING_TOLERANCE).flatMap(({ points }) =>
    [...points].filter((_, i) => i % 2 === 0),
  );
  return xs.length === 0 ? undefined : { k, left: x + Math.min(...xs), right: x + Math.max(...xs) };
}

/** The glyphs that reach farthest left and right once each letter has moved by `step` more than the one before it. */
const outermostGlyphs = (extents: readonly Extent[], step: number): [Extent, Extent] => [
  extents.reduce((a, b) => (b.left + step * b.k < a.left + step * a.k ? b : a)),
  extents.reduce((a, b) => (b.right + step * b.k > a.right + step * a.k ? b : a)),
];
