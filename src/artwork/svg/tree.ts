import { SaxesParser, type SaxesTagNS } from 'saxes';
import type { Problem } from '../../problem.js';
import { LimitExceeded } from '../budget.js';
import { problem } from '../messages.js';

/** An element of a drawing file. Attributes are those of no namespace. */
export interface Element {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly classes: readonly string[];
  /** What it refers to: its `href`, or the older one of XLink. */
  readonly href: string | undefined;
  readonly children: readonly Element[];
  readonly parent?: Element;
  /** Where it stands: file, line and column, its name, and its id where it has one. */
  readonly where: string;
  /** Text directly in it; kept for style sheets only. */
  readonly text: string;
}

const SVG = 'http://www.w3.org/2000/svg';
const XLINK = 'http://www.w3.org/1999/xlink';
const XHTML = 'http://www.w3.org/1999/xhtml';
const LARGEST_CHARACTERS = 20_000_000;
const DEEPEST = 200;
const MOST_ELEMENTS = 300_000;
const MOST_CLASSES = 100;

interface OpenElement {
  name: string;
  attributes: Map<string, string>;
  classes: readonly string[];
  href: string | undefined;
  children: OpenElement[];
  parent?: OpenElement;
  where: string;
  text: string;
}

export interface ElementTree {
  readonly root: Element;
  /** Addresses of style sheets outside the file, which are not read. */
  readonly outsideSheets: readonly string[];
  /** Whether it declares values that attributes have where they are not given. */
  readonly hasDefaults: boolean;
  /** Whether it says that it is SVG. */
  readonly hasNamespace: boolean;
}

/**
 * The elements of an SVG file. Entities that a file defines are not expanded, and nothing outside the file is read:
 * the parser knows the five of XML and no others. Throws `LimitExceeded`.
 */
export function elementTree(text: string, where: string): ElementTree | { readonly problem: Problem } {
  if (text.length > LARGEST_CHARACTERS)
    throw new LimitExceeded('artwork.too-many-characters', LARGEST_CHARACTERS);
  const parser = new SaxesParser({ xmlns: true, position: true });
  const outsideSheets: string[] = [];
  let root: OpenElement | undefined;
  let open: OpenElement | undefined;
  let depth = 0;
  let count = 0;
  let bad: Problem | undefined;
  let ended = false;
  parser.on('error', () => {
    const place = `${where}:${parser.line}:${parser.column}`;
    bad =
      ended && open
        ? problem('artwork.cut-short', place, { name: open.name.slice(0, 40) })
        : problem('artwork.not-xml', place, {});
    throw new Stopped();
  });
  parser.on('processinginstruction', ({ target, body }) => {
    if (target === 'xml-stylesheet') outsideSheets.push(/href=["']([^"']*)/.exec(body)?.[1] ?? '');
  });
  let [hasDefaults, hasNamespace] = [false, true];
  parser.on('doctype', (declared) => {
    hasDefaults = /<!ATTLIST\b/.test(declared);
  });
  parser.on('opentag', (tag) => {
    if (!root) hasNamespace = tag.uri === SVG;
    if (++depth > DEEPEST) throw new LimitExceeded('artwork.too-deep', DEEPEST);
    if (++count > MOST_ELEMENTS) throw new LimitExceeded('artwork.too-many-elements', MOST_ELEMENTS);
    if (tag.uri === XHTML && tag.local === 'link')
      outsideSheets.push(Object.values(tag.attributes).find((a) => a.local === 'href')?.value ?? '');
    const made = makeElement(tag, `${where}:${parser.line}:${parser.column}`, open, hasNamespace);
    if (made.classes.length > MOST_CLASSES) throw new LimitExceeded('artwork.too-many-classes', MOST_CLASSES);
    if (open) open.children.push(made);
    else root ??= made;
    open = made;
  });
  parser.on('closetag', () => {
    depth--;
    open = open?.parent;
  });
  const take = (more: string) => {
    if (open?.name === 'style') open.text += more;
  };
  parser.on('text', take);
  parser.on('cdata', take);
  try {
    parser.write(text);
    ended = true;
    parser.close();
  } catch (error) {
    if (!(error instanceof Stopped)) throw error;
  }
  if (bad) return { problem: bad };
  if (root?.name !== 'svg') return { problem: problem('artwork.not-svg', where, {}) };
  return { root, outsideSheets, hasDefaults, hasNamespace };
}

class Stopped extends Error {}

function makeElement(
  tag: SaxesTagNS,
  at: string,
  parent: OpenElement | undefined,
  hasNamespace: boolean,
): OpenElement {
  const attributes = new Map<string, string>();
  let linked: string | undefined;
  for (const { local, uri, value } of Object.values(tag.attributes)) {
    if (uri === '') attributes.set(local, value);
    else if (local === 'href' && uri === XLINK) linked = value;
  }
  // Elements of other namespaces keep their prefix, so that no rule takes them for drawing.
  // A style sheet of a web page counts in a drawing too.
  const drawn =
    tag.uri === SVG || (tag.uri === '' && !hasNamespace) || (tag.uri === XHTML && tag.local === 'style');
  const name = drawn ? tag.local : `${tag.prefix || 'other'}:${tag.local}`;
  const id = attributes.get('id');
  const named = id === undefined ? '' : `#${id.replace(/[^\w.-]/g, '?').slice(0, 40)}`;
  const classes = (attributes.get('class') ?? '').split(/[ \t\n\f\r]+/).filter((c) => c !== '');
  const made: OpenElement = {
    name,
    attributes,
    classes,
    href: attributes.get('href') ?? linked,
    children: [],
    where: `${at} ${name}${named}`,
    text: '',
  };
  if (parent) made.parent = parent;
  return made;
}

/** Every element by its id; the first of an id counts. */
export function byId(root: Element): ReadonlyMap<string, Element> {
  const ids = new Map<string, Element>();
  const stack: Element[] = [root];
  for (let e = stack.pop(); e; e = stack.pop()) {
    const id = e.attributes.get('id');
    if (id !== undefined && !ids.has(id)) ids.set(id, e);
    for (let k = e.children.length - 1; k >= 0; k--) stack.push(e.children[k]!);
  }
  return ids;
}
