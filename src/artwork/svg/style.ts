import { type Budget, LimitExceeded } from '../budget.js';
import { inlineStyle, rulesFor, type StyleSheet } from './css.js';
import { quantityOf, type UnitSizes } from './css-values.js';
import { ATTRIBUTE_NAMES, OWN_NAMES, PROPERTIES, PROPERTY_NAMES } from './properties.js';
import type { Element } from './tree.js';

/** Values of properties, and of custom properties by their names with two hyphens. */
export type Style = Readonly<Record<string, string>>;

export const INITIAL_STYLE: Style = Object.fromEntries(
  PROPERTY_NAMES.map((name) => [name, PROPERTIES[name]!.initial]),
);

/** Characters in the value of one property; path data has a limit of its own. */
const LONGEST_VALUE = 2_000;
const DEEPEST_VARIABLE = 10;

/** Takes note of a value that cannot be read. */
export type Unread = (property: string, value: string) => void;

/**
 * The style of an element within one of that style (CSS Cascade 4): attributes, then rules, then its own `style`, then
 * what is important of these. A value that is none of its property is passed over, as browsers do, and noted.
 */
export function styleOf(
  element: Element,
  within: Style,
  sheet: StyleSheet,
  sizes: Omit<UnitSizes, 'em'>,
  unread: Unread,
): Style {
  const set = cascade(element, sheet, unread);
  const unset = unsetStyle(within, sheet);
  if (set.size === 0) return unset;
  const style = { ...unset };
  for (const [name, value] of set) if (name.startsWith('--')) style[name] = value;
  for (const [name, value] of set) {
    if (name.startsWith('--')) continue;
    const text = value.includes('var(') ? substituteVariables(value, style, sheet.comparisons) : value;
    // A value that turns out to be none once variables are put in leaves the property unset.
    const declared = text !== undefined && (text === value || isAccepted(name, text, false)) ? text : 'unset';
    if (declared !== text) unread(name, value);
    style[name] = keyword(name, declared, within) ?? declared;
  }
  if (set.has('font-size')) style['font-size'] = fontSizeOf(style['font-size']!, within['font-size']!, sizes);
  return style;
}

/** The style of an element that sets nothing within one of that style; one for all. */
function unsetStyle(within: Style, { unset }: StyleSheet): Style {
  const known = unset.get(within);
  if (known) return known;
  const style: Record<string, string> = { ...within };
  for (const name of OWN_NAMES) style[name] = PROPERTIES[name]!.initial;
  unset.set(within, style);
  return style;
}

/** The value each property is given last, in the order of the cascade. */
function cascade(element: Element, sheet: StyleSheet, unread: Unread): Map<string, string> {
  const set = new Map<string, string>();
  const take = (name: string, value: string, inAttribute: boolean) => {
    if (value.length > LONGEST_VALUE && name !== 'd')
      throw new LimitExceeded('artwork.value-too-long', LONGEST_VALUE);
    const text = value.trim();
    if (name.startsWith('--') || isAccepted(name, text, inAttribute)) set.set(name, text);
    else if (text !== '') unread(name, text);
  };
  for (const name of ATTRIBUTE_NAMES) {
    const value = element.attributes.get(name);
    if (value !== undefined) take(name, value, true);
  }
  const rules = sheet.rules.length > 0 ? rulesFor(sheet, element) : [];
  const text = element.attributes.get('style');
  const all = text === undefined ? rules : [...rules, inlineStyle(sheet, text)];
  for (const { declarations } of all) for (const [name, value] of declarations) take(name, value, false);
  for (const { declarations, important } of all)
    for (const name of important) take(name, declarations.get(name)!, false);
  return set;
}

const WIDE = /^(?:inherit|initial|unset|revert)$/i;

const isAccepted = (name: string, value: string, inAttribute: boolean): boolean =>
  WIDE.test(value) || value.includes('var(') || PROPERTIES[name]!.accepts(value, inAttribute);

/** What a keyword of every property stands for; undefined for other values. */
function keyword(name: string, value: string, within: Style): string | undefined {
  const { inherits, initial } = PROPERTIES[name]!;
  switch (value.toLowerCase()) {
    case 'inherit':
      return within[name] ?? initial;
    case 'initial':
      return initial;
    case 'unset':
    case 'revert':
      return inherits ? within[name]! : initial;
    default:
      return undefined;
  }
}

/** A value with its `var()` put in (CSS Variables 1); undefined where one is missing, goes in a circle or grows too long. */
function substituteVariables(value: string, style: Style, steps: Budget, depth = 0): string | undefined {
  steps.take();
  if (depth > DEEPEST_VARIABLE) return undefined;
  const start = value.search(/\bvar\(/);
  if (start < 0) return value;
  let [end, open] = [start + 4, 1];
  for (; end < value.length && open > 0; end++) open += value[end] === '(' ? 1 : value[end] === ')' ? -1 : 0;
  const [name, fallback] =
    /^\s*(--[^\s,]+)\s*(?:,([\s\S]*))?$/.exec(value.slice(start + 4, end - 1))?.slice(1) ?? [];
  const known = name === undefined ? undefined : (style[name] ?? fallback);
  const inner = known === undefined ? undefined : substituteVariables(known.trim(), style, steps, depth + 1);
  if (open > 0 || inner === undefined || inner.length > LONGEST_VALUE) return undefined;
  const rest = substituteVariables(value.slice(end), style, steps, depth + 1);
  return rest === undefined ? undefined : `${value.slice(0, start)}${inner}${rest}`.trim();
}

/** Sizes of type by their names, px, where medium is 16 (as browsers have it). */
const NAMED_SIZES: Readonly<Record<string, number>> = {
  'xx-small': 9,
  'x-small': 10,
  small: 13,
  medium: 16,
  large: 18,
  'x-large': 24,
  'xx-large': 32,
  'xxx-large': 48,
};

function fontSizeOf(text: string, within: string, sizes: Omit<UnitSizes, 'em'>): string {
  const em = Number.parseFloat(within);
  const named = NAMED_SIZES[text] ?? { smaller: em / 1.2, larger: em * 1.2 }[text];
  return `${named ?? quantityOf(text, { ...sizes, em }, em)?.value ?? em}px`;
}
