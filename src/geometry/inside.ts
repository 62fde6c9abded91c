import { boundsOfAll } from './bounds.js';
import { orientation } from './orientation.js';
import type { Polyline } from './path.js';

/**
 * By how much the side ab of a ring changes the winding of a ray from (x, y) to the right: 1 where it crosses upward,
 * -1 downward, 0 where it does not. A side reaches from its lower end up to, but not to, its upper one, so that a ray
 * through a corner counts it once. The sign is exact.
 */
function windingOfSide(ax: number, ay: number, bx: number, by: number, x: number, y: number): -1 | 0 | 1 {
  if (ay > y === by > y) return 0;
  const side = orientation(ax, ay, bx, by, x, y);
  if (by > ay) return side > 0 ? 1 : 0;
  return side < 0 ? -1 : 0;
}

/**
 * Whether (x, y) lies within rings by the non-zero rule (SVG 2, 13.4.2). Of points on an edge, those on a left or lower
 * edge lie within, so that areas that share an edge share none of its points.
 */
export function containsPoint(rings: readonly Polyline[], x: number, y: number): boolean {
  let winding = 0;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2)
      winding += windingOfSide(ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!, x, y);
  }
  return winding !== 0;
}

/** Sides to a band, about, and bands at the most. */
const SIDES_OF_BAND = 4;
const MOST_BANDS = 256;

/** `containsPoint` for many points: sides are sorted once into bands by height, and a point looks at its own band. */
export function pointLocator(rings: readonly Polyline[]): (x: number, y: number) => boolean {
  const [left, low, right, high] = boundsOfAll(rings);
  const sides = rings.reduce((sum, ring) => sum + ring.length / 2, 0);
  const bands = Math.min(MOST_BANDS, Math.max(1, Math.floor(sides / SIDES_OF_BAND)));
  const scale = bands / (high - low);
  const bandOf = (y: number) => Math.min(bands - 1, Math.max(0, Math.floor((y - low) * scale) || 0));

  const counts = new Int32Array(bands + 1);
  eachSide(rings, (_, ay, __, by) => {
    for (let k = bandOf(Math.min(ay, by)); k <= bandOf(Math.max(ay, by)); k++) counts[k + 1]!++;
  });
  for (let k = 0; k < bands; k++) counts[k + 1]! += counts[k]!;
  const next = counts.slice();
  const sorted = new Float64Array(4 * counts[bands]!);
  eachSide(rings, (ax, ay, bx, by) => {
    for (let k = bandOf(Math.min(ay, by)); k <= bandOf(Math.max(ay, by)); k++) {
      const at = 4 * next[k]!++;
      sorted[at] = ax;
      sorted[at + 1] = ay;
      sorted[at + 2] = bx;
      sorted[at + 3] = by;
    }
  });

  return (x, y) => {
    if (!(x >= left && x <= right && y >= low && y <= high)) return false;
    const band = bandOf(y);
    let winding = 0;
    for (let i = 4 * counts[band]!; i < 4 * counts[band + 1]!; i += 4) {
      // Only what reaches beyond the point is crossed on the way out.
      if (sorted[i]! < x && sorted[i + 2]! < x) continue;
      winding += windingOfSide(sorted[i]!, sorted[i + 1]!, sorted[i + 2]!, sorted[i + 3]!, x, y);
    }
    return winding !== 0;
  };
}

function eachSide(
  rings: readonly Polyline[],
  take: (ax: number, ay: number, bx: number, by: number) => void,
): void {
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      if (ring[j + 1] !== ring[i + 1]) take(ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!);
    }
  }
}
