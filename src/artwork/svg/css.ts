import { type CssNode, generate, type List, parse } from 'css-tree';
import { Budget } from '../budget.js';
import { PROPERTIES, UNREAD_PROPERTIES } from './properties.js';
import { type Compound, chainOf, matchesSelector, type SelectorChain, specificityOf } from './selectors.js';
import type { Element } from './tree.js';

/** The properties that are read, with their values, those marked important, and those that should be read and are not. */
export interface Declarations {
  readonly declarations: ReadonlyMap<string, string>;
  readonly important: ReadonlySet<string>;
  readonly unread: readonly string[];
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
  const kinds = media.split(',').map((m) =>
    m
      .trim()
      .toLowerCase()
      .replace(/^only\s+/, ''),
  );
  if (kinds.some((k) => k === '' || k === 'all' || k === 'screen' || k === 'not print')) return true;
  return kinds.every((k) => k === 'print' || k === 'speech' || k === 'not all' || k === 'not screen')
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
        const declared = declarationsOf(node.block.children, this.variables);
        for (const name of declared.unread) this.unreadProperties.push(name);
        for (const inner of node.block.children)
          if (inner.type === 'Rule' || inner.type === 'Atrule') this.unreadRules.push(shortName(inner));
        for (const selector of node.prelude.children) this.#rule(selector, declared);
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
  const made = declarationsOf(list.type === 'DeclarationList' ? list.children : [], variables);
  inline.set(text, made);
  return made;
}

function declarationsOf(children: Iterable<CssNode>, variables: boolean): Declarations {
  const declarations = new Map<string, string>();
  const important = new Set<string>();
  const unread = new Set<string>();
  for (const node of children) {
    if (node.type !== 'Declaration') continue;
    const custom = node.property.startsWith('--');
    const property = custom ? node.property : node.property.toLowerCase().replace(/^-webkit-/, '');
    const value = generate(node.value).trim();
    const harmless = UNREAD_PROPERTIES.get(property);
    if (harmless && !harmless.test(value)) unread.add(property);
    for (const name of longhands(property)) {
      if (!(custom ? variables : name in PROPERTIES)) continue;
      if (important.has(name) && !node.important) continue;
      const long = property === 'font' ? fontSize(value) : value;
      if (long === undefined) continue;
      // The later of two counts, and takes its place after the others.
      declarations.delete(name);
      declarations.set(name, long);
      if (node.important) important.add(name);
    }
  }
  return { declarations, important, unread: [...unread] };
}

function longhands(property: string): readonly string[] {
  if (property === 'marker') return ['marker-start', 'marker-mid', 'marker-end'];
  return property === 'font' ? ['font-size'] : [property];
}

/** The size in a `font` shorthand. */
const fontSize = (value: string): string | undefined =>
  /(?:^|\s)((?:\d+\.?\d*|\.\d+)(?:[a-z]+|%)|(?:xx?-|)(?:small|large)|medium)(?=[\s/])/i.exec(value)?.[1];

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
