import { Search } from './tour-search.js';

/** Kicks for each line, and the fewest and most in all: more would find little more. */
const KICKS_PER_LINE = 12;
const LEAST_KICKS = 200;
const MOST_KICKS = 6000;

/** How far apart two points are, mm. Points are numbered two to a line: 2i where line i begins, 2i + 1 where it ends. */
export type Apart = (p: number, q: number) => number;

/** Lines to be run one after another. */
export interface Lines {
  readonly count: number;
  readonly apart: Apart;
  /** False keeps every line running the way it was drawn. */
  readonly eitherWay: boolean;
}

/** Lines in order, and which of them run from their last point to their first. */
export interface Tour {
  readonly order: Int32Array;
  readonly turned: Uint8Array;
  /** Moves in the air between the lines, mm. */
  readonly air: number;
}

/**
 * The short way through many lines: in what order, and each from which end, so that the moves in the air add up to
 * little. A greedy start, then 2-opt and Or-opt over near neighbours, then small kicks that are kept when they help
 * (Croes 1958; Or 1976; Martin, Otto and Felten 1991; from memory). The kicks come from a fixed sequence, so the same
 * lines always give the same order.
 */
export function shortTour(lines: Lines): Tour {
  const n = lines.count;
  if (n < 2) return { order: new Int32Array(n), turned: new Uint8Array(n), air: 0 };
  const search = new Search(lines);
  search.greedy();
  search.improveAll();
  search.kicks(Math.min(MOST_KICKS, Math.max(LEAST_KICKS, KICKS_PER_LINE * n)));
  return search.tour();
}
