import type { Bounds } from '../../geometry/bounds.js';
import { boundsOfCurves } from '../../geometry/curve-bounds.js';
import { problem } from '../messages.js';
import { elementTransform } from './element-transform.js';
import { IDENTITY, type Matrix, times, transformPath } from './matrix.js';
import type { Lengths, Reading } from './reading.js';
import { isShape } from './shapes.js';
import type { Style } from './style.js';
import type { Element } from './tree.js';
import type { Viewport } from './viewport.js';

const DEEPEST_USE = 30;

/** The box of an element's shapes in its own units (SVG 2, 8.10), without their strokes; inside out for none. */
export function boundingBox(reading: Reading, element: Element, viewport: Viewport): Bounds {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  const take = (e: Element, map: Matrix, uses: number): void => {
    reading.clipping.take();
    const style = reading.styleInPlace(e);
    if (style.display === 'none') return;
    const own = () => boundingBox(reading, e, viewport);
    const there = e === element ? map : times(map, elementTransform(reading, style, viewport, own));
    if (isShape(e.name)) {
      const { path } = reading.shape(e, style, viewport);
      reading.clipping.take(path.length);
      const [x0, y0, x1, y1] = boundsOfCurves(transformPath(path, there));
      box[0] = Math.min(box[0], x0);
      box[1] = Math.min(box[1], y0);
      box[2] = Math.max(box[2], x1);
      box[3] = Math.max(box[3], y1);
    } else if (e.name === 'g' || e.name === 'a') for (const child of e.children) take(child, there, uses);
    else if (e.name === 'use' && uses < DEEPEST_USE) {
      const target = targetOf(reading, e);
      if (target) take(target, times(there, shift(e, style, reading.lengths(style, viewport))), uses + 1);
    } else if (e.name === 'svg' || e.name === 'symbol' || e.name === 'switch')
      reading.remark(problem('artwork.unread-clip', element.where, { fault: 'box' }));
  };
  take(element, IDENTITY, 0);
  return box;
}

/** The element a `use` refers to, where it is in the file. */
export function targetOf(reading: Reading, use: Element): Element | undefined {
  const href = use.attributes.get('href') ?? '';
  return href.startsWith('#') ? reading.byId(href.slice(1)) : undefined;
}

/** How far x and y move a `use` or a viewport. */
export const shift = ({ attributes }: Element, style: Style, lengths: Lengths): Matrix => [
  1,
  0,
  0,
  1,
  lengths(style.x || attributes.get('x'), 'x') ?? 0,
  lengths(style.y || attributes.get('y'), 'y') ?? 0,
];
