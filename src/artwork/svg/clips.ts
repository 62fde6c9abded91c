import { boundsOfCurves } from '../../geometry/curve-bounds.js';
import type { PathCommand } from '../../geometry/path-command.js';
import type { Clip } from './drawing.js';
import { IDENTITY, type Matrix, mapped, times, transformOf } from './matrix.js';
import type { Reading } from './reading.js';
import { isShape } from './shapes.js';
import { referred, type Style, styleOf } from './style.js';
import { TooMuch } from './too-much.js';
import type { Element } from './tree.js';
import { lengthOf } from './units.js';
import type { Viewport } from './viewport.js';

/** Where an element stands: the map from its units to mm, and its viewport. */
interface Stand {
  readonly map: Matrix;
  readonly viewport: Viewport;
}

const DEEPEST_CLIP = 10;
const DEEPEST_USE = 30;
/** What may stand in a clip and draws nothing. */
const WORDLESS = new Set(['title', 'desc', 'metadata']);

/** The areas a `clip-path` leaves, outermost last; undefined when it leaves nothing (CSS Masking 1, 6). */
export function clipsOf(
  reading: Reading,
  element: Element,
  value: string,
  stand: Stand,
  depth = 0,
): Clip[] | undefined {
  const id = referred(value);
  const clipPath = reading.byId(id);
  if (clipPath?.name !== 'clipPath') {
    const what = id === '' ? 'a clip in another file, which is not read' : 'a clip that cannot be read';
    reading.leave(element, what);
    return [];
  }
  if (depth > DEEPEST_CLIP)
    throw new TooMuch('Its clips clip one another without end.', 'Expand the clips in the drawing.');
  let { map } = stand;
  if (clipPath.attributes.get('clipPathUnits') === 'objectBoundingBox') {
    const box = boxOf(reading, element, stand.viewport);
    if (!(box[2] > box[0] && box[3] > box[1])) return undefined;
    map = times(map, [box[2] - box[0], 0, 0, box[3] - box[1], box[0], box[1]]);
  }
  const style = reading.styleInPlace(clipPath);
  map = moved(reading, clipPath, map, style);
  const there = { ...stand, map };
  const shapes = clipPath.children.flatMap((child) => clipShape(reading, child, there, style));
  const around = style['clip-path']!;
  const outer = around === 'none' ? [] : clipsOf(reading, clipPath, around, there, depth + 1);
  return outer && [...outer, shapes];
}

function moved(reading: Reading, element: Element, map: Matrix, style: Style): Matrix {
  const own = transformOf(style.transform!);
  if (!own) reading.leave(element, 'a transform of a clip that cannot be read; it is taken without it');
  return own ? times(map, own) : map;
}

function clipShape(reading: Reading, child: Element, stand: Stand, within: Style, used = false): Clip {
  reading.visits.take();
  const style = styleOf(child, within, reading.sheet);
  if (WORDLESS.has(child.name) || style.display === 'none' || style.visibility !== 'visible') return [];
  const map = moved(reading, child, stand.map, style);
  if (child.name === 'use' && !used) {
    const target = targetOf(reading, child);
    if (target && isShape(target.name))
      return clipShape(
        reading,
        target,
        { ...stand, map: times(map, shift(child, stand.viewport)) },
        style,
        true,
      );
  }
  if (!isShape(child.name)) {
    reading.leave(child, 'a part of a clip that is no shape; it does not clip');
    return [];
  }
  if (style['clip-path'] !== 'none') reading.leave(child, 'a clip within a clip; it is taken without it');
  const { path } = reading.shape(child, stand.viewport);
  reading.clipping.take(path.length);
  return [{ path: mapped(path, map), rule: style['clip-rule'] === 'evenodd' ? 'evenodd' : 'nonzero' }];
}

type Box = [left: number, top: number, right: number, bottom: number];

/** The box of an element's shapes in its own units; a box inside out for none. */
function boxOf(reading: Reading, element: Element, viewport: Viewport): Box {
  const box: Box = [Infinity, Infinity, -Infinity, -Infinity];
  const take = (e: Element, map: Matrix, deep: number): void => {
    reading.clipping.take();
    const style = reading.styleInPlace(e);
    if (style.display === 'none') return;
    const there = e === element ? map : times(map, transformOf(style.transform!) ?? IDENTITY);
    if (isShape(e.name)) {
      const { path } = reading.shape(e, viewport);
      reading.clipping.take(path.length);
      grow(box, mapped(path, there));
    } else if (e.name === 'g' || e.name === 'a') for (const child of e.children) take(child, there, deep);
    else if (e.name === 'use' && deep < DEEPEST_USE) {
      const target = targetOf(reading, e);
      if (target) take(target, times(there, shift(e, viewport)), deep + 1);
    } else if (e.name === 'svg' || e.name === 'symbol' || e.name === 'switch')
      reading.leave(element, `a clip fitted to what holds a ${e.name}; the box is taken without that`);
  };
  take(element, IDENTITY, 0);
  return box;
}

const targetOf = (reading: Reading, use: Element): Element | undefined => {
  const href = use.attributes.get('href') ?? '';
  return href.startsWith('#') ? reading.byId(href.slice(1)) : undefined;
};

/** How far a `use` moves what it uses. */
export const shift = ({ attributes }: Element, viewport: Viewport): Matrix => [
  1,
  0,
  0,
  1,
  lengthOf(attributes.get('x'), viewport.width) ?? 0,
  lengthOf(attributes.get('y'), viewport.height) ?? 0,
];

/** What shows of a viewport. */
export function boxClip(map: Matrix, [x, y, w, h]: readonly [number, number, number, number]): Clip {
  const path: PathCommand[] = [['M', x, y], ['L', x + w, y], ['L', x + w, y + h], ['L', x, y + h], ['Z']];
  return [{ path: mapped(path, map), rule: 'nonzero' }];
}

/** Grows a box by the ends and turning points of a path's curves. */
function grow(box: Box, path: readonly PathCommand[]): void {
  const [x0, y0, x1, y1] = boundsOfCurves(path);
  box[0] = Math.min(box[0], x0);
  box[1] = Math.min(box[1], y0);
  box[2] = Math.max(box[2], x1);
  box[3] = Math.max(box[3], y1);
}
