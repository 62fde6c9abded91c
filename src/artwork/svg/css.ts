import { type CssNode, generate, parse, type Selector } from 'css-tree';
import { NOT_READ, PROPERTIES } from './properties.js';
import { Allowance } from './too-much.js';
import type { Element } from './tree.js';

/** One part of a selector: what an element must be, and how it stands to the part before. */
interface Compound {
  readonly name?: string;
  readonly id?: string;
  readonly classes: readonly string[];
  readonly before: ' ' | '>';
}

/** The properties that are read, with their values, those marked important, and those that should be read and are not. */
interface Declarations {
  readonly declarations: ReadonlyMap<string, string>;
  readonly important: ReadonlySet<string>;
  readonly notRead: readonly string[];
}

interface Rule extends Declarations {
  /** Left to right; the last is the element itself. */
  readonly chain: readonly Compound[];
  readonly specificity: number;
}

export interface StyleSheet {
  readonly rules: readonly Rule[];
  /** Rules, selectors and properties that say more than is read here. */
  readonly unread: readonly string[];
  /** Places of rules among all, by the id, class or name that their element must have; '*' where it need have none. */
  readonly places: ReadonlyMap<string, readonly number[]>;
  /** Parts of selectors held against elements, and values taken from rules. */
  readonly asked: Allowance;
  /** `style` attributes as read, by their text, and the characters of them. */
  readonly inline: Map<string, Declarations>;
  readonly characters: Allowance;
}

const MOST_RULES = 20_000;
const LARGEST_CHARACTERS = 1_000_000;
/** Parts of a selector. */
const LONGEST_CHAIN = 32;
/** In a whole drawing. */
const MOST_ASKED = 1_000_000;
const MOST_INLINE = 3_000_000;
const PLAINER = 'Save the drawing with plain attributes in place of styles.';

/** The rules of style sheets: selectors of names, ids and classes, descendants and children. Never imports anything. */
export function styleSheet(text: string): StyleSheet {
  const rules: Rule[] = [];
  const unread: string[] = [];
  const places = new Map<string, number[]>();
  const made: StyleSheet = {
    rules,
    unread,
    places,
    asked: new Allowance(MOST_ASKED, 'Its style sheet asks too much of too many shapes.', PLAINER),
    inline: new Map(),
    characters: new Allowance(MOST_INLINE, 'Its shapes have too many styles of their own.', PLAINER),
  };
  if (text.trim() === '') return made;
  if (text.length > LARGEST_CHARACTERS) {
    unread.push('a style sheet beyond any drawing');
    return made;
  }
  const sheet = parse(text, {
    parseValue: false,
    parseCustomProperty: false,
    onParseError: () => unread.push('a broken rule'),
  });
  if (sheet.type !== 'StyleSheet') return made;
  for (const node of sheet.children) {
    if (node.type === 'Atrule') {
      unread.push(`@${node.name}`);
      continue;
    }
    if (node.type !== 'Rule' || node.prelude.type !== 'SelectorList') continue;
    const said = declarationsOf(node.block.children);
    unread.push(...said.notRead);
    for (const selector of node.prelude.children) {
      const chain = selector.type === 'Selector' ? chainOf(selector) : undefined;
      if (!chain || chain.length > LONGEST_CHAIN || rules.length >= MOST_RULES) {
        unread.push(generate(selector).slice(0, 40));
        continue;
      }
      const key = keyOf(chain[chain.length - 1]!);
      const among = places.get(key);
      if (among) among.push(rules.length);
      else places.set(key, [rules.length]);
      rules.push({ chain, specificity: specificityOf(chain), ...said });
    }
  }
  return made;
}

/** The declarations of a `style` attribute. */
export function inlineStyle({ inline, characters }: StyleSheet, text: string): Declarations {
  const known = inline.get(text);
  if (known) return known;
  characters.take(text.length);
  const list = parse(text, { context: 'declarationList', parseValue: false, onParseError: () => undefined });
  const made = declarationsOf(list.type === 'DeclarationList' ? list.children : []);
  inline.set(text, made);
  return made;
}

const READ: ReadonlySet<string> = new Set(PROPERTIES);

function declarationsOf(children: Iterable<CssNode>): Declarations {
  const declarations = new Map<string, string>();
  const important = new Set<string>();
  const notRead = new Set<string>();
  for (const node of children) {
    if (node.type !== 'Declaration') continue;
    const name = node.property.toLowerCase();
    if (NOT_READ.has(name)) notRead.add(name);
    if (!READ.has(name)) continue;
    declarations.set(name, generate(node.value).trim());
    if (node.important) important.add(name);
  }
  return { declarations, important, notRead: [...notRead] };
}

function chainOf(selector: Selector): Compound[] | undefined {
  const chain: Compound[] = [];
  let before: ' ' | '>' = ' ';
  let part: { name?: string; id?: string; classes: string[] } = { classes: [] };
  for (const node of selector.children) {
    if (node.type === 'TypeSelector') {
      if (node.name !== '*') part.name = node.name;
    } else if (node.type === 'IdSelector') part.id = node.name;
    else if (node.type === 'ClassSelector') part.classes.push(node.name);
    else if (node.type === 'Combinator' && (node.name === ' ' || node.name === '>')) {
      chain.push({ ...part, before });
      before = node.name;
      part = { classes: [] };
    } else return undefined;
  }
  chain.push({ ...part, before });
  return chain;
}

const specificityOf = (chain: readonly Compound[]): number =>
  chain.reduce((sum, c) => sum + (c.id ? 1e6 : 0) + c.classes.length * 1e3 + (c.name ? 1 : 0), 0);

/** What rules say of an element: the later and the more particular win; what is important wins over all. */
export function styledBy(
  sheet: StyleSheet,
  element: Element,
): Map<string, { value: string; important: boolean }> {
  const found = new Map<string, { value: string; important: boolean; weight: number }>();
  for (const { chain, specificity, declarations, important } of mayApply(sheet, element)) {
    if (!matches(sheet, chain, chain.length - 1, element)) continue;
    sheet.asked.take(declarations.size);
    for (const [name, value] of declarations) {
      const weight = specificity + (important.has(name) ? 1e12 : 0);
      const before = found.get(name);
      if (!before || weight >= before.weight)
        found.set(name, { value, important: important.has(name), weight });
    }
  }
  return found;
}

function mayApply({ rules, places }: StyleSheet, { name, classes, attributes }: Element): Rule[] {
  const id = attributes.get('id');
  const keys = ['*', name, ...new Set(classes.map((c) => `.${c}`)), ...(id === undefined ? [] : [`#${id}`])];
  const found = keys.flatMap((key) => places.get(key) ?? []);
  return found.sort((a, b) => a - b).map((k) => rules[k]!);
}

const keyOf = ({ id, classes, name }: Compound): string =>
  id !== undefined ? `#${id}` : classes.length > 0 ? `.${classes[0]}` : (name ?? '*');

function matches(sheet: StyleSheet, chain: readonly Compound[], k: number, element: Element): boolean {
  const part = chain[k]!;
  sheet.asked.take(1 + part.classes.length);
  if (!isOf(part, element)) return false;
  if (k === 0) return true;
  for (let up = element.parent; up; up = up.parent) {
    if (matches(sheet, chain, k - 1, up)) return true;
    if (part.before === '>') return false;
  }
  return false;
}

function isOf({ name, id, classes }: Compound, element: Element): boolean {
  if (name !== undefined && name !== element.name) return false;
  if (id !== undefined && id !== element.attributes.get('id')) return false;
  return classes.every((c) => element.classes.includes(c));
}
