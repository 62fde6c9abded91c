import { type Element, type G, registerWindow, Svg } from '@svgdotjs/svg.js';
import { JSDOM } from 'jsdom';
import { figure } from './figures.js';
import { SANS } from './look.js';
import { shown } from './text.js';

/**
 * A blank sheet to draw on. The window is an XML document, so what it writes out is XML and not HTML. Drawing through
 * it is slow; the part that sheets share is drawn once and kept as text.
 */
let opened = false;

export function blankSheet(width: number, height: number, title: string): Svg {
  if (!opened) {
    const { window } = new JSDOM('<svg xmlns="http://www.w3.org/2000/svg"/>', {
      contentType: 'image/svg+xml',
    });
    // jsdom's window is one, though its type names only what jsdom has.
    registerWindow(window as unknown as Window, window.document);
    opened = true;
  }
  const svg = new Svg();
  // Namespaces written as plain attributes would be written twice; the writer adds the one that is used.
  for (const { name } of [...svg.node.attributes]) svg.node.removeAttribute(name);
  sized(svg, width, height);
  svg.attr('font-family', SANS);
  svg.element('title').words(shown(title));
  return svg;
}

/** Gives a sheet its size, mm: a viewBox in the same numbers makes every unit a true millimetre. */
export function sized(svg: Svg, width: number, height: number): void {
  const [w, h] = [figure(width, 2), figure(height, 2)];
  svg.attr({ width: `${w}mm`, height: `${h}mm`, viewBox: `0 0 ${w} ${h}` });
}

/**
 * Where cuts are put in once the sheet is text. It begins with `<`, which no text and no attribute of people's can
 * hold once written out, so it is found safely.
 */
export const HOLE = '<g data-hole="cuts"/>';
export const hole = (onto: G | Svg): void => {
  onto.group().attr('data-hole', 'cuts');
};

/** The sheet as XML. */
export const written = (svg: Svg): string => svg.node.outerHTML;

export interface Type {
  readonly size: number;
  readonly fill: string;
  readonly family?: string;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly weight?: 'bold';
  readonly style?: 'italic';
}

/** A line of type with its baseline at y, mm. */
export function type(onto: G | Svg, text: string, x: number, y: number, look: Type): Element {
  const one = onto.element('text');
  one.words(shown(text));
  one.attr({ x: figure(x), y: figure(y), 'font-size': figure(look.size), fill: look.fill });
  if (look.family) one.attr('font-family', look.family);
  if (look.anchor && look.anchor !== 'start') one.attr('text-anchor', look.anchor);
  if (look.weight) one.attr('font-weight', look.weight);
  if (look.style) one.attr('font-style', look.style);
  return one;
}

export interface Pen {
  readonly stroke: string;
  /** mm on the paper. */
  readonly width: number;
  readonly fill?: string;
  readonly dashes?: readonly number[];
  readonly cap?: 'round' | 'butt';
}

/** A line or area by path data. `scale` is that of the group it is drawn in, so that pens stay true on paper. */
export function draw(onto: G | Svg, d: string, pen: Pen, scale = 1): Element {
  const one = onto.element('path');
  one.attr({ d, fill: pen.fill ?? 'none', stroke: pen.stroke });
  if (pen.stroke !== 'none') one.attr('stroke-width', figure(pen.width / scale));
  if (pen.dashes) one.attr('stroke-dasharray', pen.dashes.map((v) => figure(v / scale)).join(' '));
  if (pen.cap) one.attr('stroke-linecap', pen.cap);
  return one;
}

/** A group named by what it holds. */
export function named(onto: G | Svg, role: string): G {
  const group = onto.group();
  group.attr('data-role', role);
  return group;
}
