import { type CssNode, generate, ident, type List, lexer, parse } from 'css-tree';
import { Budget } from '../budget.js';
import { valueText } from './css-text.js';
import { quantityOf, type UnitSizes } from './css-values.js';
import { isAccepted, LONGEST_VALUE, PROPERTIES, UNREAD_OUTERMOST, UNREAD_PROPERTIES } from './properties.js';
import {
  type Compound,
  chainOf,
  isInvalid,
  matchesSelector,
  type SelectorChain,
  specificityOf,
} from './selectors.js';
import type { Element } from './tree.js';

/** What a style sets. */
export interface Declarations {
  /** The properties that are read, with their values. */
  readonly declarations: ReadonlyMap<string, string>;
  readonly important: ReadonlySet<string>;
  /** Properties that should be read and are not. */
  readonly unread: readonly string[];
  /** Those that should be read where the outermost element has them. */
  readonly unreadOutermost: readonly string[];
  /** Values that are none of their property, which are passed over: what was set before them stands. */
  readonly rejected: readonly (readonly [property: string, value: string])[];
}

interface Rule extends Declarations {
  readonly chain: SelectorChain;
  readonly specificity: number;
}

/** The text of one `style` element, and the media it is for. */
export interface SheetText {
  readonly text: string;
  readonly media: string;
}

export interface StyleSheet {
  readonly rules: readonly Rule[];
  /** Rules and selectors that are not read. */
  readonly unreadRules: readonly string[];
  /** Properties of rules that are not read. */
  readonly unreadProperties: readonly string[];
  /** Whether anything of the file refers to a custom property; they are kept only then. */
  readonly variables: boolean;
  /** Indices of rules, by the id, class or name that their element must have; '*' where it need have none. */
  readonly index: ReadonlyMap<string, readonly number[]>;
  /** Parts of selectors compared with elements, and values taken from rules. */
  readonly comparisons: Budget;
  /** `style` attributes as read, by their text, and the characters of them. */
  readonly inline: Map<string, Declarations>;
  readonly characters: Budget;
  /** Styles of elements that set nothing, by the style around them. */
  readonly unset: WeakMap<object, Readonly<Record<string, string>>>;
}

const MOST_RULES = 20_000;
const LARGEST_CHARACTERS = 1_000_000;
const DEEPEST_MEDIA = 10;
/** In a whole drawing. */
const MOST_COMPARISONS = 1_000_000;
const MOST_INLINE = 3_000_000;

/** At-rules that put no ink down by themselves. */
const HARMLESS =
  /^(?:charset|font-face|keyframes|-webkit-keyframes|page|starting-style|view-transition|counter-style|font-feature-values|font-palette-values|position-try)$/i;

/** The rules of a file's style sheets. Never imports anything. */
export function styleSheet(sheets: readonly SheetText[], variables: boolean): StyleSheet {
  const building = new SheetBuilder(variables);
  let length = 0;
  for (const { text, media } of sheets) {
    length += text.length;
    if (length > LARGEST_CHARACTERS) {
      building.unreadRules.push(`${text.trim().slice(0, 40)}...`);
      break;
    }
    const applies = mediaApplies(media);
    if (applies === undefined) building.unreadRules.push(`media="${media.slice(0, 40)}"`);
    if (!applies) continue;
    const sheet = parse(text, {
      parseValue: false,
      parseCustomProperty: false,
      onParseError: () => building.unreadRules.push('(at fault)'),
    });
    if (sheet.type === 'StyleSheet') building.add(sheet.children, 0);
  }
  return building;
}

/** Whether a list of media is for a picture on a screen; undefined for those that ask more than a kind. */
function mediaApplies(media: string): boolean | undefined {
  if (media.trim() === '') return true;
  // An empty place between or beside commas is for no kind.
  const kinds = media.split(',').map((m) =>
    m
      .trim()
      .toLowerCase()
      .replace(/^only\s+/, ''),
  );
  if (kinds.some((k) => k === 'all' || k === 'screen' || k === 'not print')) return true;
  return kinds.every(
    (k) => k === '' || k === 'print' || k === 'speech' || k === 'not all' || k === 'not screen',
  )
    ? false
    : undefined;
}

