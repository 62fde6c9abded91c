import type { FlatLine } from '../units.js';

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
export function pathData(points: FlatLine, closed: boolean, decimals = 4): string {
  let d = '';
  for (let i = 0; i < points.length; i += 2)
    d += `${i === 0 ? 'M' : 'L'}${figure(points[i]!, decimals)} ${figure(points[i + 1]!, decimals)}`;
  return closed ? `${d}Z` : d;
}

/** Rings as path data, without the points that lie on a straight run between their neighbours. */
export const ringsData = (rings: readonly FlatLine[]): string =>
  rings.map((ring) => pathData(cornersOf(ring), true)).join('');

function cornersOf(ring: FlatLine): FlatLine {
  const n = ring.length / 2;
  const corners: number[] = [];
  for (let i = 0; i < n; i++) {
    const [x, y] = [ring[2 * i]!, ring[2 * i + 1]!];
    const [a, b] = [2 * ((i + n - 1) % n), 2 * ((i + 1) % n)];
    const [ux, uy] = [x - ring[a]!, y - ring[a + 1]!];
    const [vx, vy] = [ring[b]! - x, ring[b + 1]! - y];
    const straight = Math.abs(ux * vy - uy * vx) <= 1e-9 && ux * vx + uy * vy >= 0;
    if (!straight) corners.push(x, y);
  }
  return Float64Array.from(corners.length >= 6 ? corners : ring);
}
