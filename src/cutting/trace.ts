import { type PlacedGlyph, setDown } from '../layout/place.js';
import { flatten } from '../lettering/flatten.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';
import type { CutBlock, CutLine } from './cuts.js';
import { orderLines } from './order.js';

/** What a block takes from its mark. */
export interface TraceOf {
  readonly mark: string;
  readonly font: string;
  /** Letter height, mm. */
  readonly size: number;
  readonly depth: number;
  readonly passes: readonly number[];
}

/**
 * The cut of one placed glyph: the cutter follows its lines, a stroke font's strokes or an outline font's edges.
 * A space has none and gives undefined.
 */
export function trace(placed: PlacedGlyph, of: TraceOf): CutBlock | undefined {
  const lines: CutLine[] = flatten(placed.glyph.path, of.size, FLATTEN_TOLERANCE_MM).map((p) => ({
    closed: p.closed,
    points: setDown(p.points, placed.rotation, placed.x, placed.y),
  }));
  if (lines.length === 0) return undefined;
  return {
    key: blockKey(placed, of),
    mark: of.mark,
    name: placed.character,
    turn: placed.turn,
    lines: orderLines(lines),
    depth: of.depth,
    passes: of.passes,
  };
}

/** Equal keys mean equal blocks: the glyph, its place to a millionth of a mm, and how it is cut. */
export const blockKey = (placed: PlacedGlyph, of: TraceOf): string =>
  [
    of.mark,
    of.font,
    placed.glyph.key,
    of.size,
    placed.turn.toFixed(7),
    placed.x.toFixed(6),
    placed.y.toFixed(6),
    placed.rotation,
  ].join(' ');
