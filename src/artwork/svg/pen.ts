import type { PathCommand } from '../../geometry/path-command.js';
import { numberAlone, quantityOf, splitValue } from './css-values.js';
import type { DrawnStroke } from './drawing.js';
import type { Matrix } from './matrix.js';
import { opacityOf } from './paint.js';
import type { Lengths } from './reading.js';
import type { Style } from './style.js';

/** The stroke a style draws along a path in the shape's own units; undefined where it has no width. */
export function strokeOf(
  own: readonly PathCommand[],
  map: Matrix,
  style: Style,
  lengths: Lengths,
  pathLength: string | undefined,
  measured: DrawnStroke['measured'],
): DrawnStroke | undefined {
  const width = lengths(style['stroke-width'], 'diagonal') ?? 1;
  if (!(width > 0) || opacityOf(style['stroke-opacity']!) <= 0) return undefined;
  const limit = quantityOf(style['stroke-miterlimit']!, { em: 16, rem: 16, viewWidth: 0, viewHeight: 0 });
  // To browsers, one that cannot be read is 0, of which every dash is endless.
  const whole = pathLength === undefined ? -1 : (numberAlone(pathLength) ?? 0);
  return {
    width,
    cap: style['stroke-linecap']! as DrawnStroke['cap'],
    join: style['stroke-linejoin']! as DrawnStroke['join'],
    miter: Math.max(1, limit?.value ?? 4),
    dashes: whole === 0 ? [] : dashesOf(style['stroke-dasharray']!, lengths),
    dashFrom: lengths(style['stroke-dashoffset'], 'diagonal') ?? 0,
    ...(whole > 0 ? { pathLength: whole, ...(measured ? { measured } : {}) } : {}),
    own,
    map,
  };
}

/** Lengths of dashes and gaps in turn, an even number; none for a whole line. */
function dashesOf(text: string, lengths: Lengths): number[] {
  if (text === 'none') return [];
  const dashes = splitValue(text, 'either').map((dash) => lengths(dash, 'diagonal') ?? Number.NaN);
  if (!(dashes.reduce((a, b) => a + b, 0) > 0)) return [];
  return dashes.length % 2 === 0 ? dashes : [...dashes, ...dashes];
}
