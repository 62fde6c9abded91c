import type { Bounds } from '../geometry/bounds.js';
import { type CellSet, type Cells, cellsOver, distancesTo, middleOf } from '../geometry/cell-grid.js';

/** A letter as it is seen, in its own frame, mm: its baseline level at y = 0. */
export interface LetterShape {
  readonly cells: Cells;
  /** The cells that show it. */
  readonly set: CellSet;
  /** From each cell to the nearest that shows it, mm. */
  readonly distances: Float64Array;
  /** The middle of what shows, in columns of cells. */
  readonly middle: number;
  /** mm. */
  readonly width: number;
}

/** Cells to the height of a letter. */
export const CELLS_OF_HEIGHT = 48;
/** Cells beside a letter: farther away nothing is alike. */
const BESIDE = 10;
/** Two letters may lie off by so many cells each way when they are laid over one another. */
const SHIFT = 1;
/**
 * Letters no place of which lies farther than this part of their height from the other are taken for one another (common
 * practice, no source): nearest come, of the digits and capitals of five fonts, a sloped 1 and I with serifs, 0.10.
 */
export const ALIKE = 0.08;

/** Half the width of slits and threads that nobody sees, as a part of the height. */
export const THREAD = 0.01;

/** Half the width of a slit or thread, mm, that neither parts nor joins a letter `height` mm high, cut `width` mm wide. */
export const halfThread = (width: number, height: number): number => Math.min(THREAD * height, width / 4);

/**
 * How far inside a cut, mm, a place must lie to count for a letter `height` mm high, cut in lines `width` mm wide: threads
 * do not; of a line that is finer than cells `cell` mm wide, the nearest do.
 */
export const firmLimit = (width: number, height: number, cell: number): number =>
  Math.min(halfThread(width, height), width / 2 - 0.75 * cell);

/** The shape of what `shows` at places within bounds, mm, of letters `height` mm high. Undefined where nothing does. */
export function letterShape(
  [left, bottom, right, top]: Bounds,
  height: number,
  shows: (x: number, y: number) => boolean,
): LetterShape | undefined {
  const cell = height / CELLS_OF_HEIGHT;
  const pad = BESIDE * cell;
  // Rows of all letters lie at the same heights.
  const low = Math.floor((bottom - pad) / cell) * cell;
  const cells = cellsOver([left - pad, low, right + pad, top + pad], cell);
  const set = new Uint8Array(cells.columns * cells.rows);
  let [first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < set.length; k++) {
    const [x, y] = middleOf(cells, k);
    if (x < left || x > right || y < bottom || y > top || !shows(x, y)) continue;
    set[k] = 1;
    first = Math.min(first, k % cells.columns);
    last = Math.max(last, k % cells.columns);
  }
  if (first > last) return undefined;
  return {
    cells,
    set,
    distances: distancesTo(cells, set),
    middle: (first + last) / 2,
    width: (last + 1 - first) * cell,
  };
}

/**
 * How far the worst place of one letter lies from another of the same height, mm, laid over it as well as can be; or
 * infinity where that is more than `most`.
 */
export function differenceOf(one: LetterShape, other: LetterShape, most: number): number {
  // The wider one stands out to one side at the least.
  const wider = Math.abs(one.width - other.width);
  if (wider / 2 > most + (SHIFT + 1) * one.cells.cell) return Number.POSITIVE_INFINITY;
  let least = most;
  let found = Number.POSITIVE_INFINITY;
  const across = Math.round(other.middle - one.middle);
  const up = Math.round((one.cells.bottom - other.cells.bottom) / one.cells.cell);
  for (let dx = -SHIFT; dx <= SHIFT; dx++)
    for (let dy = -SHIFT; dy <= SHIFT; dy++) {
      const there = farthest(one, other, across + dx, up + dy, least);
      const back = there > least ? there : farthest(other, one, -across - dx, -up - dy, least);
      if (back > least) continue;
      least = Math.max(there, back);
      found = least;
    }
  return found;
}

/** How far any cell of one letter lies from the nearest of another, moved by whole cells; or something above `enough`. */
function farthest(one: LetterShape, other: LetterShape, dx: number, dy: number, enough: number): number {
  const { columns, rows } = other.cells;
  let most = 0;
  for (let k = 0; k < one.set.length; k++) {
    if (one.set[k] === 0) continue;
    const column = (k % one.cells.columns) + dx;
    const row = Math.floor(k / one.cells.columns) + dy;
    const isWithin = column >= 0 && row >= 0 && column < columns && row < rows;
    const away = isWithin ? other.distances[row * columns + column]! : Number.POSITIVE_INFINITY;
    if (away > most) most = away;
    if (most > enough) return most;
  }
  return most;
}
