import type { Polyline } from '../geometry/path.js';
import { formatCoordinate } from './readable-numbers.js';

/**
 * Hatching of polygons as path data: parallel lines at 45 degrees, `gap` mm apart, each clipped to the polygons here
 * rather than by the reader, so that every reader and every plotter shows the same. Lines lie on one grid through
 * the origin, so touching areas hatch as one. Rings must not overlap (holes are rings inside rings).
 */
export function hatchData(rings: readonly Polyline[], gap: number): string {
  const step = gap * Math.SQRT2;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const ring of rings)
    for (let i = 0; i < ring.length; i += 2) {
      const c = ring[i + 1]! - ring[i]!;
      least = Math.min(least, c);
      most = Math.max(most, c);
    }
  let d = '';
  // A hatch line is y - x = c, and a point on it has its own x + y.
  for (let k = Math.ceil(least / step); k * step <= most; k++) {
    const c = k * step;
    const meets: number[] = [];
    for (const ring of rings)
      for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
        const from = ring[j + 1]! - ring[j]! - c;
        const to = ring[i + 1]! - ring[i]! - c;
        if (from < 0 === to < 0) continue;
        const t = from / (from - to);
        const a = ring[j]! + ring[j + 1]!;
        meets.push(a + t * (ring[i]! + ring[i + 1]! - a));
      }
    meets.sort((a, b) => a - b);
    for (let m = 0; m + 1 < meets.length; m += 2) {
      const [a, b] = [meets[m]!, meets[m + 1]!];
      const at = (v: number): string => `${formatCoordinate((v - c) / 2)} ${formatCoordinate((v + c) / 2)}`;
      d += `M${at(a)}L${at(b)}`;
    }
  }
  return d;
}
