import { distanceToSegment } from '../geometry/segment.js';
import type { StepCounter } from './reader-budget.js';

/** A straight piece on a sheet, mm, and how deep it is along the normal: at its shallowest and its deepest. */
export interface Piece {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly shallow: number;
  readonly deep: number;
}

/** Distance from a point to a piece, mm. */
export const distance = ({ x0, y0, x1, y1 }: Piece, x: number, y: number): number =>
  distanceToSegment(x, y, x0, y0, x1, y1);

const CELL_MM = 0.2;
const key = (ix: number, iy: number): number => ix * 0x400000 + iy;

/** Pieces in square cells, so that those within `reach` of a point are found without looking at all. */
export class PieceGrid {
  readonly #cells = new Map<number, Piece[]>();
  readonly #reach: number;
  readonly #counter: StepCounter;
  readonly pieces: Piece[] = [];

  /** `reach` in mm: the greatest distance `near` has to find. The counter counts every piece handed out. */
  constructor(reach: number, counter: StepCounter = { steps: 0 }) {
    this.#reach = reach;
    this.#counter = counter;
  }

  add(piece: Piece): void {
    this.pieces.push(piece);
    const { x0, y0, x1, y1 } = piece;
    const reach = this.#reach;
    const low = Math.floor((Math.min(y0, y1) - reach) / CELL_MM);
    const high = Math.floor((Math.max(y0, y1) + reach) / CELL_MM);
    for (let iy = low; iy <= high; iy++) {
      // The part of the piece whose y lies in this row, widened by the reach.
      const at = (y: number) => (y1 === y0 ? 0 : Math.min(1, Math.max(0, (y - y0) / (y1 - y0))));
      const t0 = y1 === y0 ? 0 : at(iy * CELL_MM - reach);
      const t1 = y1 === y0 ? 1 : at((iy + 1) * CELL_MM + reach);
      const a = x0 + t0 * (x1 - x0);
      const b = x0 + t1 * (x1 - x0);
      const right = Math.floor((Math.max(a, b) + reach) / CELL_MM);
      for (let ix = Math.floor((Math.min(a, b) - reach) / CELL_MM); ix <= right; ix++) {
        const cell = this.#cells.get(key(ix, iy));
        if (cell) cell.push(piece);
        else this.#cells.set(key(ix, iy), [piece]);
      }
    }
  }

  /** Pieces that may lie within reach of a point; every one that does is among them. */
  near(x: number, y: number): readonly Piece[] {
    const pieces = this.#cells.get(key(Math.floor(x / CELL_MM), Math.floor(y / CELL_MM))) ?? [];
    this.#counter.steps += 1 + pieces.length;
    return pieces;
  }

  /** Distance from a point to the nearest piece, mm; infinite where there is none. */
  nearest(x: number, y: number): number {
    this.#counter.steps += this.pieces.length;
    return this.pieces.reduce(
      (least, piece) => Math.min(least, distance(piece, x, y)),
      Number.POSITIVE_INFINITY,
    );
  }
}

/** How a stretch lies on the pieces of a grid. */
export type Cover =
  | {
      readonly ok: true;
      /** The farthest it lies from them, mm. */
      readonly worst: number;
      /** The least depths, mm, of the pieces it lies on. */
      readonly shallow: number;
      readonly deep: number;
    }
  | { readonly ok: false; readonly x: number; readonly y: number; readonly near: readonly Piece[] };

const SHORTEST_MM = 0.004;
/** Nearer than this part of the tolerance a stretch is taken whole; else it is halved to be measured better. */
const CLOSE = 0.4;

/**
 * Is every point of the stretch a-b within `tolerance` mm of a piece that `will` do? A stretch with both ends near one
 * straight piece is near it all along, the distance to a convex set being convex on a line; any other is halved.
 */
export function cover(
  grid: PieceGrid,
  ax: number,
  ay: number,
  bx: number,
  by: number,
  tolerance: number,
  will: (piece: Piece) => boolean,
): Cover {
  let best: Piece | undefined;
  let least = Number.POSITIVE_INFINITY;
  let touch = Number.POSITIVE_INFINITY;
  for (const piece of grid.near(ax, ay)) {
    if (!will(piece)) continue;
    const a = distance(piece, ax, ay);
    touch = Math.min(touch, a);
    const worse = Math.max(a, distance(piece, bx, by));
    if (worse < least) {
      least = worse;
      best = piece;
    }
  }
  if (touch > tolerance) return uncovered(grid, ax, ay, tolerance);
  if (best && least <= CLOSE * tolerance) {
    return { ok: true, worst: least, shallow: best.shallow, deep: best.deep };
  }
  if (Math.hypot(bx - ax, by - ay) < SHORTEST_MM) {
    let end = Number.POSITIVE_INFINITY;
    let other: Piece | undefined;
    for (const piece of grid.near(bx, by)) {
      const b = will(piece) ? distance(piece, bx, by) : Number.POSITIVE_INFINITY;
      if (b < end) [end, other] = [b, piece];
    }
    if (!other || end > tolerance) return uncovered(grid, bx, by, tolerance);
    return { ok: true, worst: Math.max(touch, end), shallow: other.shallow, deep: other.deep };
  }
  const mx = (ax + bx) / 2;
  const my = (ay + by) / 2;
  const first = cover(grid, ax, ay, mx, my, tolerance, will);
  if (!first.ok) return first;
  const second = cover(grid, mx, my, bx, by, tolerance, will);
  if (!second.ok) return second;
  return {
    ok: true,
    worst: Math.max(first.worst, second.worst),
    shallow: Math.min(first.shallow, second.shallow),
    deep: Math.min(first.deep, second.deep),
  };
}

function uncovered(grid: PieceGrid, x: number, y: number, tolerance: number): Cover {
  const near = grid.near(x, y).filter((piece) => distance(piece, x, y) <= tolerance);
  return { ok: false, x, y, near };
}
