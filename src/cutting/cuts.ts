import type { Polyline } from '../geometry/path.js';

/** One continuous pass-able line on a sheet. Points are x, y pairs in mm on the block's own sheet. */
export interface CutLine {
  readonly points: Polyline;
  /** True when the last point is joined to the first; the first is not repeated. */
  readonly closed: boolean;
  /** Depth at each point along the surface normal, mm, where it changes along the line; else the block's own. */
  readonly depths?: Float64Array;
}

/**
 * One glyph (or piece of artwork) set down on a surface, ready to cut. A block is prepared once and used by every
 * piece that carries the same glyph at the same place; equal keys mean equal blocks.
 */
export interface CutBlock {
  readonly key: string;
  readonly mark: string;
  /** What a person would call it: the character, or the artwork's name. */
  readonly name: string;
  /** The angle, degrees from the index line, that lies on the y axis of this block's sheet. */
  readonly turn: number;
  readonly lines: readonly CutLine[];
  /** Edges of the area the lines take out, for pictures; left out where lines are followed. */
  readonly area?: readonly Polyline[];
  /** Full depth along the surface normal, mm. */
  readonly depth: number;
  /** Depth of each pass in order, mm; the last is `depth`. */
  readonly passes: readonly number[];
}

/** What one load of a cutter on one surface has to cut for one piece, in order. */
export interface Cuts {
  readonly part: string;
  readonly surface: string;
  readonly cutter: string;
  readonly blocks: readonly CutBlock[];
}
