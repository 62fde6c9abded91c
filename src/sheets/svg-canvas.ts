import { Element } from '@svgdotjs/svg.js';
import { displayText } from './display-text.js';
import { formatCoordinate } from './readable-numbers.js';
import { INK, SANS } from './theme.js';

/**
 * Drawing on svg.js. Every element is made by the document of the element it goes into, and svg.js never gets a
 * window, so the same functions draw in jsdom's document for files (`fileCanvas`) and in the page's own.
 */
export interface Canvas {
  readonly document: Document;
}

const SVG_NAMESPACE = 'http://www.w3.org/2000/svg';

/** A value that is filled in later, in a template (`svg-template.ts`). */
export interface Slot {
  readonly slot: string;
}

export const slot = (name: string): Slot => ({ slot: name });

/** How a slot is written until then. People's text never holds a tab once it is display text. */
export const slotMark = ({ slot }: Slot): string => `\t${slot}\t`;

export type Attributes = Readonly<Record<string, string | Slot | undefined>>;

const drawnText = (value: string | Slot): string =>
  typeof value === 'string' ? displayText(value) : slotMark(value);

const coordinate = (value: number | Slot): string | Slot =>
  typeof value === 'number' ? formatCoordinate(value) : value;

/** Strings are drawn as display text: a label that a reader is to get back as it is goes into a slot. */
export function setAttributes(element: Element, attributes: Attributes): void {
  for (const [name, value] of Object.entries(attributes))
    if (value !== undefined) element.attr(name, drawnText(value));
}

/** A new element at the end of another; attributes that are undefined are left out. */
export function addElement(parent: Element, name: string, attributes: Attributes = {}): Element {
  const node = parent.node.ownerDocument.createElementNS(SVG_NAMESPACE, name);
  parent.node.appendChild(node);
  const element = new Element(node);
  setAttributes(element, attributes);
  return element;
}

/** An svg element by itself, with nothing in it. */
export const emptySvg = ({ document }: Canvas): Element =>
  new Element(document.createElementNS(SVG_NAMESPACE, 'svg'));

/** A blank sheet with its title, as high and wide as said, mm. */
export function blankSheet(canvas: Canvas, width: number, height: number, title: string): Element {
  const svg = emptySvg(canvas);
  setSize(svg, width, height);
  setAttributes(svg, { 'font-family': SANS });
  setText(addElement(svg, 'title'), title);
  return svg;
}

/** Gives a sheet its size, mm: a viewBox in the same numbers makes every unit a true millimetre. */
export function setSize(svg: Element, width: number, height: number): void {
  const [w, h] = [formatCoordinate(width, 2), formatCoordinate(height, 2)];
  setAttributes(svg, { width: `${w}mm`, height: `${h}mm`, viewBox: `0 0 ${w} ${h}` });
}

/** The sheet as XML. */
export const toXml = (svg: Element): string => svg.node.outerHTML;

/** A group named by what it holds. */
export const addGroup = (parent: Element, role: string, attributes: Attributes = {}): Element =>
  addElement(parent, 'g', { 'data-role': role, ...attributes });

/** A place at the end of an element that is filled with text or elements later, in a template. */
export const addSlot = (parent: Element, name: string): void => {
  parent.node.appendChild(parent.node.ownerDocument.createTextNode(slotMark(slot(name))));
};

export function setText(element: Element, text: string | Slot): void {
  element.words(drawnText(text));
}

export interface TextStyle {
  readonly size: number;
  readonly fill: string;
  readonly family?: string;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly weight?: 'bold';
  readonly style?: 'italic';
}

/** A line of text with its baseline at y, mm. */
export function drawText(
  parent: Element,
  text: string | Slot,
  x: number | Slot,
  y: number | Slot,
  style: TextStyle,
): Element {
  const element = addElement(parent, 'text');
  setText(element, text);
  setAttributes(element, {
    x: coordinate(x),
    y: coordinate(y),
    'font-size': formatCoordinate(style.size),
    fill: style.fill,
    'font-family': style.family,
    'text-anchor': style.anchor === 'start' ? undefined : style.anchor,
    'font-weight': style.weight,
    'font-style': style.style,
  });
  return element;
}

export interface Pen {
  readonly stroke: string;
  /** mm on the paper. */
  readonly width: number;
  readonly fill?: string;
  readonly dashes?: readonly number[];
  readonly cap?: 'round' | 'butt';
}

/** A straight line across a sheet at y, mm. */
export function drawRule(parent: Element, from: number, to: number, y: number, width: number): Element {
  const at = (x: number): string => `${formatCoordinate(x)} ${formatCoordinate(y)}`;
  return drawPath(parent, `M${at(from)}L${at(to)}`, { stroke: INK, width });
}

/** A line or area by path data. `scale` is that of the group it is drawn in, so that pens stay true on paper. */
export function drawPath(parent: Element, d: string, pen: Pen, scale = 1): Element {
  const width = pen.stroke === 'none' ? undefined : formatCoordinate(pen.width / scale);
  return addElement(parent, 'path', {
    d,
    fill: pen.fill ?? 'none',
    stroke: pen.stroke,
    'stroke-width': width,
    'stroke-dasharray': pen.dashes?.map((v) => formatCoordinate(v / scale)).join(' '),
    'stroke-linecap': pen.cap,
  });
}
