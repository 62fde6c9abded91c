import type { Cutter } from '../documents/schema/cutter.js';
import type { CutStrategy } from '../documents/schema/design.js';
import type { Path, Polyline } from '../geometry/path.js';
import { cutWidth } from '../layout/cut-width.js';
import { clear, floorWidth } from './clear.js';
import { CutWork } from './cut-work.js';
import type { CutLine } from './cuts.js';
import { groove } from './groove.js';
import { orderLines } from './order.js';

/** How a mark is cut. */
export interface CutParameters {
  readonly way: CutStrategy;
  readonly cutter: Cutter;
  /** The greatest depth, mm. */
  readonly depth: number;
  /** Depth of each pass in order, mm; the last is `depth`. */
  readonly passes: readonly number[];
  /** Lines are run the way they were drawn. */
  readonly keepDirection?: boolean;
  /** An area is cleared by parallel lines at this angle, degrees, instead of rings. */
  readonly hatch?: number;
}

/** The lines that cut a drawing, and the area they take out where they take one. */
export interface DrawingCut {
  readonly lines: readonly CutLine[];
  readonly area?: readonly Polyline[];
}

/**
 * What cuts a drawing on its sheet. Lines are followed, and so are the edges of areas that are traced; other areas are
 * cleared flat, or sunk as deep as they are wide.
 */
export function cutLines(
  paths: readonly Path[],
  filled: boolean,
  parameters: CutParameters,
  work = new CutWork(),
): DrawingCut {
  const { way, cutter, depth, keepDirection, hatch } = parameters;
  if (way === 'trace' || !filled) return { lines: orderLines(paths, keepDirection, work) };
  const area = paths.filter((p) => p.closed).map((p) => p.points);
  if (way === 'clear') {
    const cut = { width: cutWidth(cutter, depth), floor: floorWidth(cutter) };
    const by = hatch === undefined ? ({ by: 'offset' } as const) : ({ by: 'hatch', angle: hatch } as const);
    return { lines: clear(area, cut, by, work), area };
  }
  if (cutter.shape !== 'cone') return { lines: [] };
  return { lines: orderLines(groove(area, cutter, depth, work), keepDirection, work), area };
}
