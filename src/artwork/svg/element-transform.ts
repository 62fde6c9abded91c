import type { Bounds } from '../../geometry/bounds.js';
import { quantityOf } from './css-values.js';
import { IDENTITY, type Matrix, times } from './matrix.js';
import type { Reading } from './reading.js';
import type { Style } from './style.js';
import {
  attributeTransform,
  cssTransform,
  individualTransform,
  mapAbout,
  originOf,
  type TransformUnits,
} from './transform-list.js';
import type { Viewport } from './viewport.js';

const INDIVIDUAL = ['translate', 'rotate', 'scale'] as const;

/** Whether a style moves its element at all. */
export const isTransformed = (style: Style): boolean =>
  style.transform !== 'none' || INDIVIDUAL.some((name) => style[name] !== 'none');

/**
 * The map of an element from its units to those around it (CSS Transforms 2, 8): `translate`, `rotate`, `scale` and
 * `transform`, about `transform-origin` in the box that `transform-box` names. `box` is called
 * only where it counts; `origin` is where none is set.
 */
export function elementTransform(
  reading: Reading,
  style: Style,
  viewport: Viewport,
  box: () => Bounds,
  origin = '0 0',
): Matrix {
  if (!isTransformed(style)) return IDENTITY;
  const fitted = style['transform-box'] !== 'view-box';
  const [left, top, right, bottom] = fitted ? box() : [0, 0, viewport.width, viewport.height];
  const [width, height] = [Math.max(0, right - left), Math.max(0, bottom - top)];
  const lengths = reading.lengths(style, { width, height });
  const number = (text: string) => quantityOf(text, reading.sizesOf(style))?.value;
  const units: TransformUnits = {
    length: (text, axis) => lengths(text, axis === 'z' ? 'diagonal' : axis),
    angle: number,
    number,
    ratio: number,
  };
  const individual = INDIVIDUAL.reduce<Matrix>(
    (map, name) => times(map, individualTransform(name, style[name]!, units) ?? IDENTITY),
    IDENTITY,
  );
  const { transform } = style;
  const listed =
    transform === 'none' ? IDENTITY : (attributeTransform(transform!) ?? cssTransform(transform!, units));
  const map = times(individual, listed ?? IDENTITY);
  const { x, y } = originOf(style['transform-origin']! || origin)!;
  const [ox, oy] = [
    (fitted ? left : 0) + (lengths(x, 'x') ?? 0),
    (fitted ? top : 0) + (lengths(y, 'y') ?? 0),
  ];
  return ox === 0 && oy === 0 ? map : mapAbout(map, ox, oy);
}
