import { lexer } from 'css-tree';
import { quantityOf, splitValue, type UnitSizes } from './css-values.js';

/** The id in `url(#id)`, an empty text for another address; undefined for none. */
export function referencedId(text: string): string | undefined {
  const match = /^url\(\s*(['"]?)(.*?)\1\s*\)/.exec(text.trim());
  if (!match) return undefined;
  return match[2]!.startsWith('#') ? match[2]!.slice(1) : '';
}

/** What follows a reference to a paint: drawn where the reference leads to none. */
export const fallbackOf = (paint: string): string =>
  /^url\([^)]*\)\s*(.*)$/.exec(paint.trim())?.[1] || 'none';

/** What the grammar takes for a colour and Chromium does not. */
const OTHERS_COLOURS =
  /^(?:device-cmyk\(|color\(\s*display-p3-linear|-moz-|-webkit-(?:text|focus-ring-color)$|accentcolor(?:text)?$)/i;

/** Whether a text is a colour of CSS Color 4, as far as browsers know it. */
export function isColour(text: string): boolean {
  if (OTHERS_COLOURS.test(text)) return false;
  if (/^#(?:[0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})$/i.test(text)) return true;
  return lexer.match('<color>', text).error === null;
}

/** Whether a text is a paint: none, a colour, or a reference with what is drawn where it leads to none. */
export function isPaint(text: string): boolean {
  if (referencedId(text) === undefined) return text === 'none' || isContextPaint(text) || isColour(text);
  const rest = fallbackOf(text);
  return rest === 'none' || isColour(rest);
}

export const isContextPaint = (text: string): boolean => text === 'context-fill' || text === 'context-stroke';

/** What a colour looks like on white paper; unknown for colours that are not worked out here. */
export type Tone = 'ink' | 'paper' | 'unknown';

/** A colour or `none`, as it is drawn: how much of it, from 0 to 1, and its tone. */
export function inkOf(paint: string, color: string): { readonly alpha: number; readonly tone: Tone } {
  const word = (paint === 'currentcolor' ? color : paint).trim();
  if (word === 'none' || word === 'transparent') return { alpha: 0, tone: 'ink' };
  const least = leastChannel(word);
  if (least === undefined) return { alpha: alphaOf(word), tone: isNamed(word) ? 'ink' : 'unknown' };
  return { alpha: alphaOf(word), tone: least >= PAPER ? 'paper' : 'ink' };
}

/** The alpha of a colour: the last digits of a hexadecimal one; in a function, after a slash, or the fourth part. */
function alphaOf(colour: string): number {
  if (/^#(?:[0-9a-f]{4}|[0-9a-f]{8})$/.test(colour)) {
    const digits = colour.length === 5 ? colour[4]!.repeat(2) : colour.slice(7);
    return Number.parseInt(digits, 16) / 255;
  }
  const inner = /^[a-z-]+\((.*)\)$/.exec(colour)?.[1];
  if (inner === undefined) return 1;
  const slash = inner.lastIndexOf('/');
  const text = slash >= 0 ? inner.slice(slash + 1) : (splitValue(inner, 'comma')[3] ?? '1');
  return Math.max(0, Math.min(1, opacityOf(text)));
}

const NO_SIZES: UnitSizes = { em: 16, rem: 16, viewWidth: 0, viewHeight: 0 };

/** A number or percentage as a part of 1; 1 for anything else. */
export function opacityOf(text: string): number {
  const made = quantityOf(text.trim(), NO_SIZES);
  return made?.kind === 'number' || made?.kind === 'percentage' ? made.value : text.trim() === 'none' ? 0 : 1;
}

/** A colour looks like paper, and nobody takes it for ink, when each of its channels is this or more, of 255. */
const PAPER = 220;
/** The named colours that do (CSS Color 4, 6.1). */
const PAPER_NAMES =
  /^(?:white|snow|ivory|ghostwhite|floralwhite|whitesmoke|mintcream|azure|honeydew|aliceblue|seashell|lavenderblush|lightyellow|lightcyan|beige|linen|oldlace|lavender|cornsilk|gainsboro|mistyrose)$/;

const isNamed = (word: string): boolean => lexer.match('<named-color>', word).error === null;

/** The least of a colour's channels, from 0 to 255; undefined where it is not worked out. */
function leastChannel(word: string): number | undefined {
  if (PAPER_NAMES.test(word)) return 255;
  if (/^#[0-9a-f]{3,4}$/.test(word))
    return Math.min(...[1, 2, 3].map((k) => 17 * Number.parseInt(word[k]!, 16)));
  if (/^#(?:[0-9a-f]{6}|[0-9a-f]{8})$/.test(word))
    return Math.min(...[1, 3, 5].map((k) => Number.parseInt(word.slice(k, k + 2), 16)));
  const [, name, inner] = /^(rgba?|hsla?|hwb)\(([^()/]*)(?:\/[^()/]*)?\)$/.exec(word) ?? [];
  if (name === undefined) return undefined;
  const parts = splitValue(inner!, 'either').slice(0, 3);
  if (parts.length < 3) return undefined;
  if (name.startsWith('rgb')) {
    const channels = parts.map((p) => channelOf(p, p.endsWith('%') ? 2.55 : 1));
    return channels.some((c) => Number.isNaN(c)) ? undefined : Math.min(...channels);
  }
  const [p, q] = parts.slice(1).map((part) => Math.max(0, Math.min(1, channelOf(part, 0.01))));
  const least = name === 'hwb' ? p! / Math.max(1, p! + q!) : q! - p! * Math.min(q!, 1 - q!);
  return Number.isNaN(least) ? undefined : 255 * least;
}

const channelOf = (text: string, unit: number): number =>
  text === 'none' ? 0 : Number(text.replace(/%$/, '')) * unit;
