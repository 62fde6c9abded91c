import { inlineStyle, type StyleSheet, styledBy } from './css.js';
import { INHERITED, OWN, PROPERTIES } from './properties.js';
import { TooMuch } from './too-much.js';
import type { Element } from './tree.js';

export type Style = Readonly<Record<string, string>>;

export const FIRST_STYLE: Style = { ...INHERITED, ...OWN };

/** Characters in the value of one property. */
const LONGEST_VALUE = 2_000;

/** The style of an element within one of that style: attributes, then style sheets, then its own `style` (CSS Cascade). */
export function styleOf(element: Element, within: Style, sheet: StyleSheet): Style {
  const style: Record<string, string> = { ...within, ...OWN };
  const set = (name: string, value: string) => {
    if (value.length > LONGEST_VALUE)
      throw new TooMuch(`Its ${name} is longer than any drawing's.`, 'Save the drawing with plainer styles.');
    const word = value.trim();
    if (word === 'inherit') style[name] = within[name] ?? OWN[name]!;
    else if (word === 'initial' || word === 'unset')
      style[name] = (word === 'unset' ? within[name] : undefined) ?? INHERITED[name] ?? OWN[name]!;
    else if (word !== '') style[name] = word;
  };
  for (const name of PROPERTIES) {
    const value = element.attributes.get(name);
    if (value !== undefined) set(name, value);
  }
  const ruled = sheet.rules.length > 0 ? styledBy(sheet, element) : undefined;
  for (const [name, { value }] of ruled ?? []) set(name, value);
  const text = element.attributes.get('style');
  const own = text === undefined ? undefined : inlineStyle(sheet, text);
  for (const [name, value] of own?.declarations ?? []) set(name, value);
  for (const [name, { value, important }] of ruled ?? []) if (important) set(name, value);
  for (const name of own?.important ?? []) set(name, own!.declarations.get(name)!);
  return style;
}

/** Whether a paint colours anything. A colour that is wholly clear does not. */
export function paints(paint: string, opacity: string, color: string): boolean {
  const word = (paint.toLowerCase() === 'currentcolor' ? color : paint).trim().toLowerCase();
  if (word === 'none' || word === 'transparent') return false;
  if (/^#(?:[0-9a-f]{3}0|[0-9a-f]{6}00)$/.test(word)) return false;
  if (/^(?:rgba?|hsla?)\([^)]*[,/]\s*0?\.?0+%?\s*\)$/.test(word) && /^(?:rgba|hsla)|\//.test(word))
    return false;
  return opacityOf(opacity) > 0;
}

export function opacityOf(text: string): number {
  const value = Number.parseFloat(text);
  return Number.isFinite(value) ? (text.trim().endsWith('%') ? value / 100 : value) : 1;
}

/** The id in `url(#id)`, an empty text for another address; undefined for none. */
export function referred(text: string): string | undefined {
  const match = /^url\(\s*(['"]?)(.*?)\1\s*\)/.exec(text.trim());
  if (!match) return undefined;
  return match[2]!.startsWith('#') ? match[2]!.slice(1) : '';
}
