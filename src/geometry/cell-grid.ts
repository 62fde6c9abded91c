import type { Bounds } from './bounds.js';
import type { Path, Polyline } from './path.js';
import { distanceToSegment } from './segment.js';

/** A window in square cells, row by row from the lower left. */
export interface Cells {
  readonly left: number;
  readonly bottom: number;
  /** Width of a cell, mm. */
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
}

/** A set of cells: 1 for each that is in it. */
export type CellSet = Uint8Array;

export function cellsOver([left, bottom, right, top]: Bounds, cell: number): Cells {
  const columns = Math.max(1, Math.ceil((right - left) / cell));
  const rows = Math.max(1, Math.ceil((top - bottom) / cell));
  return { left, bottom, cell, columns, rows };
}

/** x and y of the middle of a cell, mm. */
export const middleOf = (cells: Cells, k: number): readonly [x: number, y: number] => [
  cells.left + ((k % cells.columns) + 0.5) * cells.cell,
  cells.bottom + (Math.floor(k / cells.columns) + 0.5) * cells.cell,
];

/** Of a place, mm: what holds of the cell that it lies in; false outside the window. */
export const atCell =
  ({ left, bottom, cell, columns, rows }: Cells, holds: (k: number) => boolean) =>
  (x: number, y: number): boolean => {
    const column = Math.floor((x - left) / cell);
    const row = Math.floor((y - bottom) / cell);
    return column >= 0 && row >= 0 && column < columns && row < rows && holds(row * columns + column);
  };

/** The cells whose middles lie in an area: its rings wind round them (non-zero fill, as fonts have it). */
export function cellsWithin(cells: Cells, rings: readonly Polyline[]): CellSet {
  const out = new Uint8Array(cells.columns * cells.rows);
  const { left, bottom, cell, columns, rows } = cells;
  const crossings: { at: number; way: number }[][] = Array.from({ length: rows }, () => []);
  for (const ring of rings)
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [ax, ay, bx, by] = [ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!];
      const [low, high] = [Math.min(ay, by), Math.max(ay, by)];
      const first = Math.max(0, Math.ceil((low - bottom) / cell - 0.5));
      for (let row = first; row < rows; row++) {
        const y = bottom + (row + 0.5) * cell;
        if (y >= high) break;
        if (y >= low)
          crossings[row]!.push({ at: ax + ((y - ay) / (by - ay)) * (bx - ax), way: by > ay ? 1 : -1 });
      }
    }
  for (const [row, found] of crossings.entries()) {
    found.sort((a, b) => a.at - b.at);
    let winding = 0;
    let next = 0;
    for (let column = 0; column < columns; column++) {
      const x = left + (column + 0.5) * cell;
      while (next < found.length && found[next]!.at <= x) winding += found[next++]!.way;
      if (winding !== 0) out[row * columns + column] = 1;
    }
  }
  return out;
}

/** The cells whose middles lie within `reach` mm of lines. */
export function cellsAlong(cells: Cells, paths: readonly Path[], reach: number): CellSet {
  const out = new Uint8Array(cells.columns * cells.rows);
  const { left, bottom, cell, columns, rows } = cells;
  const span = (low: number, high: number, from: number, count: number): readonly [number, number] => [
    Math.max(0, Math.floor((low - reach - from) / cell - 0.5)),
    Math.min(count - 1, Math.ceil((high + reach - from) / cell - 0.5)),
  ];
  for (const { points, closed } of paths) {
    const count = points.length / 2;
    const last = closed ? count : Math.max(1, count - 1);
    for (let n = 0; n < last; n++) {
      const m = (n + 1) % count;
      const [ax, ay, bx, by] = [points[2 * n]!, points[2 * n + 1]!, points[2 * m]!, points[2 * m + 1]!];
      const [c0, c1] = span(Math.min(ax, bx), Math.max(ax, bx), left, columns);
      const [r0, r1] = span(Math.min(ay, by), Math.max(ay, by), bottom, rows);
      for (let row = r0; row <= r1; row++)
        for (let column = c0; column <= c1; column++) {
          const x = left + (column + 0.5) * cell;
          const y = bottom + (row + 0.5) * cell;
          if (distanceToSegment(x, y, ax, ay, bx, by) <= reach) out[row * columns + column] = 1;
        }
    }
  }
  return out;
}

