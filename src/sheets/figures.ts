import type { Polyline } from '../geometry/path.js';

/** A coordinate, mm: four decimals at most, never an exponent, never -0. */
export function figure(value: number, decimals = 4): string {
  if (!Number.isFinite(value)) throw new RangeError(`${value} cannot be drawn`);
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}

/** A figure a person reads, with a true minus sign. */
export const told = (value: number, decimals = 3): string => figure(value, decimals).replace('-', '\u2212');

/** One line as path data. */
export function pathData(points: Polyline, closed: boolean, decimals = 4): string {
  let d = '';
  for (let i = 0; i < points.length; i += 2)
    d += `${i === 0 ? 'M' : 'L'}${figure(points[i]!, decimals)} ${figure(points[i + 1]!, decimals)}`;
  return closed ? `${d}Z` : d;
}

/** How far a picture's edge may stray where points are left out of it, mm: a tenth of what print can show. */
const RING_STRAY_MM = 0.0005;

/** Rings as path data, without the points a straight edge can do without. Never used for a cut. */
export const ringsData = (rings: readonly Polyline[]): string =>
  rings.map((ring) => pathData(thinned(ring, true, RING_STRAY_MM), true)).join('');

/** How far a line may stray where it is only shown, enlarged a few times, mm. */
const SHOWN_STRAY_MM = 0.005;

/** A line to be looked at and not measured: as few points as the eye needs, so that thousands fit on one proof. */
export const shownData = (points: Polyline, closed: boolean): string =>
  pathData(thinned(points, closed, SHOWN_STRAY_MM), closed, 3);

/** By Douglas and Peucker's rule; a closed line from its first point round to it again. */
function thinned(line: Polyline, closed: boolean, most: number): Polyline {
  const n = line.length / 2;
  const last = closed ? n : n - 1;
  const keep = new Set([0, last % n]);
  const spans: [number, number][] = [[0, last]];
  for (let span = spans.pop(); span; span = spans.pop()) {
    const [from, to] = span;
    let far = 0;
    let split = -1;
    for (let i = from + 1; i < to; i++) {
      const stray = fromChord(line, i, from, to % n);
      if (stray > far) [far, split] = [stray, i];
    }
    if (far <= most) continue;
    keep.add(split);
    spans.push([from, split], [split, to]);
  }
  if (keep.size < (closed ? 3 : 2)) return line;
  return Float64Array.from([...keep].sort((a, b) => a - b).flatMap((i) => [line[2 * i]!, line[2 * i + 1]!]));
}

/** How far point i lies from the straight stretch between points a and b. */
function fromChord(line: Polyline, i: number, a: number, b: number): number {
  const [ax, ay] = [line[2 * a]!, line[2 * a + 1]!];
  const [dx, dy] = [line[2 * b]! - ax, line[2 * b + 1]! - ay];
  const [px, py] = [line[2 * i]! - ax, line[2 * i + 1]! - ay];
  const length = dx * dx + dy * dy;
  const t = length > 0 ? Math.min(1, Math.max(0, (px * dx + py * dy) / length)) : 0;
  return Math.hypot(px - t * dx, py - t * dy);
}

/** The least and the most of some figures, however many; both 0 when there are none. */
export function spanOf(values: Iterable<number>): [least: number, most: number] {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return least > most ? [0, 0] : [least, most];
}
