import type { Problem } from '../../problem.js';
import { Budget } from '../budget.js';
import { problem } from '../messages.js';
import {
  type Declarations,
  inlineStyle,
  rulesFor,
  type SheetText,
  type StyleSheet,
  styleSheet,
} from './css.js';
import { valueText } from './css-text.js';
import { lengthOf, type UnitSizes } from './css-values.js';
import { UNREAD_ATTRIBUTES, UNREAD_OUTERMOST, UNREAD_PROPERTIES } from './properties.js';
import { MOST_SEGMENTS } from './read-path.js';
import { type Shape, shapeOf } from './shapes.js';
import { INITIAL_STYLE, type Style, styleOf } from './style.js';
import { byId, type Element, type ElementTree } from './tree.js';
import { diagonal, fittedBox, isReadableSize, outermostViewport, type Viewport } from './viewport.js';

const MOST_VISITS = 400_000;
const MOST_CLIPPING = 1_000_000;
const MOST_DASHES = 1_000_000;
const MOST_USES = 100_000;
const MOST_REMARKS = 200;

/** Reads lengths of one element, px: along x, along y, or along the diagonal. */
export type Lengths = (text: string | undefined, along: 'x' | 'y' | 'diagonal') => number | undefined;

/** What the reading of one file keeps: its parts by id, its styles, remarks, and the steps it may still take. */
export class Reading {
  readonly remarks: Problem[] = [];
  readonly root: Element;
  readonly sheet: StyleSheet;
  /** Of the outermost element. */
  readonly rootStyle: Style;
  readonly rootViewport: Viewport;
  /** Lines and curves drawn or hidden, copies counted. */
  readonly segments = new Budget('artwork.too-many-segments', MOST_SEGMENTS);
  readonly visits = new Budget('artwork.too-many-elements', MOST_VISITS);
  readonly uses = new Budget('artwork.too-many-copies', MOST_USES);
  /** Lines and curves of clips and of the boxes they are fitted to, each time they are used. */
  readonly clipping = new Budget('artwork.too-much-clipping', MOST_CLIPPING);
  readonly dashes = new Budget('artwork.too-many-dashes-given', MOST_DASHES);
  readonly #ids: ReadonlyMap<string, Element>;
  readonly #remarked = new Set<string>();
  readonly #shapes = new Map<Element, Shape>();
  readonly #styles = new Map<Element, Style>();
  readonly #isSizedByFont: boolean;
  readonly #sizes: { rem: number; viewWidth: number; viewHeight: number };

  constructor({ root, outsideSheets, hasDefaults, hasNamespace }: ElementTree, text: string) {
    this.root = root;
    this.#isSizedByFont = /[\d.](?:em|rem|ex|ch)\b/i.test(text);
    if (hasDefaults) this.remark(problem('artwork.unread-defaults', root.where, {}));
    if (!hasNamespace) this.remark(problem('artwork.without-namespace', root.where, {}));
    this.#ids = byId(root);
    this.sheet = styleSheet(sheetsOf(root), /\bvar\(|\\/i.test(text));
    for (const sheet of outsideSheets)
      this.remark(problem('artwork.unread-style-sheet', root.where, { sheet: sheet.slice(0, 60) }));
    for (const rule of this.sheet.unreadRules)
      this.remark(problem('artwork.unread-rule', root.where, { rule }));
    for (const property of this.sheet.unreadProperties) this.#remarkOnProperty(root, property);
    for (const { unreadOutermost } of rulesFor(this.sheet, root))
      for (const property of unreadOutermost) this.#remarkOnProperty(root, property);
    // Relative units of the outermost element have nothing yet to be relative to.
    this.#sizes = { rem: 16, viewWidth: 0, viewHeight: 0 };
    this.rootStyle = this.styleWithin(root, INITIAL_STYLE);
    this.#sizes.rem = Number.parseFloat(this.rootStyle['font-size']!);
    this.rootViewport = outermostViewport(root, this.sizesOf(this.rootStyle));
    for (const property of ['width', 'height']) {
      const value = root.attributes.get(property);
      if (value && !isReadableSize(value, this.sizesOf(this.rootStyle)))
        this.remark(problem('artwork.unread-value', root.where, { property, value: value.slice(0, 60) }));
    }
    // A page may size the drawing by them; a picture of the file has the size of its attributes.
    for (const property of ['width', 'height'])
      if (this.rootStyle[property] !== '')
        this.remark(problem('artwork.unread-property', root.where, { property }));
    this.#sizes.viewWidth = this.rootViewport.width;
    this.#sizes.viewHeight = this.rootViewport.height;
  }

  /** Notes what is not drawn as the file asks, once for each place. */
  remark(remark: Problem): void {
    const key = `${remark.where} ${remark.code} ${JSON.stringify(remark.values)}`;
    if (this.#remarked.has(key)) return;
    this.#remarked.add(key);
    if (this.remarks.length < MOST_REMARKS) this.remarks.push(remark);
    else if (this.remarks.length === MOST_REMARKS)
      this.remarks.push(problem('artwork.more-remarks', this.root.where, { limit: MOST_REMARKS }));
  }

  /** The element of an id, which `href` writes after a #. */
  byId(id: string | undefined): Element | undefined {
    return id === undefined ? undefined : this.#ids.get(id);
  }

  /** The style of an element within one of that style. */
  styleWithin(element: Element, within: Style): Style {
    const text = element.attributes.get('style');
    if (text !== undefined) this.#remarkOnStyle(element, inlineStyle(this.sheet, text));
    this.#remarkOnAttributes(element);
    return styleOf(element, within, this.sheet, this.#sizes, (property, value) => {
      this.remark(problem('artwork.unread-value', element.where, { property, value: value.slice(0, 60) }));
    });
  }

  #remarkOnStyle(element: Element, { unread, unreadOutermost }: Declarations): void {
    for (const property of unread) this.#remarkOnProperty(element, property);
    if (!element.parent) for (const property of unreadOutermost) this.#remarkOnProperty(element, property);
  }

