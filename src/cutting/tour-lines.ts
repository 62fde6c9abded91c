import { type Polyline, reverse } from '../geometry/path.js';
import type { CutLine } from './cuts.js';

/** A line run the other way, its depths with it. A closed one keeps its way round. */
export function turnedRound(line: CutLine): CutLine {
  const { points, closed, depths } = line;
  if (closed) return line;
  return { points: reverse(points), closed, ...(depths ? { depths: depths.slice().reverse() } : {}) };
}

/** A closed line begun at its k-th point. */
export function startedAt(line: CutLine, k: number): CutLine {
  const { points, closed, depths } = line;
  return {
    points: rotated(points, 2 * k),
    closed,
    ...(depths ? { depths: rotated(depths, k) } : {}),
  };
}

function rotated(values: Polyline, by: number): Polyline {
  const out = new Float64Array(values.length);
  out.set(values.subarray(by));
  out.set(values.subarray(0, by), values.length - by);
  return out;
}