/** Pieces of a set: `of` has the number of each cell's piece, from 1, and 0 outside the set. */
export interface Pieces {
  readonly of: Int32Array;
  readonly count: number;
}

/** The pieces that hang together by their sides, or by their corners also. */
export function piecesOf({ columns, rows }: Cells, set: CellSet, byCorners: boolean): Pieces {
  const of = new Int32Array(set.length);
  const stack = new Int32Array(set.length);
  let height = 0;
  let count = 0;
  const take = (k: number): void => {
    if (set[k] === 0 || of[k] !== 0) return;
    of[k] = count;
    stack[height++] = k;
  };
  for (let start = 0; start < set.length; start++) {
    if (set[start] === 0 || of[start] !== 0) continue;
    count++;
    take(start);
    while (height > 0) {
      const k = stack[--height]!;
      const column = k % columns;
      const isLeft = column === 0;
      const isRight = column === columns - 1;
      const isLow = k < columns;
      const isHigh = k >= columns * (rows - 1);
      if (!isLeft) take(k - 1);
      if (!isRight) take(k + 1);
      if (!isLow) take(k - columns);
      if (!isHigh) take(k + columns);
      if (!byCorners) continue;
      if (!isLow && !isLeft) take(k - columns - 1);
      if (!isLow && !isRight) take(k - columns + 1);
      if (!isHigh && !isLeft) take(k + columns - 1);
      if (!isHigh && !isRight) take(k + columns + 1);
    }
  }
  return { of, count };
}

const FAR = 1e12;

/**
 * From the middle of each cell to that of the nearest cell of a set, mm; infinite where the set is empty. Exact: the lower
 * envelope of parabolas, by columns and then by rows (Felzenszwalb and Huttenlocher, "Distance Transforms of Sampled
 * Functions", Theory of Computing 8, 2012).
 */
export function distancesTo(cells: Cells, set: CellSet): Float64Array {
  const { columns, rows, cell } = cells;
  const out = new Float64Array(set.length);
  for (let k = 0; k < set.length; k++) out[k] = set[k] ? 0 : FAR;
  const longest = Math.max(columns, rows);
  const scratch = {
    values: new Float64Array(longest),
    tops: new Int32Array(longest),
    from: new Float64Array(longest + 1),
  };
  for (let column = 0; column < columns; column++) envelope(out, column, columns, rows, scratch);
  for (let row = 0; row < rows; row++) envelope(out, row * columns, 1, columns, scratch);
  for (let k = 0; k < out.length; k++)
    out[k] = out[k]! >= FAR ? Number.POSITIVE_INFINITY : Math.sqrt(out[k]!) * cell;
  return out;
}

interface Scratch {
  readonly values: Float64Array;
  readonly tops: Int32Array;
  readonly from: Float64Array;
}

/** One row or column of squares of distances, in cells. */
function envelope(
  out: Float64Array,
  start: number,
  stride: number,
  count: number,
  { values, tops, from }: Scratch,
): void {
  for (let q = 0; q < count; q++) values[q] = out[start + q * stride]!;
  let last = 0;
  tops[0] = 0;
  from[0] = Number.NEGATIVE_INFINITY;
  from[1] = Number.POSITIVE_INFINITY;
  for (let q = 1; q < count; q++) {
    const top = values[q]! + q * q;
    let p = tops[last]!;
    let at = (top - values[p]! - p * p) / (2 * (q - p));
    while (at <= from[last]!) {
      p = tops[--last]!;
      at = (top - values[p]! - p * p) / (2 * (q - p));
    }
    tops[++last] = q;
    from[last] = at;
    from[last + 1] = Number.POSITIVE_INFINITY;
  }
  last = 0;
  for (let q = 0; q < count; q++) {
    while (from[last + 1]! < q) last++;
    const p = tops[last]!;
    out[start + q * stride] = (q - p) ** 2 + values[p]!;
  }
}
