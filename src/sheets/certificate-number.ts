import type { CutBlock } from '../cutting/cuts.js';
import type { Polyline } from '../geometry/path.js';
import { placeOnSheet, type TextDirection } from '../layout/glyph-placement.js';
import type { Surface } from '../surface/surface.js';
import { nearDeg } from '../units.js';
import { anglesOf, copiesOnPicture } from './block-copies.js';
import { extentOf } from './extent.js';

/** A number as it is cut. */
export interface CutNumber {
  readonly surface: Surface;
  /** Baseline and reading direction of its mark, by which it is turned to be read. */
  readonly direction: TextDirection;
  readonly blocks: readonly CutBlock[];
  /** mm */
  readonly cutWidth: number;
}

export interface ReadableNumber {
  /** mm on the piece, y up, the middle of all lines at 0, 0. */
  readonly lines: readonly { readonly points: Polyline; readonly closed: boolean }[];
  /** The lines bound areas. */
  readonly filled: boolean;
  readonly width: number;
  readonly height: number;
}

/** The cut lines of a number, unrolled round its middle and turned to be read. */
export function readableNumber({ surface, direction, blocks }: CutNumber): ReadableNumber {
  const cut = blocks.filter((block) => block.lines.length > 0);
  // Counted from the first block's turn, so that no seam comes between.
  const from = cut[0]?.turn ?? 0;
  const ends = cut.flatMap((b) => anglesOf(surface, b).map((angle) => nearDeg(b.turn - from) + angle));
  const [least, most] = extentOf(ends);
  const middle = from + (least + most) / 2;
  const up = direction.reading === 'up';
  const rotation = direction.baseline === 'lengthwise' ? (up ? 270 : 90) : up ? 0 : 180;
  const lines = cut
    .flatMap((block) => copiesOnPicture(surface, block, middle)[0]!.lines)
    .map(({ points, closed }) => ({ points: placeOnSheet(points, rotation, 0, 0), closed }));
  const [left, right] = extentOf(lines.flatMap(({ points }) => [...points.filter((_, i) => i % 2 === 0)]));
  const [bottom, top] = extentOf(lines.flatMap(({ points }) => [...points.filter((_, i) => i % 2 === 1)]));
  return {
    lines: lines.map(({ points, closed }) => ({
      points: placeOnSheet(points, 0, -(left + right) / 2, -(bottom + top) / 2),
      closed,
    })),
    filled: cut.some(({ area }) => area),
    width: right - left,
    height: top - bottom,
  };
}
