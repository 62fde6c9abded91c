import { nearestParameter } from '../geometry/segment.js';
import type { StepCounter } from './reader-budget.js';

/**
 * Straight pieces on a sheet, mm, in the order they are added, and how deep each is along the normal at either end; in
 * between its depth changes evenly. A program has hundreds of thousands, so they stand in one array of numbers.
 */
export class PieceList {
  /** x0, y0, x1, y1, depth at the first and at the second end, of each piece. */
  values = new Float64Array(FIELDS * 16);
  count = 0;

  add(x0: number, y0: number, x1: number, y1: number, from: number, to: number): void {
    const at = FIELDS * this.count++;
    if (at + FIELDS > this.values.length) {
      const more = new Float64Array(2 * this.values.length);
      more.set(this.values);
      this.values = more;
    }
    const { values } = this;
    values[at] = x0;
    values[at + 1] = y0;
    values[at + 2] = x1;
    values[at + 3] = y1;
    values[at + FROM] = from;
    values[at + TO] = to;
  }

  /** Where on a piece the point nearest another lies: 0 at its first end, 1 at its second. */
  nearestAt(piece: number, x: number, y: number): number {
    const { values } = this;
    const at = FIELDS * piece;
    return nearestParameter(x, y, values[at]!, values[at + 1]!, values[at + 2]!, values[at + 3]!);
  }

  /** Depth of a piece at a part of its length, mm. */
  depthAt(piece: number, part: number): number {
    const at = FIELDS * piece;
    const from = this.values[at + FROM]!;
    return from + part * (this.values[at + TO]! - from);
  }

  /**
   * Depth of a piece, mm, beside a point that is nearest to it at a part of its length, `square` mm2 away. Where that is
   * less than asked for, the greatest within so many mm of the point: a steep piece is soon as deep.
   */
  depthBeside(piece: number, part: number, square: number, asked: number, within: number): number {
    const depth = this.depthAt(piece, part);
    if (depth >= asked) return depth;
    const at = FIELDS * piece;
    const from = this.values[at + FROM]!;
    const to = this.values[at + TO]!;
    if (Math.max(from, to) < asked) return depth;
    const dx = this.values[at + 2]! - this.values[at]!;
    const dy = this.values[at + 3]! - this.values[at + 1]!;
    const reach = Math.sqrt(Math.max(0, within * within - square) / Math.max(dx * dx + dy * dy, POINT_MM2));
    return this.depthAt(piece, to > from ? Math.min(1, part + reach) : Math.max(0, part - reach));
  }

  /** Distance from a point to a piece, mm. */
  distance(piece: number, x: number, y: number): number {
    return Math.sqrt(this.squareAt(piece, this.nearestAt(piece, x, y), x, y));
  }

  /** Square of the distance from a point to the place at a part of a piece, mm2. */
  squareAt(piece: number, part: number, x: number, y: number): number {
    const { values } = this;
    const at = FIELDS * piece;
    const dx = x - values[at]! - part * (values[at + 2]! - values[at]!);
    const dy = y - values[at + 1]! - part * (values[at + 3]! - values[at + 1]!);
    return dx * dx + dy * dy;
  }
}

/** Square of the length of what is no more than a point, mm2. */
const POINT_MM2 = 1e-18;

export const FIELDS = 6;
export const FROM = 4;
export const TO = 5;

/** A cell is at least this many times as wide as the reach: in narrower cells one piece would stand in many. */
const LEAST_CELL = 4;

/**
 * Finished pieces in square cells, so that those within reach of a point are found without looking at all. A cell is
 * as wide as the mean piece is long: then the cells of all pieces together are few times their number, and few pieces
 * stand in one cell, whether the lines are fine or coarse.
 */
