import type { Polyline } from '../geometry/path.js';
import { simplify } from '../geometry/simplify.js';

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
  rings.map((ring) => pathData(simplify(ring, true, RING_STRAY_MM), true)).join('');

/** How far a line may stray where it is only shown, enlarged a few times, mm. */
const SHOWN_STRAY_MM = 0.005;

/** A line to be looked at and not measured: as few points as the eye needs, so that thousands fit on one proof. */
export const shownData = (points: Polyline, closed: boolean): string =>
  pathData(simplify(points, closed, SHOWN_STRAY_MM), closed, 3);

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
