import type { PathCommand } from '../geometry/path-command.js';

/**
 * At most how many points a path has once it is flat within `tolerance`, by the bound that flattening uses: a curve's
 * second difference over eight. Not a number where a coordinate is none.
 */
export function chordsIn(path: readonly PathCommand[], tolerance: number): number {
  let points = 0;
  let [x, y] = [0, 0];
  for (const s of path) {
    points++;
    if (s[0] === 'Z') continue;
    if (s[0] === 'Q') points += chords(2 * secondDifference(x, y, s[1], s[2], s[3], s[4]), tolerance);
    else if (s[0] === 'C') {
      const first = secondDifference(x, y, s[1], s[2], s[3], s[4]);
      points += chords(6 * Math.max(first, secondDifference(s[1], s[2], s[3], s[4], s[5], s[6])), tolerance);
    }
    [x, y] = s.slice(-2) as [number, number];
  }
  return points;
}

const chords = (bend: number, tolerance: number): number => Math.sqrt(bend / (8 * tolerance));

const secondDifference = (x0: number, y0: number, x1: number, y1: number, x2: number, y2: number): number =>
  Math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2);
