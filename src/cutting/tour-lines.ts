import { type Polyline, reversePolyline } from '../geometry/path.js';
import type { CutLine } from './cuts.js';

/** The same line from its last point to its first, depths included. A closed line keeps its direction. */
export function reverseLine(line: CutLine): CutLine {
  const { points, closed, depths } = line;
  if (closed) return line;
  return { points: reversePolyline(points), closed, ...(depths ? { depths: depths.slice().reverse() } : {}) };
}

/** A closed line that begins at its k-th point. */
export function startAt(line: CutLine, k: number): CutLine {
  const { points, closed, depths } = line;
  return {
    points: rotate(points, 2 * k),
    closed,
    ...(depths ? { depths: rotate(depths, k) } : {}),
  };
}

function rotate(values: Polyline, by: number): Polyline {
  const out = new Float64Array(values.length);
  out.set(values.subarray(by));
  out.set(values.subarray(0, by), values.length - by);
  return out;
}
