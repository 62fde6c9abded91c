import type { Surface } from '../surface/surface.js';
import type { CutBlock } from './cuts.js';
import type { SweptMove, TipPlace } from './swept-cut.js';

/** On a cone a straight line of the sheet is taken in pieces that turn by no more than this, degrees. */
const MOST_TURN_DEG = 1;

/** The moves that a block's lines ask of a cutter, at their full depth, before a program rounds them. */
export function blockMoves(surface: Surface, { lines, turn, depth }: CutBlock): SweptMove[] {
  const moves: SweptMove[] = [];
  for (const { points, closed, depths } of lines) {
    const count = points.length / 2;
    const place = (x: number, y: number, deep: number): TipPlace => {
      const { z, angle } = surface.toSurfaceNear(x, y);
      return { z, angle: angle + turn, depth: deep };
    };
    const at = (k: number): TipPlace =>
      place(points[2 * k]!, points[2 * k + 1]!, depths ? depths[k]! : depth);
    if (count === 1) moves.push({ from: at(0), to: at(0) });
    for (let k = 0; k < (closed ? count : count - 1); k++) {
      const m = (k + 1) % count;
      const [from, to] = [at(k), at(m)];
      const pieces = surface.kind === 'cone' ? Math.ceil(Math.abs(to.angle - from.angle) / MOST_TURN_DEG) : 1;
      let last = from;
      for (let n = 1; n <= Math.max(1, pieces); n++) {
        const t = n / Math.max(1, pieces);
        const next =
          n >= pieces
            ? to
            : place(
                points[2 * k]! + t * (points[2 * m]! - points[2 * k]!),
                points[2 * k + 1]! + t * (points[2 * m + 1]! - points[2 * k + 1]!),
                from.depth + t * (to.depth - from.depth),
              );
        moves.push({ from: last, to: next });
        last = next;
      }
    }
  }
  return moves;
}