class SheetBuilder implements StyleSheet {
  readonly rules: Rule[] = [];
  readonly unreadRules: string[] = [];
  readonly unreadProperties: string[] = [];
  readonly index = new Map<string, number[]>();
  readonly comparisons = new Budget('artwork.too-much-matching', MOST_COMPARISONS);
  readonly inline = new Map<string, Declarations>();
  readonly unset = new WeakMap<object, Readonly<Record<string, string>>>();
  readonly characters = new Budget('artwork.too-many-style-characters', MOST_INLINE);

  constructor(readonly variables: boolean) {}

  add(nodes: List<CssNode>, depth: number): void {
    for (const node of nodes) {
      if (node.type === 'Atrule') this.#atRule(node, depth);
      else if (node.type === 'Rule' && node.prelude.type === 'SelectorList') {
        const declared = declarationsOf(node.block.children, this.variables, 'rule');
        for (const name of declared.unread) this.unreadProperties.push(name);
        for (const inner of node.block.children)
          if (inner.type === 'Rule' || inner.type === 'Atrule') this.unreadRules.push(shortName(inner));
        // Browsers pass over a rule for one selector that is none.
        const invalid = node.prelude.children.toArray().find(isInvalid);
        if (invalid) this.unreadRules.push(generate(node.prelude).slice(0, 40));
        else for (const selector of node.prelude.children) this.#rule(selector, declared);
      }
    }
  }

  #atRule(node: Extract<CssNode, { type: 'Atrule' }>, depth: number): void {
    if (HARMLESS.test(node.name)) return;
    if (node.name.toLowerCase() === 'media' && node.block && depth < DEEPEST_MEDIA) {
      const applies = mediaApplies(node.prelude ? generate(node.prelude) : '');
      if (applies) this.add(node.block.children, depth + 1);
      if (applies !== undefined) return;
    }
    this.unreadRules.push(shortName(node));
  }

  #rule(selector: CssNode, declared: Declarations): void {
    const chain = selector.type === 'Selector' ? chainOf(selector) : undefined;
    if (!chain || this.rules.length >= MOST_RULES) {
      this.unreadRules.push(generate(selector).slice(0, 40));
      return;
    }
    const key = keyOf(chain[chain.length - 1]!);
    const among = this.index.get(key);
    if (among) among.push(this.rules.length);
    else this.index.set(key, [this.rules.length]);
    this.rules.push({ chain, specificity: specificityOf(chain), ...declared });
  }
}

const shortName = (node: CssNode): string =>
  node.type === 'Atrule' ? `@${node.name}` : generate(node).slice(0, 40);

/** The declarations of a `style` attribute. */
export function inlineStyle({ inline, characters, variables }: StyleSheet, text: string): Declarations {
  const known = inline.get(text);
  if (known) return known;
  characters.take(text.length);
  const list = parse(text, { context: 'declarationList', parseValue: false, onParseError: () => undefined });
  const made = declarationsOf(list.type === 'DeclarationList' ? list.children : [], variables, 'style');
  inline.set(text, made);
  return made;
}

/** Names with a `-webkit-` before them that browsers take for those without. */
const PREFIXED: ReadonlySet<string> = new Set(
  'transform transform-origin opacity clip-path filter mask mask-image perspective animation animation-name backface-visibility box-shadow'.split(
    ' ',
  ),
);

function propertyName(written: string): string {
  const name = written.includes('\\') ? ident.decode(written) : written;
  if (name.startsWith('--')) return name;
  const plain = name.toLowerCase();
  const bare = plain.replace(/^-webkit-/, '');
  return bare !== plain && PREFIXED.has(bare) ? bare : plain;
}