export class PieceGrid {
  readonly pieces: PieceList;
  /** The pieces of cell c are `members` from `starts[c]` up to `starts[c + 1]`, in the order of the list. */
  starts: Int32Array = new Int32Array(1);
  members: Int32Array = new Int32Array(0);
  readonly #cell: number;
  readonly #counter: StepCounter;
  /** An open hash table from a cell's column and row to its number, counted from 1; 0 where the table is free. */
  #slots = new Int32Array(64);
  #columns = new Int32Array(32);
  #rows = new Int32Array(32);
  #cells = 0;

  /** `reach` in mm: the greatest distance within which pieces are found. The counter counts every piece looked at. */
  constructor(pieces: PieceList, reach: number, counter: StepCounter = { steps: 0 }) {
    this.pieces = pieces;
    this.#counter = counter;
    this.#cell = Math.max(LEAST_CELL * reach, meanLength(pieces)) || 1;
    this.#index(reach);
  }

  #index(reach: number): void {
    const { count } = this.pieces;
    let cellOf = new Int32Array(4 * count + 16);
    const ends = new Int32Array(count);
    let total = 0;
    for (let piece = 0; piece < count; piece++) {
      this.#eachCell(piece, reach, (cell) => {
        if (total === cellOf.length) {
          const more = new Int32Array(2 * total);
          more.set(cellOf);
          cellOf = more;
        }
        cellOf[total++] = cell;
      });
      ends[piece] = total;
    }
    const starts = new Int32Array(this.#cells + 1);
    for (let k = 0; k < total; k++) starts[cellOf[k]! + 1]!++;
    for (let cell = 0; cell < this.#cells; cell++) starts[cell + 1]! += starts[cell]!;
    const free = starts.slice();
    const members = new Int32Array(total);
    for (let piece = 0, k = 0; piece < count; piece++) {
      for (; k < ends[piece]!; k++) members[free[cellOf[k]!]!++] = piece;
    }
    this.#counter.steps += total;
    this.starts = starts;
    this.members = members;
  }

  #eachCell(piece: number, reach: number, take: (cell: number) => void): void {
    const { values } = this.pieces;
    const width = this.#cell;
    const at = FIELDS * piece;
    const x0 = values[at]!;
    const y0 = values[at + 1]!;
    const x1 = values[at + 2]!;
    const y1 = values[at + 3]!;
    const low = Math.floor((Math.min(y0, y1) - reach) / width);
    const high = Math.floor((Math.max(y0, y1) + reach) / width);
    for (let row = low; row <= high; row++) {
      // The part of the piece whose y lies in this row, widened by the reach.
      let [t0, t1] = [0, 1];
      if (y1 !== y0) {
        t0 = Math.min(1, Math.max(0, (row * width - reach - y0) / (y1 - y0)));
        t1 = Math.min(1, Math.max(0, ((row + 1) * width + reach - y0) / (y1 - y0)));
      }
      const a = x0 + t0 * (x1 - x0);
      const b = x0 + t1 * (x1 - x0);
      const right = Math.floor((Math.max(a, b) + reach) / width);
      for (let column = Math.floor((Math.min(a, b) - reach) / width); column <= right; column++)
        take(this.#addCell(column, row));
    }
  }

  /** Where the table has the cell, or is free for it. */
  #slotOf(column: number, row: number): number {
    const mask = this.#slots.length - 1;
    let slot = hash(column, row) & mask;
    for (;;) {
      const cell = this.#slots[slot]! - 1;
      if (cell < 0 || (this.#columns[cell] === column && this.#rows[cell] === row)) return slot;
      slot = (slot + 1) & mask;
    }
  }

  #addCell(column: number, row: number): number {
    const slot = this.#slotOf(column, row);
    if (this.#slots[slot]! > 0) return this.#slots[slot]! - 1;
    const cell = this.#cells++;
    this.#columns[cell] = column;
    this.#rows[cell] = row;
    this.#slots[slot] = cell + 1;
    if (this.#cells === this.#columns.length) this.#growTable();
    return cell;
  }

  #growTable(): void {
    const columns = new Int32Array(2 * this.#cells);
    const rows = new Int32Array(2 * this.#cells);
    columns.set(this.#columns);
    rows.set(this.#rows);
    this.#columns = columns;
    this.#rows = rows;
    this.#slots = new Int32Array(4 * this.#cells);
    for (let cell = 0; cell < this.#cells; cell++)
      this.#slots[this.#slotOf(columns[cell]!, rows[cell]!)] = cell + 1;
  }

  /** The cell round a point, -1 where no piece is in reach; every piece within reach of the point is in it. */
  cellAt(x: number, y: number): number {
    const cell = this.#slots[this.#slotOf(Math.floor(x / this.#cell), Math.floor(y / this.#cell))]! - 1;
    this.#counter.steps += cell < 0 ? 1 : 1 + this.starts[cell + 1]! - this.starts[cell]!;
    return cell;
  }

  /** Distance from a point to the nearest piece, mm; infinite where there is none. */
  nearest(x: number, y: number): number {
    const { pieces } = this;
    this.#counter.steps += pieces.count;
    let least = Number.POSITIVE_INFINITY;
    for (let piece = 0; piece < pieces.count; piece++) least = Math.min(least, pieces.distance(piece, x, y));
    return least;
  }
}

function meanLength({ values, count }: PieceList): number {
  let sum = 0;
  for (let at = 0; at < FIELDS * count; at += FIELDS) {
    const dx = values[at + 2]! - values[at]!;
    const dy = values[at + 3]! - values[at + 1]!;
    sum += Math.sqrt(dx * dx + dy * dy);
  }
  return count === 0 ? 0 : sum / count;
}

/** The factors are odd and large, so that neighbours in a row or column are far apart in the table. */
function hash(column: number, row: number): number {
  const mixed = Math.imul(column, 0x9e3779b1) ^ Math.imul(row, 0x85ebca6b);
  return mixed ^ (mixed >>> 15);
}

/** How a stretch lies on the pieces of a grid. */
export type Cover =
  | {
      readonly ok: true;
      /** The farthest it lies from them, mm. */
      readonly worst: number;
      /** By how much it is deeper than the pieces it lies on, at the most, mm; less than 0 where it is nowhere as deep. */
      readonly deeper: number;
    }
  | {
      readonly ok: false;
      /** A point that no piece covers, and the depth asked for there. */
      readonly x: number;
      readonly y: number;
      readonly asked: number;
      /** The greatest depth of the pieces near it; -Infinity where there is none. */
      readonly depth: number;
    };

const SHORTEST_MM = 0.004;
/** Nearer than this part of the tolerance a stretch is taken whole; else it is halved to be measured better. */
const CLOSE = 0.4;

/** A straight stretch and its depth at either end. */
export interface Stretch {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Is every point of a stretch within `tolerance` mm of a piece that there is as deep as it, or less shallow than by
 * `tolerance`? A stretch with both ends near one straight piece is near it all along, the distance to a convex set being
 * convex on a line, and the depths of both change evenly; any other is halved.
 */
export function cover(grid: PieceGrid, stretch: Stretch, tolerance: number): Cover {
  const { ax, ay, bx, by, from, to } = stretch;
  const { pieces, members } = grid;
  const { values } = pieces;
  const close = CLOSE * tolerance;
  let least = close * close;
  let touch = tolerance * tolerance;
  /** By how much the stretch is deeper than the nearest piece that its beginning, or all of it, lies on. */
  let touching: number | undefined;
  let deeper: number | undefined;
  const far = 8 * touch;
  const cell = grid.cellAt(ax, ay);
  const end = cell < 0 ? 0 : grid.starts[cell + 1]!;
  for (let k = cell < 0 ? 0 : grid.starts[cell]!; k < end; k++) {
    const piece = members[k]!;
    const at = FIELDS * piece;
    // Twice the way to the middle of a piece within reach is no more than its length and twice the tolerance.
    const dx = values[at + 2]! - values[at]!;
    const dy = values[at + 3]! - values[at + 1]!;
    const sx = values[at]! + values[at + 2]! - 2 * ax;
    const sy = values[at + 1]! + values[at + 3]! - 2 * ay;
    if (sx * sx + sy * sy > 2 * (dx * dx + dy * dy) + far) continue;
    const partA = pieces.nearestAt(piece, ax, ay);
    const a = pieces.squareAt(piece, partA, ax, ay);
    if (a > tolerance * tolerance) continue;
    const depthA = pieces.depthBeside(piece, partA, a, from - tolerance, tolerance);
    if (depthA < from - tolerance) continue;
    if (a <= touch) {
      touch = a;
      touching = from - depthA;
    }
    if (a > least) continue;
    const partB = pieces.nearestAt(piece, bx, by);
    const b = pieces.squareAt(piece, partB, bx, by);
    if (b > least) continue;
    const depthB = pieces.depthBeside(piece, partB, b, to - tolerance, tolerance);
    if (depthB < to - tolerance) continue;
    least = Math.max(a, b);
    deeper = Math.max(from - depthA, to - depthB);
  }
  if (touching === undefined) return notCovered(grid, ax, ay, from, tolerance);
  if (deeper !== undefined) return { ok: true, worst: Math.sqrt(least), deeper };
  if (Math.hypot(bx - ax, by - ay) < SHORTEST_MM)
    return coverEnd(grid, bx, by, to, tolerance, { off: Math.sqrt(touch), deeper: touching });
  const mx = (ax + bx) / 2;
  const my = (ay + by) / 2;
  const middle = (from + to) / 2;
  const first = cover(grid, { ax, ay, bx: mx, by: my, from, to: middle }, tolerance);
  if (!first.ok) return first;
  const second = cover(grid, { ax: mx, ay: my, bx, by, from: middle, to }, tolerance);
  if (!second.ok) return second;
  return {
    ok: true,
    worst: Math.max(first.worst, second.worst),
    deeper: Math.max(first.deeper, second.deeper),
  };
}

/** The end of a short stretch, and how its beginning lies. */
function coverEnd(
  grid: PieceGrid,
  x: number,
  y: number,
  depth: number,
  tolerance: number,
  beginning: { readonly off: number; readonly deeper: number },
): Cover {
  const { pieces, members } = grid;
  let least = tolerance * tolerance;
  let deeper: number | undefined;
  const cell = grid.cellAt(x, y);
  const end = cell < 0 ? 0 : grid.starts[cell + 1]!;
  for (let k = cell < 0 ? 0 : grid.starts[cell]!; k < end; k++) {
    const piece = members[k]!;
    const part = pieces.nearestAt(piece, x, y);
    const square = pieces.squareAt(piece, part, x, y);
    if (square > least) continue;
    const found = pieces.depthBeside(piece, part, square, depth - tolerance, tolerance);
    if (found < depth - tolerance) continue;
    least = square;
    deeper = depth - found;
  }
  if (deeper === undefined) return notCovered(grid, x, y, depth, tolerance);
  return {
    ok: true,
    worst: Math.max(beginning.off, Math.sqrt(least)),
    deeper: Math.max(beginning.deeper, deeper),
  };
}

function notCovered(grid: PieceGrid, x: number, y: number, asked: number, tolerance: number): Cover {
  const { pieces, members } = grid;
  let depth = Number.NEGATIVE_INFINITY;
  const cell = grid.cellAt(x, y);
  for (let k = cell < 0 ? 0 : grid.starts[cell]!; cell >= 0 && k < grid.starts[cell + 1]!; k++) {
    const piece = members[k]!;
    const part = pieces.nearestAt(piece, x, y);
    if (pieces.squareAt(piece, part, x, y) <= tolerance * tolerance)
      depth = Math.max(depth, pieces.depthAt(piece, part));
  }
  return { ok: false, x, y, asked, depth };
}
