import { orient2d } from 'robust-predicates';

/**
 * On which side of the line from a to b the point c lies: positive to the left, negative to the right, 0 on it. The value
 * is about twice the signed area of the triangle abc (mm2, y up); its sign is exact for any doubles (Shewchuk's adaptive
 * predicates, https://www.cs.cmu.edu/~quake/robust.html).
 */
export const orientation = (ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number =>
  // The library counts y downward.
  -orient2d(ax, ay, bx, by, cx, cy);
