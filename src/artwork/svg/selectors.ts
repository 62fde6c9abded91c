import { type CssNode, ident, type Selector } from 'css-tree';
import type { Budget } from '../budget.js';
import type { Element } from './tree.js';

/** One part of a selector: what an element must be, and how it stands to the part before. */
export interface Compound {
  readonly name?: string;
  readonly id?: string;
  readonly classes: readonly string[];
  readonly tests: readonly Test[];
  readonly before: Combinator;
}

type Combinator = ' ' | '>' | '+' | '~';

/** Left to right; the last is the element itself. */
export type SelectorChain = readonly Compound[];

type Test =
  | {
      readonly kind: 'attribute';
      readonly name: string;
      readonly matchesSelector: (value: string) => boolean;
    }
  /** The place among siblings is a n + b for a whole n from 0 up. */
  | {
      readonly kind: 'nth';
      readonly a: number;
      readonly b: number;
      readonly fromEnd: boolean;
      readonly ofType: boolean;
    }
  | { readonly kind: 'root' }
  | {
      readonly kind: 'any';
      readonly not: boolean;
      readonly chains: readonly SelectorChain[];
      readonly weight: number;
    };

/** Parts of a selector. */
const LONGEST_CHAIN = 32;

/** A selector of Selectors 4 as far as it is read; undefined for others, among them all of what a person does (`:hover`). */
export function chainOf(selector: Selector): SelectorChain | undefined {
  const chain: Compound[] = [];
  let before: Combinator = ' ';
  let part: { name?: string; id?: string; classes: string[]; tests: Test[] } = { classes: [], tests: [] };
  for (const node of selector.children) {
    if (node.type === 'TypeSelector') {
      if (node.name.includes('|')) return undefined;
      if (node.name !== '*') part.name = decoded(node.name);
    } else if (node.type === 'IdSelector') part.id = decoded(node.name);
    else if (node.type === 'ClassSelector') part.classes.push(decoded(node.name));
    else if (node.type === 'Combinator') {
      if (!/^[ >+~]$/.test(node.name)) return undefined;
      chain.push({ ...part, before });
      before = node.name as Combinator;
      part = { classes: [], tests: [] };
    } else {
      const test = testOf(node);
      if (!test) return undefined;
      part.tests.push(test);
    }
  }
  chain.push({ ...part, before });
  return chain.length <= LONGEST_CHAIN ? chain : undefined;
}

const decoded = (name: string): string => (name.includes('\\') ? ident.decode(name) : name);

/** The pseudo-classes that browsers know, beside those of their own with a hyphen before. */
const PSEUDO_CLASSES: ReadonlySet<string> = new Set(
  `active active-view-transition any-link autofill checked default defined dir disabled empty enabled first first-child
  first-of-type focus focus-visible focus-within fullscreen future has has-slotted host host-context hover in-range
  indeterminate invalid is lang last-child last-of-type left link modal muted not nth-child nth-last-child
  nth-last-of-type nth-of-type only-child only-of-type open optional out-of-range past paused picture-in-picture
  placeholder-shown playing popover-open read-only read-write required right root scope state target target-current
  user-invalid user-valid valid visited where after before first-letter first-line`.split(/\s+/),
);
const PSEUDO_ELEMENTS: ReadonlySet<string> = new Set(
  `after backdrop before cue details-content file-selector-button first-letter first-line grammar-error highlight marker
  part placeholder search-text selection slotted spelling-error target-text view-transition view-transition-group
  view-transition-image-pair view-transition-new view-transition-old`.split(/\s+/),
);

/** Whether browsers take a selector for none, and pass over its whole rule. */
export function isInvalid(selector: CssNode): boolean {
  if (selector.type !== 'Selector') return true;
  let last: CssNode | undefined;
  for (const node of selector.children) {
    if (node.type === 'IdSelector' && !/^(?:--|-?(?:[a-z_\\]|[^\0-\x7f]))/i.test(node.name)) return true;
    if (node.type === 'Combinator' && (last?.type === 'Combinator' || !/^[ >+~]$/.test(node.name)))
      return true;
    const name = 'name' in node && typeof node.name === 'string' ? node.name.toLowerCase() : '';
    if (node.type === 'PseudoClassSelector' && !name.startsWith('-') && !PSEUDO_CLASSES.has(name))
      return true;
    if (node.type === 'PseudoElementSelector' && !name.startsWith('-') && !PSEUDO_ELEMENTS.has(name))
      return true;
    last = node;
  }
  return false;
}

