import { problem } from '../messages.js';
import { fallbackOf, inkOf, isContextPaint, opacityOf, referencedId } from './paint.js';
import type { Reading } from './reading.js';
import type { Style } from './style.js';
import type { Element } from './tree.js';

/** Whether a shape's fill and stroke put ink down, and which of them are white. */
export interface Paints {
  readonly fill: boolean;
  readonly stroke: boolean;
  readonly white: readonly ('fill' | 'stroke')[];
}

/** What covers less than this is hardly seen. */
const FAINT = 0.1;

/**
 * What a shape's paints draw within what has that opacity. Remarks on those that are taken as plain, that may be meant
 * not to be seen, and on markers.
 */
export function paintsOf(reading: Reading, element: Element, style: Style, opacity: number): Paints {
  const white: ('fill' | 'stroke')[] = [];
  const draws = (part: 'fill' | 'stroke'): boolean => {
    const own = opacityOf(style[`${part}-opacity`]!);
    if (own <= 0) return false;
    const paint = plainPaint(reading, element, part, style[part]!);
    const { alpha, tone } = paint === 'server' ? { alpha: 1, tone: 'ink' } : inkOf(paint, style.color!);
    if (alpha <= 0) return false;
    if (alpha * Math.min(1, own) * opacity < FAINT)
      reading.remark(problem('artwork.faint-paint', element.where, { part }));
    if (tone === 'unknown') {
      const colour = (paint === 'currentcolor' ? style.color! : paint).slice(0, 60);
      reading.remark(problem('artwork.unknown-colour', element.where, { part, colour }));
    }
    if (tone === 'paper') white.push(part);
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
