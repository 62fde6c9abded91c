import { ident } from 'css-tree';
import { type Budget, LimitExceeded } from '../budget.js';
import { hasVariable, inlineStyle, rulesFor, type StyleSheet } from './css.js';
import { valueText } from './css-text.js';
import { quantityOf, type UnitSizes } from './css-values.js';
import {
  ATTRIBUTE_NAMES,
  isAccepted,
  LONGEST_VALUE,
  OWN_NAMES,
  PROPERTIES,
  PROPERTY_NAMES,
} from './properties.js';
import type { Element } from './tree.js';

/** Values of properties, and of custom properties by their names with two hyphens. */
export type Style = Readonly<Record<string, string>>;

export const INITIAL_STYLE: Style = Object.fromEntries(
  PROPERTY_NAMES.map((name) => [name, PROPERTIES[name]!.initial]),
);

const DEEPEST_VARIABLE = 10;

/** Takes note of a value that cannot be read. */
export type Unread = (property: string, value: string) => void;

/**
 * The style of an element within one of that style (CSS Cascade 4): attributes, then rules, then its own `style`, then
 * what is important of these. An invalid value is ignored, as browsers do, and noted.
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
  const style: Record<string, string> = { ...unset };
  setVariables(set, style, sheet.comparisons);
  for (const [name, value] of set) {
    if (name.startsWith('--')) continue;
    const text = hasVariable(value) ? withVariables(name, value, style, sheet.comparisons) : value;
    // A value that turns out to be none once variables are put in leaves the property unset.
    const declared = text ?? 'unset';
    const made = keyword(name, declared, within) ?? declared;
    // What is inherited may come from an attribute, which is no part of a style.
    if (text === undefined || (declared === 'inherit' && made === '')) unread(name, value);
    style[name] = made;
  }
  if (set.has('font-size')) style['font-size'] = fontSizeOf(style['font-size']!, within['font-size']!, sizes);
  return style;
}

function withVariables(name: string, value: string, style: Style, steps: Budget): string | undefined {
  const put = substituteVariables(value, (variable) => style[variable], steps);
  const text = put === undefined ? undefined : valueText(put);
  return text !== undefined && !hasVariable(text) && isAccepted(name, text, 'rule') ? text : undefined;
}

/** Sets the custom properties of an element, each with the variables in it put in where it is set (CSS Variables 1). */
function setVariables(set: ReadonlyMap<string, string>, style: Record<string, string>, steps: Budget): void {
  const names = [...set.keys()].filter((name) => name.startsWith('--'));
  if (names.length === 0) return;
  const around = { ...style };
  const made = new Map<string, string | undefined>();
  const open: string[] = [];
  const circle = new Set<string>();
  const lookUp = (name: string): string | undefined => {
    const value = set.get(name);
    if (value === undefined) return around[name];
    if (made.has(name)) return made.get(name);
    if (open.includes(name) || open.length > DEEPEST_VARIABLE) {
      for (const other of open.slice(Math.max(0, open.indexOf(name)))) circle.add(other);
      return undefined;
    }
    open.push(name);
    const word = value.toLowerCase();
    const wide =
      word === 'initial' ? undefined : /^(?:inherit|unset|revert)$/.test(word) ? around[name] : value;
    const put = wide === undefined || wide !== value ? wide : substituteVariables(value, lookUp, steps);
    open.pop();
    made.set(name, circle.has(name) ? undefined : put);
    return made.get(name);
  };
  for (const name of names) {
    const value = lookUp(name);
    if (value === undefined) delete style[name];
    else style[name] = value;
  }
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
  const checkLength = (name: string, value: string) => {
    if (value.length > LONGEST_VALUE && name !== 'd')
      throw new LimitExceeded('artwork.value-too-long', LONGEST_VALUE);
  };
  for (const name of ATTRIBUTE_NAMES) {
    const value = element.attributes.get(name);
    // A symbol has a transform by its style alone.
    if (value === undefined || (name === 'transform' && element.name === 'symbol')) continue;
    checkLength(name, value);
    // The words of a transform are read with their letters.
    const text = name === 'transform' || hasVariable(value) ? value.trim() : valueText(value);
    if (text !== undefined && isAccepted(name, text, 'attribute')) set.set(name, text);
    else if (text !== '') unread(name, value.trim());
  }
  const rules = sheet.rules.length > 0 ? rulesFor(sheet, element) : [];
  const text = element.attributes.get('style');
  const all = text === undefined ? rules : [...rules, inlineStyle(sheet, text)];
  const take = (name: string, value: string) => {
    checkLength(name, value);
    set.set(name, value);
  };
  for (const { declarations, rejected } of all) {
    for (const [name, value] of declarations) take(name, value);
    for (const [name, value] of rejected) unread(name, value);
  }
  for (const { declarations, important } of all)
    for (const name of important) take(name, declarations.get(name)!);
  return set;
}

/** What a keyword of every property stands for; undefined for other values. */
function keyword(name: string, value: string, within: Style): string | undefined {
  const { inherits, initial, words = { initial, revert: initial } } = PROPERTIES[name]!;
  switch (value) {
    case 'inherit':
      return within[name] ?? initial;
    case 'initial':
      return words.initial;
    case 'unset':
      return inherits ? within[name]! : words.initial;
    case 'revert':
      return inherits ? within[name]! : words.revert;
    default:
      return undefined;
  }
}

/** A value with its `var()` put in (CSS Variables 1); undefined where one is missing, goes in a circle or grows too long. */
function substituteVariables(
  value: string,
  lookUp: (name: string) => string | undefined,
  steps: Budget,
  depth = 0,
): string | undefined {
  steps.take();
  if (depth > DEEPEST_VARIABLE) return undefined;
  const start = value.search(/(?<![\w-])var\(/i);
  if (start < 0) return value;
  let [end, open] = [start + 4, 1];
  for (; end < value.length && open > 0; end++) open += value[end] === '(' ? 1 : value[end] === ')' ? -1 : 0;
  const [name, fallback] =
    /^\s*(--[^\s,]+)\s*(?:,([\s\S]*))?$/.exec(value.slice(start + 4, end - 1))?.slice(1) ?? [];
  const known = name === undefined ? undefined : (lookUp(ident.decode(name)) ?? fallback);
  const inner = known === undefined ? undefined : substituteVariables(known.trim(), lookUp, steps, depth + 1);
  if (open > 0 || inner === undefined || inner.length > LONGEST_VALUE) return undefined;
  const rest = substituteVariables(value.slice(end), lookUp, steps, depth + 1);
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
