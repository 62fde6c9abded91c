import { orientation } from '../../geometry/orientation.js';
import type { Point } from '../../geometry/path.js';
import { segmentsTouch } from '../../geometry/segment.js';

export interface OutlineFault {
  readonly kind: 'repeats' | 'folds' | 'crosses';
  /** The corner at which the faulty side begins. */
  readonly corner: number;
}

const side = (a: Point, b: Point, c: Point): number => orientation(...a, ...b, ...c);

/** The first reason why a closed outline does not bound one patch of the sheet. */
export function outlineFault(corners: readonly Point[]): OutlineFault | undefined {
  const n = corners.length;
  const corner = (i: number): Point => corners[((i % n) + n) % n]!;
  for (let i = 0; i < n; i++) {
    const [a, b, c] = [corner(i - 1), corner(i), corner(i + 1)];
    if (a[0] === b[0] && a[1] === b[1]) return { kind: 'repeats', corner: i };
    const back = (a[0] - b[0]) * (c[0] - b[0]) + (a[1] - b[1]) * (c[1] - b[1]);
    if (side(a, b, c) === 0 && back > 0) return { kind: 'folds', corner: i };
  }
  for (let i = 0; i < n; i++) {
    for (let j = i + 2; j < n; j++) {
      // the last side meets the first at their shared corner
      if (i === 0 && j === n - 1) continue;
      if (meet(corner(i), corner(i + 1), corner(j), corner(j + 1))) {
        return { kind: 'crosses', corner: j };
      }
    }
  }
  return undefined;
}

const meet = (a: Point, b: Point, c: Point, d: Point): boolean => segmentsTouch(...a, ...b, ...c, ...d);
