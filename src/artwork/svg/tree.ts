import { SaxesParser, type SaxesTagNS } from 'saxes';
import { type Problem, problem } from '../../problem.js';

/** An element of a drawing file. Attributes by local name; `href` in either namespace is one. */
export interface Element {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly classes: readonly string[];
  readonly children: readonly Element[];
  readonly parent?: Element;
  /** Where it stands: line and column, and its id where it has one. */
  readonly where: string;
  /** Text directly in it; kept for style sheets only. */
  readonly text: string;
}

export const SVG = 'http://www.w3.org/2000/svg';
const LARGEST_CHARACTERS = 20_000_000;
const DEEPEST = 200;
const MOST_ELEMENTS = 300_000;
const MOST_CLASSES = 100;

interface Growing {
  name: string;
  attributes: Map<string, string>;
  classes: readonly string[];
  children: Growing[];
  parent?: Growing;
  where: string;
  text: string;
}

/**
 * The elements of an SVG file. Entities that a file defines are not expanded, and nothing outside the file is read:
 * the parser knows the five of XML and no others.
 */
export function elementTree(text: string, where: string): { root: Element } | { problem: Problem } {
  if (text.length > LARGEST_CHARACTERS)
    return {
      problem: problem(where, 'It is larger than any drawing a cutter follows.', 'Simplify the drawing.'),
    };
  const parser = new SaxesParser({ xmlns: true, position: true });
  let root: Growing | undefined;
  let open: Growing | undefined;
  let depth = 0;
  let count = 0;
  let bad: Problem | undefined;
  const fail = (what: string, cure: string): never => {
    bad = problem(`${where}:${parser.line}:${parser.column}`, what, cure);
    throw new Stopped();
  };
  parser.on('error', (error) => {
    const what = error.message
      .replace(/^\d+:\d+: /, '')
      .slice(0, 100)
      .replace(/\.$/, '');
    fail(`It is not well-formed XML: ${what}.`, 'Save the drawing again as plain SVG.');
  });
  parser.on('opentag', (tag) => {
    if (++depth > DEEPEST)
      fail(`It is nested more than ${DEEPEST} deep.`, 'Ungroup the drawing and save it again.');
    if (++count > MOST_ELEMENTS) fail('It has too many elements.', 'Simplify the drawing.');
    const made = grown(tag, `${parser.line}:${parser.column}`, open);
    if (made.classes.length > MOST_CLASSES)
      fail('An element has too many classes.', 'Save the drawing with plainer styles.');
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
    parser.write(text).close();
  } catch (error) {
    if (!(error instanceof Stopped)) throw error;
  }
  if (bad) return { problem: bad };
  if (root?.name !== 'svg')
    return { problem: problem(where, 'It is not an SVG drawing.', 'Save the drawing as SVG.') };
  return { root };
}

class Stopped extends Error {}

function grown(tag: SaxesTagNS, at: string, parent: Growing | undefined): Growing {
  const attributes = new Map<string, string>();
  for (const { local, prefix, value } of Object.values(tag.attributes)) {
    if (prefix === '' || (local === 'href' && !attributes.has('href'))) attributes.set(local, value);
  }
  // Elements of other namespaces keep their prefix, so that no rule takes them for drawing.
  const name = tag.uri === SVG || tag.uri === '' ? tag.local : `${tag.prefix || 'other'}:${tag.local}`;
  const id = attributes.get('id');
  const named = id === undefined ? '' : `#${id.replace(/[^\w.-]/g, '?').slice(0, 40)}`;
  const classes = (attributes.get('class') ?? '').split(/\s+/).filter((c) => c !== '');
  const made: Growing = { name, attributes, classes, children: [], where: `${at} ${name}${named}`, text: '' };
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
