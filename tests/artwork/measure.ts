import type { PathCommand } from '../../src/geometry/path-command.js';

/** The signed area of a path's closed curves, by Green's theorem; exact for lines and Bezier curves. */
export function exactArea(path: readonly PathCommand[]): number {
  let sum = 0;
  let [x, y, sx, sy] = [0, 0, 0, 0];
  const line = (tx: number, ty: number) => {
    sum += (x * ty - tx * y) / 2;
    [x, y] = [tx, ty];
  };
  for (const s of path) {
    if (s[0] === 'M') {
      line(sx, sy);
      [x, y, sx, sy] = [s[1], s[2], s[1], s[2]];
    } else if (s[0] === 'L') line(s[1], s[2]);
    else if (s[0] === 'Z') line(sx, sy);
    else {
      const v = s.slice(1) as number[];
      const p =
        s[0] === 'C'
          ? [x, y, ...v]
          : [x, y, x + (2 / 3) * (v[0]! - x), y + (2 / 3) * (v[1]! - y), ...thirds(v)];
      sum += cubicArea(p);
      [x, y] = v.slice(-2) as [number, number];
    }
  }
  line(sx, sy);
  return sum;
}

const thirds = ([cx, cy, ex, ey]: readonly number[]): number[] => [
  ex! + (2 / 3) * (cx! - ex!),
  ey! + (2 / 3) * (cy! - ey!),
  ex!,
  ey!,
];

/** Half the integral of x dy - y dx along a cubic: crosses of its points, weighted as the Bernstein products are. */
function cubicArea(p: readonly number[]): number {
  const cross = (i: number, j: number) => p[2 * i]! * p[2 * j + 1]! - p[2 * j]! * p[2 * i + 1]!;
  return (
    (6 * cross(0, 1) + 3 * cross(0, 2) + cross(0, 3) + 3 * cross(1, 2) + 3 * cross(1, 3) + 6 * cross(2, 3)) /
    20
  );
}

/** Even figures from 0 to 1 out of a seed, the same on every machine. */
export function figures(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
