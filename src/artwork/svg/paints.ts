import { problem } from '../messages.js';
import { fallbackOf, hasInk, isContextPaint, isPaperColour, opacityOf, referencedId } from './paint.js';
import type { Reading } from './reading.js';
import type { Style } from './style.js';
import type { Element } from './tree.js';

/** Whether a shape's fill and stroke put ink down, and which of them are white. */
export interface Paints {
  readonly fill: boolean;
  readonly stroke: boolean;
  readonly white: readonly ('fill' | 'stroke')[];
}

/** What a shape's paints draw; remarks on those that are taken as plain, and on markers. */
export function paintsOf(reading: Reading, element: Element, style: Style): Paints {
  const white: ('fill' | 'stroke')[] = [];
  const draws = (name: 'fill' | 'stroke'): boolean => {
    if (opacityOf(style[`${name}-opacity`]!) <= 0) return false;
    const paint = plainPaint(reading, element, name, style[name]!);
    if (paint === 'server') return true;
    if (!hasInk(paint, style.color!)) return false;
    if (isPaperColour(paint, style.color!)) white.push(name);
    return true;
  };
  const [fill, stroke] = [draws('fill'), draws('stroke')];
  if (['marker-start', 'marker-mid', 'marker-end'].some((m) => style[m] !== 'none'))
    reading.remark(problem('artwork.left-out-effect', element.where, { effect: 'marker' }));
  return { fill, stroke, white };
}

/** A colour or `none`; or `server` for a gradient and the like, which is taken as plain. */
function plainPaint(reading: Reading, element: Element, property: 'fill' | 'stroke', paint: string): string {
  const plain = (kind: string) => {
    reading.remark(problem('artwork.plain-paint', element.where, { property, kind }));
    return 'server';
  };
  if (isContextPaint(paint)) return plain('context');
  const id = referencedId(paint);
  if (id === undefined) return paint;
  const kind = reading.byId(id)?.name;
  if (kind === 'pattern') return plain('pattern');
  return kind?.endsWith('Gradient') ? plain('gradient') : fallbackOf(paint);
}
