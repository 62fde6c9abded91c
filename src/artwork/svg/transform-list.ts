import { numbersOf, splitValue } from './css-values.js';
import { IDENTITY, type Matrix, times } from './matrix.js';

/** Reads a length along x or y, or out of the page, in user units; undefined for none. */
export type ReadLength = (text: string, axis: 'x' | 'y' | 'z') => number | undefined;
/** Reads an angle in degrees; zero may stand without a unit. */
export type ReadAngle = (text: string) => number | undefined;

export interface TransformUnits {
  readonly length: ReadLength;
  readonly angle: ReadAngle;
  readonly number: (text: string) => number | undefined;
  /** A number or a percentage, as parts of 1. */
  readonly ratio: (text: string) => number | undefined;
}

const COUNTS: Readonly<Record<string, readonly number[]>> = {
  matrix: [6],
  translate: [1, 2],
  scale: [1, 2],
  rotate: [1, 3],
  skewX: [1],
  skewY: [1],
};
const FUNCTION = /[ \t\n\f\r]*,?[ \t\n\f\r]*([a-zA-Z]+)[ \t\n\f\r]*\(([^()]*)\)/y;

/** A `transform` attribute (SVG 2, 8.5): numbers without units. Undefined when it cannot be read. */
export function attributeTransform(text: string): Matrix | undefined {
  let matrix: Matrix = IDENTITY;
  const trimmed = text.trim();
  if (trimmed.startsWith(',')) return undefined;
  const form = new RegExp(FUNCTION);
  while (form.lastIndex < trimmed.length) {
    const match = form.exec(trimmed);
    if (!match) return undefined;
    const v = numbersOf(match[2]!, Number.MAX_VALUE);
    if (!v || !COUNTS[match[1]!]?.includes(v.length)) return undefined;
    matrix = times(matrix, attributeFunction(match[1]!, v));
  }
  return matrix;
}

function attributeFunction(name: string, v: readonly number[]): Matrix {
  const [p = 0, q = 0, r = 0] = v;
  switch (name) {
    case 'matrix':
      return v as unknown as Matrix;
    case 'translate':
      return [1, 0, 0, 1, p, q];
    case 'scale':
      return [p, 0, 0, v.length > 1 ? q : p, 0, 0];
    case 'skewX':
      return skew(p, 0);
    case 'skewY':
      return skew(0, p);
    default: {
      const [c, s] = rotation(p);
      return [c, s, -s, c, q - c * q + s * r, r - s * q - c * r];
    }
  }
}

/** The `transform` property (CSS Transforms 1 and the flat functions of 2). Undefined when it cannot be read. */
export function cssTransform(text: string, units: TransformUnits): Matrix | undefined {
  if (text.trim() === 'none') return IDENTITY;
  let matrix: Matrix = IDENTITY;
  const parts = splitValue(text, 'space')
    .join('')
    .match(/[a-zA-Z0-9]+\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\)/g);
  if (!parts || parts.join('').length !== splitValue(text, 'space').join('').length) return undefined;
  for (const part of parts) {
    const open = part.indexOf('(');
    const one = cssFunction(
      part.slice(0, open).toLowerCase(),
      splitValue(part.slice(open + 1, -1), 'comma'),
      units,
    );
    if (!one) return undefined;
    matrix = times(matrix, one);
  }
  return matrix;
}

