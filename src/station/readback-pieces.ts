import { distanceToSegment, squaredDistanceToSegment } from '../geometry/segment.js';
import type { StepCounter } from './reader-budget.js';

/**
 * Straight pieces on a sheet, mm, in the order they are added, and how deep each is along the normal: at its shallowest
 * and its deepest. A program has hundreds of thousands, so they stand in one array of numbers.
 */
export class PieceList {
  /** x0, y0, x1, y1, shallow, deep of each piece. */
  values = new Float64Array(FIELDS * 16);
  count = 0;

  add(x0: number, y0: number, x1: number, y1: number, shallow: number, deep: number): void {
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
    values[at + SHALLOW] = shallow;
    values[at + DEEP] = deep;
  }

  /** Distance from a point to a piece, mm. */
  distance(piece: number, x: number, y: number): number {
    const { values } = this;
    const at = FIELDS * piece;
    return distanceToSegment(x, y, values[at]!, values[at + 1]!, values[at + 2]!, values[at + 3]!);
  }
}

export const FIELDS = 6;
export const SHALLOW = 4;
export const DEEP = 5;

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
      /** The least depth, mm, of the pieces it lies on. */
      readonly depth: number;
    }
  | {
      readonly ok: false;
      /** A point that no piece covers, and the greatest depth of the pieces near it; -Infinity where there is none. */
      readonly x: number;
      readonly y: number;
      readonly depth: number;
    };

const SHORTEST_MM = 0.004;
/** Nearer than this part of the tolerance a stretch is taken whole; else it is halved to be measured better. */
const CLOSE = 0.4;
/** Squares of distances are compared with this much room, and what is left is measured exactly. */
const ROOM = 1 + 1e-9;

/**
 * Is every point of the stretch a-b within `tolerance` mm of a piece with at least a depth? `by` says which depth of the
 * pieces is meant. A stretch with both ends near one straight piece is near it all along, the distance to a convex set
 * being convex on a line; any other is halved.
 */
export function cover(
  grid: PieceGrid,
  ax: number,
  ay: number,
  bx: number,
  by: number,
  tolerance: number,
  depthField: typeof SHALLOW | typeof DEEP,
  depth: number,
): Cover {
  const { pieces, members } = grid;
  const { values } = pieces;
  // Squares say which piece is nearest; only its distance is measured.
  let best = -1;
  let least = (CLOSE * tolerance) ** 2 * ROOM;
  let touching = -1;
  let touch = tolerance * tolerance * ROOM;
  const cell = grid.cellAt(ax, ay);
  const end = cell < 0 ? 0 : grid.starts[cell + 1]!;
  for (let k = cell < 0 ? 0 : grid.starts[cell]!; k < end; k++) {
    const piece = members[k]!;
    const at = FIELDS * piece;
    if (values[at + depthField]! < depth) continue;
    const x0 = values[at]!;
    const y0 = values[at + 1]!;
    const x1 = values[at + 2]!;
    const y1 = values[at + 3]!;
    const a = squaredDistanceToSegment(ax, ay, x0, y0, x1, y1);
    if (a < touch) {
      touch = a;
      touching = piece;
    }
    if (a >= least) continue;
    const worse = Math.max(a, squaredDistanceToSegment(bx, by, x0, y0, x1, y1));
    if (worse < least) {
      least = worse;
      best = piece;
    }
  }
  const off = touching < 0 ? Number.POSITIVE_INFINITY : pieces.distance(touching, ax, ay);
  if (off > tolerance) return notCovered(grid, ax, ay, tolerance, depthField);
  if (best >= 0) {
    const worst = Math.max(pieces.distance(best, ax, ay), pieces.distance(best, bx, by));
    if (worst <= CLOSE * tolerance) return { ok: true, worst, depth: values[FIELDS * best + depthField]! };
  }
  if (Math.hypot(bx - ax, by - ay) < SHORTEST_MM)
    return coverEnd(grid, bx, by, tolerance, off, depthField, depth);
  const mx = (ax + bx) / 2;
  const my = (ay + by) / 2;
  const first = cover(grid, ax, ay, mx, my, tolerance, depthField, depth);
  if (!first.ok) return first;
  const second = cover(grid, mx, my, bx, by, tolerance, depthField, depth);
  if (!second.ok) return second;
  return {
    ok: true,
    worst: Math.max(first.worst, second.worst),
    depth: Math.min(first.depth, second.depth),
  };
}

/** The end of a short stretch whose beginning lies `touch` mm off. */
function coverEnd(
  grid: PieceGrid,
  x: number,
  y: number,
  tolerance: number,
  touch: number,
  depthField: typeof SHALLOW | typeof DEEP,
  depth: number,
): Cover {
  const { pieces, members } = grid;
  let end = Number.POSITIVE_INFINITY;
  let other = -1;
  const cell = grid.cellAt(x, y);
  for (let k = cell < 0 ? 0 : grid.starts[cell]!; cell >= 0 && k < grid.starts[cell + 1]!; k++) {
    const piece = members[k]!;
    if (pieces.values[FIELDS * piece + depthField]! < depth) continue;
    const b = pieces.distance(piece, x, y);
    if (b < end) [end, other] = [b, piece];
  }
  if (other < 0 || end > tolerance) return notCovered(grid, x, y, tolerance, depthField);
  return { ok: true, worst: Math.max(touch, end), depth: pieces.values[FIELDS * other + depthField]! };
}

function notCovered(
  grid: PieceGrid,
  x: number,
  y: number,
  tolerance: number,
  depthField: typeof SHALLOW | typeof DEEP,
): Cover {
  const { pieces, members } = grid;
  let depth = Number.NEGATIVE_INFINITY;
  const cell = grid.cellAt(x, y);
  for (let k = cell < 0 ? 0 : grid.starts[cell]!; cell >= 0 && k < grid.starts[cell + 1]!; k++) {
    const piece = members[k]!;
    if (pieces.distance(piece, x, y) <= tolerance)
      depth = Math.max(depth, pieces.values[FIELDS * piece + depthField]!);
  }
  return { ok: false, x, y, depth };
}
