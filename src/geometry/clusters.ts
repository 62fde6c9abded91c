import { type Bounds, boundsOf } from './bounds.js';
import type { Polyline } from './path.js';

/** Pairs of bounds compared for each ring, at the least and as a part of the square root of their number. */
const LEAST_COMPARED = 200;
const COMPARED_OF_ROOT = 4;

/**
 * Rings that have nothing to do with one another, by their places in the list: no bounds of one cluster come within
 * `apart` mm of those of another. Clusters stand in the order of their first rings. Where so many rings lie abreast
 * that comparing them would itself be long, all are one.
 */
export function clusterRings(rings: readonly Polyline[], apart: number): number[][] {
  const bounds = rings.map(boundsOf);
  const first = rings.map((_, i) => i);
  const firstOf = (i: number): number => {
    let at = i;
    while (first[at] !== at) {
      first[at] = first[first[at]!]!;
      at = first[at]!;
    }
    return at;
  };
  const join = (i: number, j: number): void => {
    const [a, b] = [firstOf(i), firstOf(j)];
    first[Math.max(a, b)] = Math.min(a, b);
  };
  let left = rings.length * Math.max(LEAST_COMPARED, COMPARED_OF_ROOT * Math.sqrt(rings.length));
  let abreast: number[] = [];
  for (const i of rings.map((_, k) => k).sort((a, b) => bounds[a]![0] - bounds[b]![0] || a - b)) {
    const own = bounds[i]!;
    abreast = abreast.filter((j) => bounds[j]![2] + apart >= own[0]);
    left -= abreast.length;
    if (left < 0) return [rings.map((_, k) => k)];
    for (const j of abreast) if (near(bounds[j]!, own, apart)) join(i, j);
    abreast.push(i);
  }
  const members = new Map<number, number[]>();
  for (let i = 0; i < rings.length; i++) {
    const of = firstOf(i);
    const known = members.get(of);
    if (known) known.push(i);
    else members.set(of, [i]);
  }
  return [...members.values()];
}

/** Whether bounds that meet along x, or nearly, do so along y as well. */
const near = (a: Bounds, b: Bounds, apart: number): boolean => a[1] <= b[3] + apart && b[1] <= a[3] + apart;
