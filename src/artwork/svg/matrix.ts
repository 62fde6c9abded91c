import type { PathCommand } from '../../geometry/path-command.js';

/** An affine map: x' = a x + c y + e, y' = b x + d y + f, as SVG writes it. */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

/** The map that does `then` first and `first` after it: `first` is the outer one. */
export function times([a, b, c, d, e, f]: Matrix, [g, h, i, j, k, l]: Matrix): Matrix {
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f];
}

export const determinant = ([a, b, c, d]: Matrix): number => a * d - b * c;

/** A path carried over by a map. */
export function transformPath(path: readonly PathCommand[], [a, b, c, d, e, f]: Matrix): PathCommand[] {
  return path.map((segment) => {
    const [command, ...v] = segment as readonly [string, ...number[]];
    const out: (string | number)[] = [command];
    for (let i = 0; i < v.length; i += 2)
      out.push(a * v[i]! + c * v[i + 1]! + e, b * v[i]! + d * v[i + 1]! + f);
    return out as unknown as PathCommand;
  });
}