function testOf(node: CssNode): Test | undefined {
  if (node.type === 'AttributeSelector') {
    if (node.name.name.includes('|')) return undefined;
    const name = decoded(node.name.name);
    const value = node.value?.type === 'String' ? node.value.value : decoded(node.value?.name ?? '');
    const matchesSelector = attributeMatch(node.matcher ?? '', value, /i/i.test(node.flags ?? ''));
    return matchesSelector && { kind: 'attribute', name, matchesSelector: matchesSelector };
  }
  if (node.type !== 'PseudoClassSelector') return undefined;
  const name = node.name.toLowerCase();
  const place = PLACES[name];
  if (place) return { kind: 'nth', a: 0, b: 1, ...place };
  if (name === 'root') return { kind: 'root' };
  const [argument] = node.children ?? [];
  if (argument?.type === 'SelectorList' && /^(?:not|is|where)$/.test(name)) {
    const chains = [...argument.children].map((s) => (s.type === 'Selector' ? chainOf(s) : undefined));
    if (!chains.every((c) => c !== undefined)) return undefined;
    const weight = name === 'where' ? 0 : Math.max(0, ...chains.map(specificityOf));
    return { kind: 'any', not: name === 'not', chains, weight };
  }
  if (argument?.type !== 'Nth' || argument.selector || !/^nth-(?:last-)?(?:child|of-type)$/.test(name))
    return undefined;
  const { nth } = argument;
  const [a, b] =
    nth.type === 'Identifier'
      ? [2, nth.name.toLowerCase() === 'odd' ? 1 : 0]
      : [Number(nth.a ?? 0), Number(nth.b ?? 0)];
  return { kind: 'nth', a, b, fromEnd: name.includes('last'), ofType: name.endsWith('of-type') };
}

const PLACES: Readonly<Record<string, { fromEnd: boolean; ofType: boolean }>> = {
  'first-child': { fromEnd: false, ofType: false },
  'last-child': { fromEnd: true, ofType: false },
  'first-of-type': { fromEnd: false, ofType: true },
  'last-of-type': { fromEnd: true, ofType: true },
};

function attributeMatch(
  matcher: string,
  wanted: string,
  anyCase: boolean,
): ((value: string) => boolean) | undefined {
  const fold = (text: string) => (anyCase ? text.toLowerCase() : text);
  const w = fold(wanted);
  switch (matcher) {
    case '':
      return () => true;
    case '=':
      return (v) => fold(v) === w;
    case '~=':
      return (v) =>
        w !== '' &&
        fold(v)
          .split(/[ \t\n\f\r]+/)
          .includes(w);
    case '|=':
      return (v) => fold(v) === w || fold(v).startsWith(`${w}-`);
    case '^=':
      return (v) => w !== '' && fold(v).startsWith(w);
    case '$=':
      return (v) => w !== '' && fold(v).endsWith(w);
    case '*=':
      return (v) => w !== '' && fold(v).includes(w);
    default:
      return undefined;
  }
}

/** How particular a selector is (Selectors 4, 16): ids before classes and the like, these before names. */
export const specificityOf = (chain: SelectorChain): number =>
  chain.reduce(
    (sum, { id, classes, name, tests }) =>
      sum +
      (id === undefined ? 0 : 1e6) +
      classes.length * 1e3 +
      (name === undefined ? 0 : 1) +
      tests.reduce((more, t) => more + (t.kind === 'any' ? t.weight : 1e3), 0),
    0,
  );

/** Whether an element is what a selector asks for. Each part compared is a step. */
export function matchesSelector(
  chain: SelectorChain,
  element: Element,
  steps: Budget,
  k = chain.length - 1,
): boolean {
  const part = chain[k]!;
  steps.take(1 + part.classes.length + part.tests.length);
  if (!isOf(part, element, steps)) return false;
  if (k === 0) return true;
  if (part.before === '+' || part.before === '~') {
    const siblings = element.parent?.children ?? [];
    steps.take(siblings.length);
    for (let i = siblings.indexOf(element) - 1; i >= 0; i--) {
      if (matchesSelector(chain, siblings[i]!, steps, k - 1)) return true;
      if (part.before === '+') return false;
    }
    return false;
  }
  for (let up = element.parent; up; up = up.parent) {
    if (matchesSelector(chain, up, steps, k - 1)) return true;
    if (part.before === '>') return false;
  }
  return false;
}

function isOf({ name, id, classes, tests }: Compound, element: Element, steps: Budget): boolean {
  if (name !== undefined && name !== element.name) return false;
  if (id !== undefined && id !== element.attributes.get('id')) return false;
  if (!classes.every((c) => element.classes.includes(c))) return false;
  return tests.every((test) => passes(test, element, steps));
}

function passes(test: Test, element: Element, steps: Budget): boolean {
  switch (test.kind) {
    case 'attribute': {
      const value = element.attributes.get(test.name);
      steps.take((value?.length ?? 0) / 100);
      return value !== undefined && test.matchesSelector(value);
    }
    case 'root':
      return element.parent === undefined;
    case 'any':
      return test.chains.some((chain) => matchesSelector(chain, element, steps)) !== test.not;
    case 'nth': {
      const all = element.parent?.children ?? [element];
      steps.take(all.length);
      const among = test.ofType ? all.filter((e) => e.name === element.name) : all;
      const at = test.fromEnd ? among.length - among.indexOf(element) : among.indexOf(element) + 1;
      return test.a === 0 ? at === test.b : (at - test.b) % test.a === 0 && (at - test.b) / test.a >= 0;
    }
  }
}
