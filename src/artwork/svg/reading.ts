import { type StyleSheet, styleSheet } from './css.js';
import type { LeftOut } from './drawing.js';
import { MOST_SEGMENTS } from './path-data.js';
import { type Shape, shapeOf } from './shapes.js';
import { FIRST_STYLE, type Style, styleOf } from './style.js';
import { Allowance } from './too-much.js';
import { byId, type Element } from './tree.js';
import type { Viewport } from './viewport.js';

const MOST_VISITS = 400_000;
const MOST_CLIPPING = 1_000_000;
const MOST_DASHES = 1_000_000;
const MOST_USES = 100_000;
const MOST_LEFT_OUT = 200;
const SIMPLER = 'Simplify the drawing.';
const EXPAND = 'Expand the copies and save the drawing again.';

/** What the reading of one file keeps: its parts by id, its styles, what is left out, and how much more it may ask. */
export class Reading {
  readonly leftOut: LeftOut[] = [];
  readonly sheet: StyleSheet;
  /** Lines and curves drawn or hidden, copies counted. */
  readonly segments = new Allowance(MOST_SEGMENTS, 'It has more lines than any cutter follows.', SIMPLER);
  readonly visits = new Allowance(MOST_VISITS, 'It has more parts than any drawing, copies counted.', EXPAND);
  readonly uses = new Allowance(MOST_USES, 'It uses its own parts without end.', EXPAND);
  /** Lines and curves of clips and of the boxes they are fitted to, each time they are asked for. */
  readonly clipping = new Allowance(MOST_CLIPPING, 'Its clips ask more than any drawing.', SIMPLER);
  readonly dashes = new Allowance(MOST_DASHES, 'It has more dashes than any drawing.', SIMPLER);
  readonly #ids: ReadonlyMap<string, Element>;
  readonly #told = new Set<string>();
  readonly #shapes = new Map<Element, Shape>();
  readonly #styles = new Map<Element, Style>();

  constructor(readonly root: Element) {
    this.#ids = byId(root);
    const sheets: string[] = [];
    const stack: Element[] = [root];
    for (let e = stack.pop(); e; e = stack.pop()) {
      if (e.name === 'style') sheets.push(e.text);
      for (let k = e.children.length - 1; k >= 0; k--) stack.push(e.children[k]!);
    }
    this.sheet = styleSheet(sheets.join('\n'));
    for (const rule of new Set(this.sheet.unread)) this.leave(root, `the style rule ${rule}`);
  }

  /** Lists what cannot be cut, once. */
  leave(element: Element, what: string): void {
    const key = `${element.where} ${what}`;
    if (this.#told.has(key)) return;
    this.#told.add(key);
    if (this.leftOut.length < MOST_LEFT_OUT) this.leftOut.push({ where: element.where, what });
    else if (this.leftOut.length === MOST_LEFT_OUT)
      this.leftOut.push({ where: this.root.where, what: 'more than can be listed' });
  }

  /** The element of an id, which `href` writes after a #. */
  byId(id: string | undefined): Element | undefined {
    return id === undefined ? undefined : this.#ids.get(id);
  }

  /** The path of a shape. Those that are long are read once, however often they are used. */
  shape(element: Element, viewport: Viewport): Shape {
    if (!/^p/.test(element.name)) return shapeOf(element, viewport);
    const known = this.#shapes.get(element);
    if (known) return known;
    const made = shapeOf(element, viewport);
    this.#shapes.set(element, made);
    if (made.fault !== undefined) this.leave(element, made.fault);
    return made;
  }

  /** The style of an element where it stands in the file. */
  styleInPlace(element: Element): Style {
    const known = this.#styles.get(element);
    if (known) return known;
    const within = element.parent ? this.styleInPlace(element.parent) : FIRST_STYLE;
    const made = styleOf(element, within, this.sheet);
    this.#styles.set(element, made);
    return made;
  }
}
