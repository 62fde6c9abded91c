import type { Polyline } from './path.js';
import { distanceToSegment } from './segment.js';

/**
 * Spans within spans, at the most, that are split at their farthest point. A drawing seldom has a dozen; a spiral, whose
 * farthest point is always next to an end, would have one for each of its points, and take as many looks at all of them.
 */
const MOST_DEPTH = 64;

/**
 * Which of `count` points in a row to keep, by the rule of Douglas and Peucker (1973): the first, the last, and so many
 * between them that none left out lies farther than `tolerance` from the straight stretch that stands for it.
 * `distance(i, from, to)` is that of point i from the stretch between points `from` and `to`. Indices rise.
 *
 * A span deeper than `MOST_DEPTH` is split at its middle, so that no point is looked at more than `MOST_DEPTH` times and
 * the logarithm of their count.
 */
export function simplifyIndices(
  count: number,
  tolerance: number,
  distance: (i: number, from: number, to: number) => number,
): number[] {
  const keep = new Uint8Array(count);
  keep[0] = 1;
  keep[count - 1] = 1;
  const spans: [from: number, to: number, depth: number][] = [[0, count - 1, 0]];
  for (let span = spans.pop(); span; span = spans.pop()) {
    const [from, to, depth] = span;
    let farthest = 0;
    let split = from;
    for (let i = from + 1; i < to; i++) {
      const away = distance(i, from, to);
      if (away <= farthest) continue;
      farthest = away;
      split = i;
    }
    if (farthest <= tolerance) continue;
    if (depth >= MOST_DEPTH) split = (from + to) >> 1;
    keep[split] = 1;
    spans.push([from, split, depth + 1], [split, to, depth + 1]);
  }
  return Array.from({ length: count }, (_, i) => i).filter((i) => keep[i] === 1);
}

/**
 * A line with fewer points, none left out farther than `tolerance` mm from it. A closed line runs from its first point
 * round to it again; one that would collapse stays as it is.
 */
export function simplify(line: Polyline, closed: boolean, tolerance: number): Polyline {
  const n = line.length / 2;
  const at = (i: number) => 2 * (i % n);
  const distance = (i: number, from: number, to: number) => {
    const a = at(from);
    const b = at(to);
    return distanceToSegment(line[2 * i]!, line[2 * i + 1]!, line[a]!, line[a + 1]!, line[b]!, line[b + 1]!);
  };
  const indices = simplifyIndices(closed ? n + 1 : n, tolerance, distance).filter((i) => i < n);
  if (indices.length < (closed ? 3 : 2)) return line;
  return Float64Array.from(indices.flatMap((i) => [line[2 * i]!, line[2 * i + 1]!]));
}
