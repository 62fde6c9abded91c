import { lengthOf, numbersOf, type UnitSizes } from './css-values.js';
import type { Matrix } from './matrix.js';
import type { Element } from './tree.js';

/** Width and height that percentages are taken of, px. */
export interface Viewport {
  readonly width: number;
  readonly height: number;
}

/** The diagonal measure that other lengths are taken of (SVG 2, 8.9). */
export const diagonal = ({ width, height }: Viewport): number => Math.hypot(width, height) / Math.SQRT2;

/** How a viewBox is carried into its viewport, and what is then cut off at the viewport's edge. */
export interface Fitted {
  readonly matrix: Matrix;
  readonly inner: Viewport;
  /** In user units: the part of the drawing that shows. */
  readonly shows: readonly [x: number, y: number, width: number, height: number];
}

export function viewBoxOf(element: Element): readonly [number, number, number, number] | undefined {
  const box = numbersOf(element.attributes.get('viewBox') ?? '');
  return box?.length === 4 && box[2]! > 0 && box[3]! > 0
    ? (box as unknown as [number, number, number, number])
    : undefined;
}

/** Whether a viewBox has no width or no height, so that nothing in it is drawn. */
export function isViewBoxEmpty(element: Element): boolean {
  const box = numbersOf(element.attributes.get('viewBox') ?? '');
  return box?.length === 4 && box[2]! >= 0 && box[3]! >= 0 && box[2]! * box[3]! === 0;
}

/** As SVG 2, 8.7, has it; browsers take any other text for none, and read it with its letters. */
const ASPECT = /^[ \t\n\f\r]*(?:none|x(Min|Mid|Max)Y(Min|Mid|Max))(?:[ \t\n\f\r]+(meet|slice))?[ \t\n\f\r]*$/;

/** The map of a viewBox into a viewport of `width` by `height` px (SVG 2, 8.6 and 8.7). */
export function fittedBox(element: Element, { width, height }: Viewport): Fitted {
  const box = viewBoxOf(element);
  if (!box) return { matrix: [1, 0, 0, 1, 0, 0], inner: { width, height }, shows: [0, 0, width, height] };
  const [x, y, w, h] = box;
  const [aspect, alignX, alignY, fit] =
    ASPECT.exec(element.attributes.get('preserveAspectRatio') ?? '') ?? [];
  const inner = { width: w, height: h };
  if (aspect !== undefined && alignX === undefined) {
    const [sx, sy] = [width / w, height / h];
    return { matrix: [sx, 0, 0, sy, -x * sx, -y * sy], inner, shows: [x, y, w, h] };
  }
  const scale = fit === 'slice' ? Math.max(width / w, height / h) : Math.min(width / w, height / h);
  const part = (name: string | undefined): number => (name === 'Min' ? 0 : name === 'Max' ? 1 : 0.5);
  const dx = (width - w * scale) * part(alignX);
  const dy = (height - h * scale) * part(alignY);
  return {
    matrix: [scale, 0, 0, scale, dx - x * scale, dy - y * scale],
    inner,
    shows: [x - dx / scale, y - dy / scale, width / scale, height / scale],
  };
}

/** Whether a size is a part of what holds the drawing, which a file does not know. */
const isRelative = (text: string): boolean => /%|v[whib]|vm/i.test(text);

export const isReadableSize = (text: string, sizes: UnitSizes): boolean =>
  isRelative(text) || lengthOf(text, sizes, 0) !== undefined;

/** Whether the outermost viewport has a width or height of nothing or less, so that nothing is drawn. */
export function isOutermostEmpty(root: Element, sizes: UnitSizes): boolean {
  return ['width', 'height'].some((name) => {
    const length = lengthOf(root.attributes.get(name), sizes, 1);
    return length !== undefined && length <= 0;
  });
}

/** Width and height of the outermost viewport, px: as given, else those of its viewBox, else 300 by 150 as CSS has it. */
export function outermostViewport(root: Element, sizes: UnitSizes): Viewport {
  const box = viewBoxOf(root);
  const given = (name: 'width' | 'height'): number => {
    const text = root.attributes.get(name);
    const length = text === undefined || isRelative(text) ? undefined : lengthOf(text, sizes, 0);
    return length !== undefined && length > 0 ? length : 0;
  };
  const [width, height] = [given('width'), given('height')];
  const ratio = box ? box[3] / box[2] : 0.5;
  if (width > 0 && height > 0) return { width, height };
  if (width > 0) return { width, height: width * ratio };
  if (height > 0) return { width: height / ratio, height };
  return box ? { width: box[2], height: box[3] } : { width: 300, height: 150 };
}
