import { type Bounds, joinBounds } from '../../geometry/bounds.js';
import { boundsOfCurves } from '../../geometry/curve-bounds.js';
import type { PathCommand } from '../../geometry/path-command.js';
import { problem } from '../messages.js';
import { elementTransform } from './element-transform.js';
import { type Matrix, times, transformPath } from './matrix.js';
import type { Lengths, Reading } from './reading.js';
import { isShape } from './shapes.js';
import type { Style } from './style.js';
import type { Element } from './tree.js';
import type { Viewport } from './viewport.js';

const DEEPEST_USE = 30;

/**
 * The box of an element's shapes in its own units (SVG 2, 8.10), without their strokes; inside out for none. As browsers
 * have it, a group's box is the upright box round the boxes of its children, each turned as a whole: not the tightest.
 */
export function boundingBox(reading: Reading, element: Element, viewport: Viewport): Bounds {
  const boxOf = (e: Element, uses: number): Bounds => {
    reading.clipping.take();
    const style = reading.styleInPlace(e);
    if (isShape(e.name)) {
      const { path } = reading.shape(e, style, viewport);
      reading.clipping.take(path.length);
      return boundsOfCurves(path);
    }
    if (e.name === 'g' || e.name === 'a')
      return shownChildren(e).reduce<Bounds>(
        (box, child) => joinBounds(box, boxWithin(child, uses)),
        NOTHING,
      );
    if (e.name === 'use' && uses < DEEPEST_USE) {
      const target = targetOf(reading, e);
      if (target) return boxWithin(target, uses + 1);
    } else if (e.name === 'svg' || e.name === 'symbol' || e.name === 'switch')
      reading.remark(problem('artwork.unread-clip', element.where, { fault: 'box' }));
    return NOTHING;
  };
  const boxWithin = (e: Element, uses: number): Bounds => {
    const style = reading.styleInPlace(e);
    if (style.display === 'none') return NOTHING;
    const own = boxOf(e, uses);
    const map = elementTransform(reading, style, viewport, () => own);
    return mapBox(
      own,
      e.name === 'use' ? times(map, shift(e, style, reading.lengths(style, viewport))) : map,
    );
  };
  return boxOf(element, 0);
}

const NOTHING: Bounds = [Infinity, Infinity, -Infinity, -Infinity];

/** The upright box round a box carried over by a map. */
function mapBox([x0, y0, x1, y1]: Bounds, map: Matrix): Bounds {
  if (x0 > x1) return NOTHING;
  const corners: PathCommand[] = [
    ['M', x0, y0],
    ['L', x1, y0],
    ['L', x1, y1],
    ['L', x0, y1],
  ];
  return boundsOfCurves(transformPath(corners, map));
}

/** The children of an element that may draw. Browsers draw no link just within a link. */
export const shownChildren = ({ name, children }: Element): readonly Element[] =>
  name === 'a' ? children.filter((child) => child.name !== 'a') : children;

/** The element a `use` refers to, where it is in the file. */
export function targetOf(reading: Reading, use: Element): Element | undefined {
  const href = use.href ?? '';
  return href.startsWith('#') ? reading.byId(href.slice(1)) : undefined;
}

/** How far x and y move a `use`, or a viewport, of which browsers look at the attributes alone. */
export function shift({ name, attributes }: Element, style: Style, lengths: Lengths): Matrix {
  const of = (axis: 'x' | 'y'): string | undefined =>
    (name === 'use' ? style[axis] : '') || attributes.get(axis);
  return [1, 0, 0, 1, lengths(of('x'), 'x') ?? 0, lengths(of('y'), 'y') ?? 0];
}