  #remarkOnAttributes(element: Element): void {
    for (const property of UNREAD_ATTRIBUTES) {
      const value = element.attributes.get(property);
      const harmless =
        UNREAD_PROPERTIES.get(property) ?? (element.parent ? undefined : UNREAD_OUTERMOST.get(property));
      if (value !== undefined && harmless && !harmless.test(valueText(value) ?? ''))
        this.#remarkOnProperty(element, property);
    }
  }

  /** The family of a font counts only for sizes by the font: of `monospace` browsers take 13 px where others have 16. */
  #remarkOnProperty(element: Element, property: string): void {
    if (property !== 'font-family' || this.#isSizedByFont)
      this.remark(problem('artwork.unread-property', element.where, { property }));
  }

  /** The style of an element where it stands in the file. */
  styleInPlace(element: Element): Style {
    const known = this.#styles.get(element);
    if (known) return known;
    const made = element.parent
      ? this.styleWithin(element, this.styleInPlace(element.parent))
      : this.rootStyle;
    this.#styles.set(element, made);
    return made;
  }

  /** The viewport that lengths of an element are of where it stands in the file. */
  viewportInPlace({ parent }: Element): Viewport {
    if (!parent || parent === this.root) return fittedBox(this.root, this.rootViewport).inner;
    if (parent.name !== 'svg') return this.viewportInPlace(parent);
    const around = this.viewportInPlace(parent);
    return fittedBox(parent, this.viewportOf(parent, this.styleInPlace(parent), around)).inner;
  }

  /**
   * Width and height of a viewport within another: as its style has them, else the attributes of the `use` that brings
   * it, else its own. What is below nothing is not given.
   */
  viewportOf(
    element: Element,
    style: Style,
    around: Viewport,
    use?: { readonly element: Element; readonly style: Style },
  ): Viewport {
    const size = (name: 'width' | 'height', along: 'x' | 'y'): number => {
      const own = this.sizesIn(element, style, around)(name, along);
      const ofUse = use && this.sizesIn(use.element, { ...use.style, [name]: '' }, around)(name, along);
      const given = style[name] ? [own] : [ofUse, own];
      const first = given.find((length) => length !== undefined) ?? around[name];
      return first >= 0 ? first : around[name];
    };
    return { width: size('width', 'x'), height: size('height', 'y') };
  }

  sizesOf(style: Style): UnitSizes {
    return { ...this.#sizes, em: Number.parseFloat(style['font-size']!) };
  }

  /** Reads lengths of an element of a style within a viewport. */
  lengths(style: Style, viewport: Viewport): Lengths {
    const sizes = this.sizesOf(style);
    return (text, along) =>
      lengthOf(
        text,
        sizes,
        along === 'x' ? viewport.width : along === 'y' ? viewport.height : diagonal(viewport),
      );
  }

  /** Reads lengths that attributes or properties give an element by name, and remarks on those it cannot read. */
  sizesIn(
    element: Element,
    style: Style,
    viewport: Viewport,
  ): (name: string, along: 'x' | 'y' | 'diagonal') => number | undefined {
    const lengths = this.lengths(style, viewport);
    return (name, along) => {
      const text = style[name] || element.attributes.get(name);
      if (text === undefined || style[name] === 'auto') return undefined;
      const made = lengths(text, along);
      if (made === undefined && text.trim() !== '')
        this.remark(
          problem('artwork.unread-value', element.where, { property: name, value: text.slice(0, 60) }),
        );
      return made;
    };
  }

  /** The path of a shape. One that is long is read once, however often it is used. */
  shape(element: Element, style: Style, viewport: Viewport): Shape {
    const isLong = element.name.startsWith('p') && style.d === '';
    const known = isLong ? this.#shapes.get(element) : undefined;
    if (known) return known;
    const made = shapeOf(element, style, this.sizesIn(element, style, viewport));
    if (isLong) this.#shapes.set(element, made);
    if (made.fault) this.remark(made.fault);
    return made;
  }
}

/** The style sheets of a file in their order. Of those with a title, browsers read the ones with the first. */
function sheetsOf(root: Element): SheetText[] {
  const sheets: SheetText[] = [];
  let first = '';
  const stack: Element[] = [root];
  for (let e = stack.pop(); e; e = stack.pop()) {
    const type = e.attributes.get('type') ?? '';
    const title = e.attributes.get('title') ?? '';
    if (e.name === 'style' && (type === '' || type.toLowerCase() === 'text/css')) {
      first ||= title;
      if (title === '' || title === first)
        sheets.push({ text: e.text, media: e.attributes.get('media') ?? '' });
    }
    for (let k = e.children.length - 1; k >= 0; k--) stack.push(e.children[k]!);
  }
  return sheets;
}
