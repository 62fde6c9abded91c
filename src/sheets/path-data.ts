import type { Polyline } from '../geometry/path.js';
import { simplify } from '../geometry/simplify.js';
import { formatCoordinate } from './readable-numbers.js';

/** Writes a line as SVG path data: `pathData` point for point, or `simplifiedPathData` for pictures only looked at. */
export type LineWriter = (points: Polyline, closed: boolean) => string;

/** A line as path data, point for point. */
export function pathData(points: Polyline, closed: boolean, decimals = 4): string {
  let d = '';
  for (let i = 0; i < points.length; i += 2)
    d += `${i === 0 ? 'M' : 'L'}${formatCoordinate(points[i]!, decimals)} ${formatCoordinate(points[i + 1]!, decimals)}`;
  return closed ? `${d}Z` : d;
}

/** How far the edge of a drawn area may stray where points are left out, mm: a tenth of what print can show. */
const RING_STRAY_MM = 0.0005;

/** Rings as path data, without the points a straight edge does not need. Never used for a cut. */
export const ringsData = (rings: readonly Polyline[]): string =>
  rings.map((ring) => pathData(simplify(ring, true, RING_STRAY_MM), true)).join('');

/** How far a line may stray where it is only shown, enlarged a few times, mm. */
const SHOWN_STRAY_MM = 0.005;

/** A line that is looked at and not measured, in few points, so that thousands fit on one proof. */
export const simplifiedPathData: LineWriter = (points, closed) =>
  pathData(simplify(points, closed, SHOWN_STRAY_MM), closed, 3);
