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
export function mapped(path: readonly PathCommand[], [a, b, c, d, e, f]: Matrix): PathCommand[] {
  return path.map((segment) => {
    const [command, ...v] = segment as readonly [string, ...number[]];
    const out: (string | number)[] = [command];
    for (let i = 0; i < v.length; i += 2)
      out.push(a * v[i]! + c * v[i + 1]! + e, b * v[i]! + d * v[i + 1]! + f);
    return out as unknown as PathCommand;
  });
}

const COUNTS: Readonly<Record<string, readonly number[]>> = {
  matrix: [6],
  translate: [1, 2],
  scale: [1, 2],
  rotate: [1, 3],
  skewX: [1],
  skewY: [1],
};

/** A `transform` attribute (SVG 2, 8.5); undefined when it cannot be read. */
export function transformOf(text: string): Matrix | undefined {
  let matrix: Matrix = IDENTITY;
  const form = /\s*([a-zA-Z]+)\s*\(([^()]*)\)\s*,?/y;
  const trimmed = text.trim();
  if (trimmed === 'none') return matrix;
  while (form.lastIndex < trimmed.length) {
    const match = form.exec(trimmed);
    if (!match) return undefined;
    const v = match[2]!
      .trim()
      .split(/[\s,]+/)
      .filter((s) => s !== '')
      .map((s) => Number(s.replace(/(deg|px)$/, '')));
    const counts = COUNTS[match[1]!];
    if (!counts?.includes(v.length) || !v.every(Number.isFinite)) return undefined;
    matrix = times(matrix, one(match[1]!, v));
  }
  return matrix;
}

function one(name: string, v: readonly number[]): Matrix {
  const [p = 0, q = 0, r = 0] = v;
  const radians = (p * Math.PI) / 180;
  switch (name) {
    case 'matrix':
      return v as unknown as Matrix;
    case 'translate':
      return [1, 0, 0, 1, p, q];
    case 'scale':
      return [p, 0, 0, v.length > 1 ? q : p, 0, 0];
    case 'skewX':
      return [1, 0, Math.tan(radians), 1, 0, 0];
    case 'skewY':
      return [1, Math.tan(radians), 0, 1, 0, 0];
    default: {
      const [c, s] = [Math.cos(radians), Math.sin(radians)];
      return [c, s, -s, c, q - c * q + s * r, r - s * q - c * r];
    }
  }
}
