import type { PathCommand } from '../../geometry/path-command.js';
import { LimitExceeded } from '../budget.js';
import { problem } from '../messages.js';
import { boundingBox, shift, targetOf } from './bounding-box.js';
import type { Clip } from './drawing.js';
import { elementTransform, isTransformed } from './element-transform.js';
import { type Matrix, times, transformPath } from './matrix.js';
import { referencedId } from './paint.js';
import type { Reading } from './reading.js';
import { remarkOnConditions } from './remarks.js';
import { isShape } from './shapes.js';
import type { Style } from './style.js';
import type { Element } from './tree.js';
import type { Viewport } from './viewport.js';

/** The user space of an element: the map from its units to mm, and its viewport. */
interface UserSpace {
  readonly map: Matrix;
  readonly viewport: Viewport;
}

const DEEPEST_CLIP = 10;
/** What may stand in a clip and draws nothing. */
const WITHOUT_SHAPE: ReadonlySet<string> = new Set(['title', 'desc', 'metadata', 'defs', 'style']);

/** The areas a `clip-path` leaves, outermost last; undefined when it leaves nothing (CSS Masking 1, 6). */
export function clipsOf(
  reading: Reading,
  element: Element,
  value: string,
  space: UserSpace,
  holder = element,
  depth = 0,
): Clip[] | undefined {
  const clipPath = reading.byId(referencedId(value));
  if (clipPath?.name !== 'clipPath') {
    reading.remark(problem('artwork.unread-clip', holder.where, { fault: 'missing' }));
    return [];
  }
  if (depth > DEEPEST_CLIP) throw new LimitExceeded('artwork.clips-too-deep', DEEPEST_CLIP);
  const style = reading.styleInPlace(clipPath);
  // One that is not displayed is none to browsers.
  if (style.display === 'none') return [];
  // Its lengths are of the viewport it stands in itself.
  const viewport = reading.viewportInPlace(clipPath);
  if (style['transform-box'] !== 'view-box' && isTransformed(style)) remarkOnBox(reading, clipPath, style);
  let map = times(space.map, transformOf(reading, clipPath, style, viewport));
  if (clipPath.attributes.get('clipPathUnits') === 'objectBoundingBox') {
    const box = boundingBox(reading, element, space.viewport);
    if (!(box[2] > box[0] && box[3] > box[1])) return undefined;
    map = times(map, [box[2] - box[0], 0, 0, box[3] - box[1], box[0], box[1]]);
  }
  const there = { map, viewport };
  const shapes = clipPath.children.flatMap((child) => clipShape(reading, child, there, style));
  const around = style['clip-path']!;
  // The box of its own clip is that of the element too.
  const outer = around === 'none' ? [] : clipsOf(reading, element, around, space, clipPath, depth + 1);
  return outer && [...outer, shapes];
}

const transformOf = (reading: Reading, element: Element, style: Style, viewport: Viewport): Matrix =>
  elementTransform(reading, style, viewport, () => boundingBox(reading, element, viewport));

const remarkOnBox = (reading: Reading, { where }: Element, style: Style): void =>
  reading.remark(
    problem('artwork.unread-value', where, { property: 'transform-box', value: style['transform-box']! }),
  );

function clipShape(reading: Reading, child: Element, space: UserSpace, within: Style, used = false): Clip {
  reading.visits.take();
  const style = reading.styleWithin(child, within);
  if (WITHOUT_SHAPE.has(child.name) || child.name.includes(':') || style.display === 'none') return [];
  if (!remarkOnConditions(reading, child)) return [];
  const map = times(space.map, transformOf(reading, child, style, space.viewport));
  const target = child.name === 'use' && !used ? targetOf(reading, child) : undefined;
  if (!isShape((target ?? child).name)) {
    reading.remark(problem('artwork.unread-clip', child.where, { fault: 'part' }));
    return [];
  }
  if (style['clip-path'] !== 'none')
    reading.remark(problem('artwork.unread-clip', child.where, { fault: 'nested' }));
  if (target) {
    const moved = times(map, shift(child, style, reading.lengths(style, space.viewport)));
    return clipShape(reading, target, { ...space, map: moved }, style, true);
  }
  if (style.visibility !== 'visible') return [];
  const { path } = reading.shape(child, style, space.viewport);
  reading.clipping.take(path.length);
  return [{ path: transformPath(path, map), rule: style['clip-rule'] === 'evenodd' ? 'evenodd' : 'nonzero' }];
}

/** What shows of a viewport. */
export function boxClip(map: Matrix, [x, y, w, h]: readonly [number, number, number, number]): Clip {
  const path: PathCommand[] = [['M', x, y], ['L', x + w, y], ['L', x + w, y + h], ['L', x, y + h], ['Z']];
  return [{ path: transformPath(path, map), rule: 'nonzero' }];
}