function declarationsOf(
  children: Iterable<CssNode>,
  variables: boolean,
  from: 'style' | 'rule',
): Declarations {
  const declarations = new Map<string, string>();
  const important = new Set<string>();
  const unread = new Set<string>();
  const unreadOutermost = new Set<string>();
  const rejected: [string, string][] = [];
  const set = (name: string, value: string, isImportant: boolean) => {
    if (important.has(name) && !isImportant) return;
    // The later of two counts, and takes its place after the others.
    declarations.delete(name);
    declarations.set(name, value);
    if (isImportant) important.add(name);
  };
  for (const node of children) {
    if (node.type !== 'Declaration') continue;
    const property = propertyName(node.property);
    const written = generate(node.value).trim();
    // What stands after the mark is `important`, or the value is none.
    const isImportant = node.important !== false;
    const isMarked = isImportant && node.important !== true;
    if (isMarked && valueText(String(node.important)) !== 'important') continue;
    if (property.startsWith('--')) {
      if (variables) set(property, written, isImportant);
      continue;
    }
    const value = hasVariable(written) || written.length > LONGEST_VALUE ? written : valueText(written);
    const changes = (of: ReadonlyMap<string, RegExp>, name: string, text: string | undefined): boolean =>
      of.has(name) && !(text !== undefined && of.get(name)!.test(text));
    if (changes(UNREAD_PROPERTIES, property, value)) unread.add(property);
    if (changes(UNREAD_OUTERMOST, property, value)) unreadOutermost.add(property);
    if (property === 'font' && changes(UNREAD_PROPERTIES, 'font-family', value && /[^ ,]+$/.exec(value)?.[0]))
      if (!value?.includes(',')) unread.add('font-family');
    for (const [name, long] of longhands(property, value)) {
      if (long !== undefined && (long.length > LONGEST_VALUE || isAccepted(name, long, from)))
        set(name, long, isImportant);
      else if (written !== '') rejected.push([property, written]);
    }
  }
  return { declarations, important, unread: [...unread], unreadOutermost: [...unreadOutermost], rejected };
}

/** Whether a value refers to a custom property. */
export const hasVariable = (value: string): boolean => /(?<![\w-])var\(/i.test(value);

/** The properties that are read of what a declaration sets. */
function longhands(property: string, value: string | undefined): (readonly [string, string | undefined])[] {
  if (property === 'marker')
    return ['marker-start', 'marker-mid', 'marker-end'].map((name) => [name, value] as const);
  if (property === 'font') return [['font-size', value === undefined ? undefined : fontSize(value)]];
  return property in PROPERTIES ? [[property, value]] : [];
}

const NO_SIZES: UnitSizes = { em: 16, rem: 16, viewWidth: 0, viewHeight: 0 };
/** The greatest lean of letters that a `font` may ask for, degrees (CSS Fonts 4, 2.4). */
const STEEPEST = 90;

/** The size in a `font` shorthand; undefined where it is none, or its size cannot be known. */
function fontSize(value: string): string | undefined {
  if (/^(?:inherit|initial|unset|revert)$/.test(value)) return value;
  if (hasVariable(value)) return undefined;
  const list = parse(`font:${value}`, { context: 'declarationList', onParseError: () => undefined });
  const declared = list.type === 'DeclarationList' ? list.children.first : undefined;
  const font = declared?.type === 'Declaration' ? declared.value : undefined;
  // What cannot be parsed is left raw.
  if (font?.type !== 'Value') return undefined;
  const partOf = (type: string, name: string): string | undefined => {
    const [part] = lexer.findValueFragments('font', font, type, name);
    return part && generate({ type: 'Value', children: part.nodes });
  };
  // The bounds of these two are not in the grammar.
  const lean = quantityOf(partOf('Type', 'angle') ?? '0', NO_SIZES);
  if (!lean || Math.abs(lean.value) > STEEPEST || partOf('Property', 'line-height')?.startsWith('-'))
    return undefined;
  return partOf('Property', 'font-size');
}

/** What rules set for an element, from the weakest to the strongest. */
export function rulesFor(sheet: StyleSheet, element: Element): Rule[] {
  const found: (Rule & { order: number })[] = [];
  for (const k of candidateRules(sheet, element)) {
    const rule = sheet.rules[k]!;
    if (!matchesSelector(rule.chain, element, sheet.comparisons)) continue;
    sheet.comparisons.take(rule.declarations.size);
    found.push({ ...rule, order: k });
  }
  return found.sort((a, b) => a.specificity - b.specificity || a.order - b.order);
}

function candidateRules({ index }: StyleSheet, { name, classes, attributes }: Element): number[] {
  const id = attributes.get('id');
  const keys = ['*', name, ...new Set(classes.map((c) => `.${c}`)), ...(id === undefined ? [] : [`#${id}`])];
  return keys.flatMap((key) => index.get(key) ?? []);
}

const keyOf = ({ id, classes, name }: Compound): string =>
  id !== undefined ? `#${id}` : classes.length > 0 ? `.${classes[0]}` : (name ?? '*');