function cssFunction(name: string, v: readonly string[], units: TransformUnits): Matrix | undefined {
  const { length, angle, number, ratio } = units;
  const all = <T>(counts: readonly number[], values: readonly (T | undefined)[]): T[] | undefined =>
    counts.includes(values.length) && values.every((x) => x !== undefined) ? (values as T[]) : undefined;
  const lengths = (axes: string) =>
    all(
      [axes.length],
      v.map((t, k) => length(t, axes[k] as 'x' | 'y' | 'z')),
    );
  const ratios = (...counts: number[]) => all(counts, v.map(ratio));
  const angles = (...counts: number[]) => all(counts, v.map(angle));
  switch (name) {
    case 'matrix':
      return all([6], v.map(number)) as unknown as Matrix | undefined;
    case 'translate':
    case 'translate3d': {
      if (name === 'translate' ? v.length > 2 : v.length !== 3) return undefined;
      const by = lengths('xyz'.slice(0, v.length));
      return by && [1, 0, 0, 1, by[0]!, by[1] ?? 0];
    }
    case 'translatex': {
      const by = lengths('x');
      return by && [1, 0, 0, 1, by[0]!, 0];
    }
    case 'translatey': {
      const by = lengths('y');
      return by && [1, 0, 0, 1, 0, by[0]!];
    }
    case 'scale': {
      const by = ratios(1, 2);
      return by && [by[0]!, 0, 0, by[1] ?? by[0]!, 0, 0];
    }
    case 'scale3d': {
      const by = ratios(3);
      return by && [by[0]!, 0, 0, by[1]!, 0, 0];
    }
    case 'scalex': {
      const by = ratios(1);
      return by && [by[0]!, 0, 0, 1, 0, 0];
    }
    case 'scaley': {
      const by = ratios(1);
      return by && [1, 0, 0, by[0]!, 0, 0];
    }
    case 'rotate':
    case 'rotatez': {
      const by = angles(1);
      return by && rotation(by[0]!);
    }
    case 'skew': {
      const by = angles(1, 2);
      return by && skew(by[0]!, by[1] ?? 0);
    }
    case 'skewx': {
      const by = angles(1);
      return by && skew(by[0]!, 0);
    }
    case 'skewy': {
      const by = angles(1);
      return by && skew(0, by[0]!);
    }
    default:
      return undefined;
  }
}

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

export function rotation(degrees: number): Matrix {
  const [c, s] = [Math.cos(radians(degrees)), Math.sin(radians(degrees))];
  return [c, s, -s, c, 0, 0];
}

const skew = (x: number, y: number): Matrix => [1, Math.tan(radians(y)), Math.tan(radians(x)), 1, 0, 0];

/** A map about a point in place of the origin. */
export const mapAbout = (map: Matrix, x: number, y: number): Matrix =>
  times(times([1, 0, 0, 1, x, y], map), [1, 0, 0, 1, -x, -y]);

/** The `translate`, `rotate` and `scale` properties (CSS Transforms 2, 5); undefined when they cannot be read. */
export function individualTransform(
  property: 'translate' | 'rotate' | 'scale',
  text: string,
  { length, angle, ratio }: TransformUnits,
): Matrix | undefined {
  if (text === 'none') return IDENTITY;
  const v = splitValue(text, 'space');
  if (property === 'rotate') {
    const by = v.length === 1 ? angle(v[0]!) : v.length === 2 && v[0] === 'z' ? angle(v[1]!) : undefined;
    return by === undefined ? undefined : rotation(by);
  }
  if (v.length > 3) return undefined;
  if (property === 'scale') {
    const by = v.map(ratio);
    return by.some((s) => s === undefined) ? undefined : [by[0]!, 0, 0, by[1] ?? by[0]!, 0, 0];
  }
  const by = v.map((t, k) => length(t, (['x', 'y', 'z'] as const)[k]!));
  return by.some((s) => s === undefined) ? undefined : [1, 0, 0, 1, by[0]!, by[1] ?? 0];
}

const X_WORDS: Readonly<Record<string, string>> = { left: '0%', right: '100%' };
const Y_WORDS: Readonly<Record<string, string>> = { top: '0%', bottom: '100%' };

/** Where a `transform-origin` is, as lengths or percentages; undefined when it cannot be read. */
export function originOf(
  text: string,
): { readonly x: string; readonly y: string; readonly z?: string } | undefined {
  const [first, second = 'center', third, ...more] = splitValue(text, 'space');
  if (first === undefined || more.length > 0) return undefined;
  const z = third === undefined ? {} : { z: third };
  const place = (words: Readonly<Record<string, string>>, t: string) =>
    words[t] ?? (t === 'center' ? '50%' : t);
  if (Y_WORDS[first] || X_WORDS[second]) {
    return (Y_WORDS[first] || first === 'center') && (X_WORDS[second] || second === 'center')
      ? { x: place(X_WORDS, second), y: place(Y_WORDS, first), ...z }
      : undefined;
  }
  return { x: place(X_WORDS, first), y: place(Y_WORDS, second), ...z };
}
