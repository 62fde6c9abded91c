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

/** Whether a text is a colour of CSS Color 4. */
export function isColour(text: string): boolean {
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

/** Whether a colour or `none` puts any ink down. A colour that is wholly clear does not. */
export function hasInk(paint: string, color: string): boolean {
  const word = (paint.toLowerCase() === 'currentcolor' ? color : paint).trim().toLowerCase();
  if (word === 'none' || word === 'transparent') return false;
  if (/^#(?:[0-9a-f]{3}0|[0-9a-f]{6}00)$/.test(word)) return false;
  return alphaOf(word) > 0;
}

/** The alpha of a colour function: after a slash, or the fourth of numbers between commas. */
function alphaOf(colour: string): number {
  const inner = /^[a-z-]+\((.*)\)$/.exec(colour)?.[1];
  if (inner === undefined) return 1;
  const slash = inner.lastIndexOf('/');
  return opacityOf(slash >= 0 ? inner.slice(slash + 1) : (splitValue(inner, 'comma')[3] ?? '1'));
}

const NO_SIZES: UnitSizes = { em: 16, rem: 16, viewWidth: 0, viewHeight: 0 };

/** A number or percentage as a part of 1; 1 for anything else. */
export function opacityOf(text: string): number {
  const made = quantityOf(text.trim(), NO_SIZES);
  return made?.kind === 'number' ? made.value : text.trim() === 'none' ? 0 : 1;
}

/** Channels of a colour from here up look like paper. */
const PAPER = 240;
const PAPER_NAMES =
  /^(?:white|snow|ivory|ghostwhite|floralwhite|whitesmoke|mintcream|azure|honeydew|aliceblue|canvas)$/;

/** Whether a paint is white, or so light that nobody takes it for ink. */
export function isPaperColour(paint: string, color: string): boolean {
  const word = (paint.toLowerCase() === 'currentcolor' ? color : paint).trim().toLowerCase();
  if (PAPER_NAMES.test(word)) return true;
  const channels = hexChannels(word) ?? functionChannels(word);
  return channels !== undefined && channels.length >= 3 && channels.every((c) => c >= PAPER);
}

function hexChannels(word: string): number[] | undefined {
  if (/^#[0-9a-f]{3,4}$/.test(word)) return [1, 2, 3].map((k) => 17 * Number.parseInt(word[k]!, 16));
  if (!/^#[0-9a-f]{6}(?:[0-9a-f]{2})?$/.test(word)) return undefined;
  return [1, 3, 5].map((k) => Number.parseInt(word.slice(k, k + 2), 16));
}

function functionChannels(word: string): number[] | undefined {
  const [, name, inner] = /^(rgba?|hsla?)\((.*)\)$/.exec(word) ?? [];
  if (name === undefined) return undefined;
  const parts = splitValue(inner!.split('/')[0]!, 'either').slice(0, 3);
  if (name.startsWith('hsl')) return [1, 1, 1].map(() => 2.55 * Number.parseFloat(parts[2] ?? ''));
  return parts.map((p) => (p.endsWith('%') ? 2.55 : 1) * Number.parseFloat(p));
}
