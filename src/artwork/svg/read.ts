import { problem } from '../../problem.js';
import { boxClip, clipsOf, shift } from './clips.js';
import { inlineStyle } from './css.js';
import type { Clip, Drawing, DrawnPath, DrawnStroke, ReadDrawing } from './drawing.js';
import { type Matrix, mapped, times, transformOf } from './matrix.js';
import { strokeOf } from './pen.js';
import { Reading } from './reading.js';
import { isShape } from './shapes.js';
import { FIRST_STYLE, opacityOf, paints, referred, type Style, styleOf } from './style.js';
import { TooMuch } from './too-much.js';
import { type Element, elementTree } from './tree.js';
import { lengthOf, PX_IN_MM } from './units.js';
import { fittedBox, outermost, type Viewport } from './viewport.js';

/**
 * Reads an SVG file (SVG 2) to the paths it draws. What cannot be cut is listed; a file that is broken, nested without
 * end or larger than any drawing is refused in one line. Nothing outside the text is read and no script is run.
 */
export function readSvg(text: string, where: string): ReadDrawing {
  const tree = elementTree(text.replace(/^\ufeff/, ''), where);
  if ('problem' in tree) return { ok: false, problem: tree.problem };
  try {
    const reading = new Reading(tree.root);
    return { ok: true, drawing: new Walk(reading).drawing(), leftOut: reading.leftOut };
  } catch (error) {
    if (error instanceof TooMuch) return { ok: false, problem: problem(where, error.message, error.cure) };
    throw error;
  }
}

interface Place {
  readonly map: Matrix;
  readonly style: Style;
  readonly viewport: Viewport;
  readonly clips: readonly Clip[];
  /** The elements that `use` has brought here, outermost first. */
  readonly uses: readonly Element[];
}

const DEEPEST_USE = 30;

/** Elements that hold what is drawn only when referred to, or nothing that is drawn. */
const SILENT = new Set(
  'defs symbol clipPath mask marker pattern linearGradient radialGradient filter style title desc metadata view cursor'.split(
    ' ',
  ),
);
const TOLD: Readonly<Record<string, string>> = {
  image: 'a picture of dots, which has no lines to cut',
  text: 'live text; turn it into paths',
  foreignObject: 'something that is not drawing',
  video: 'a film',
  audio: 'sound',
  animate: 'movement; the drawing is read as it stands',
  animateTransform: 'movement; the drawing is read as it stands',
  animateMotion: 'movement; the drawing is read as it stands',
  set: 'movement; the drawing is read as it stands',
  script: 'a script, which is not run',
};

/** The walk through a file's elements in the order they are drawn. */
class Walk {
  readonly #reading: Reading;
  readonly #paths: DrawnPath[] = [];

  constructor(reading: Reading) {
    this.#reading = reading;
  }

  drawing(): Drawing {
    const { root } = this.#reading;
    const viewport = outermost(root);
    const [width, height] = [viewport.width * PX_IN_MM, viewport.height * PX_IN_MM];
    // Down in px becomes up in mm.
    const map: Matrix = [PX_IN_MM, 0, 0, -PX_IN_MM, 0, height];
    const style = styleOf(root, FIRST_STYLE, this.#reading.sheet);
    const place = this.#entered(root, { map, style, viewport, clips: [], uses: [] });
    if (place && shows(style)) this.#fitted(root, place, viewport);
    return { paths: this.#paths, width, height };
  }

  #leave(element: Element, what: string): void {
    this.#reading.leave(element, what);
  }

  #children(element: Element, place: Place): void {
    for (const child of element.children) this.#element(child, place);
  }

  #element(element: Element, within: Place): void {
    this.#reading.visits.take();
    const { name } = element;
    const told = TOLD[name];
    if (told !== undefined) this.#leave(element, told);
    if (SILENT.has(name) || told !== undefined || name.includes(':')) return;
    const style = styleOf(element, within.style, this.#reading.sheet);
    if (!shows(style)) return;
    if (element.attributes.get('requiredExtensions')) {
      this.#leave(element, 'what only some programs can draw');
      return;
    }
    const place = this.#entered(element, { ...within, style });
    if (!place) return;
    if (isShape(name)) this.#shape(element, place);
    else if (name === 'g' || name === 'a') this.#children(element, place);
    else if (name === 'svg') this.#inner(element, place);
    else if (name === 'use') this.#use(element, place);
    else if (name === 'switch') this.#switch(element, place);
    else this.#leave(element, `an element burin does not know (${name.slice(0, 30)})`);
  }

  /** The place within an element: its transform and clips applied, and what it asks that cannot be cut told. */
  #entered(element: Element, place: Place): Place | undefined {
    const { style } = place;
    const text = element.attributes.get('style');
    if (text !== undefined)
      for (const name of inlineStyle(this.#reading.sheet, text).notRead)
        this.#leave(element, `the style ${name}`);
    const own = transformOf(style.transform!);
    if (!own) {
      this.#leave(element, 'a transform that cannot be read; it is left out whole');
      return undefined;
    }
    const map = times(place.map, own);
    if (style.filter !== 'none') this.#leave(element, 'a filter; the shape is taken without it');
    if (style.mask !== 'none') this.#leave(element, 'a mask; the shape is taken without it');
    const clip = style['clip-path']!;
    if (clip === 'none') return { ...place, map };
    const area = clipsOf(this.#reading, element, clip, { map, viewport: place.viewport });
    if (!area) return undefined;
    this.#reading.clipping.take(place.clips.length);
    return { ...place, map, clips: [...place.clips, ...area] };
  }

  #inner(element: Element, place: Place): void {
    const { viewport } = place;
    const width = lengthOf(element.attributes.get('width') ?? '100%', viewport.width) ?? viewport.width;
    const height = lengthOf(element.attributes.get('height') ?? '100%', viewport.height) ?? viewport.height;
    this.#within(element, place, width, height);
  }

  /** A viewport of its own within another. */
  #within(element: Element, place: Place, width: number, height: number): void {
    if (!(width > 0 && height > 0)) return;
    const map = times(place.map, shift(element, place.viewport));
    this.#fitted(element, { ...place, map }, { width, height });
  }

  /** What a viewport shows: its viewBox fitted, and cut off at its edge. */
  #fitted(element: Element, place: Place, { width, height }: Viewport): void {
    const fitted = fittedBox(element, width, height);
    const map = times(place.map, fitted.matrix);
    const open = element.parent !== undefined && element.attributes.get('overflow') === 'visible';
    const clips = open ? place.clips : [...place.clips, boxClip(map, fitted.shows)];
    this.#children(element, { ...place, map, viewport: fitted.inner, clips });
  }

  #use(element: Element, place: Place): void {
    const href = element.attributes.get('href') ?? '';
    const target = href.startsWith('#') ? this.#reading.byId(href.slice(1)) : undefined;
    if (!target) {
      const inside = 'a use of what is not in the file';
      this.#leave(element, href.startsWith('#') ? inside : 'a use of another file, which is not read');
      return;
    }
    if (place.uses.includes(target) || isWithin(element, target)) {
      this.#leave(element, 'a use of itself');
      return;
    }
    this.#reading.uses.take(place.uses.length >= DEEPEST_USE ? Number.POSITIVE_INFINITY : 1);
    const map = times(place.map, shift(element, place.viewport));
    const there: Place = { ...place, map, uses: [...place.uses, target] };
    if (target.name !== 'symbol' && target.name !== 'svg') {
      this.#element(target, there);
      return;
    }
    const style = styleOf(target, place.style, this.#reading.sheet);
    if (!shows(style)) return;
    const inside = this.#entered(target, { ...there, style });
    if (!inside) return;
    const size = (key: 'width' | 'height'): number => {
      const given = element.attributes.get(key) ?? target.attributes.get(key) ?? '100%';
      return lengthOf(given, place.viewport[key]) ?? place.viewport[key];
    };
    this.#within(target, inside, size('width'), size('height'));
  }

  /** The first child that is for every program and language; one for a single language where there is no other. */
  #switch({ children }: Element, place: Place): void {
    this.#reading.visits.take(children.length);
    const may = children.filter((c) => !SILENT.has(c.name) && !c.attributes.get('requiredExtensions'));
    const first = may.find((c) => !c.attributes.has('systemLanguage')) ?? may[0];
    for (const child of may)
      if (child !== first && child.attributes.has('systemLanguage'))
        this.#leave(child, 'what is drawn for another language');
    if (first) this.#element(first, place);
  }

  #shape(element: Element, { map, style, viewport, clips }: Place): void {
    const { path } = this.#reading.shape(element, viewport);
    this.#reading.segments.take(path.length);
    this.#reading.visits.take(element.children.length);
    for (const child of element.children) {
      const told = TOLD[child.name];
      if (told !== undefined) this.#leave(child, told);
    }
    if (style.visibility !== 'visible' || path.length === 0) return;
    const fills = element.name !== 'line' && paints(style.fill!, style['fill-opacity']!, style.color!);
    const stroke = strokeOf(path, map, style, viewport);
    this.#reading.dashes.take(stroke?.dashes.length ?? 0);
    this.#paints(element, style, stroke);
    if (!fills && !stroke) return;
    this.#paths.push({
      path: mapped(path, map),
      fill: fills ? (style['fill-rule'] === 'evenodd' ? 'evenodd' : 'nonzero') : 'none',
      ...(stroke ? { stroke } : {}),
      clips,
      where: element.where,
    });
  }

  /** Tells what of a shape's paints and lines cannot be cut as it is drawn. */
  #paints(element: Element, style: Style, stroke: DrawnStroke | undefined): void {
    for (const name of ['fill', 'stroke'] as const) {
      const id = referred(style[name]!);
      if (id === undefined) continue;
      const kind = this.#reading.byId(id)?.name;
      const what = kind === 'pattern' ? 'a pattern' : kind?.endsWith('Gradient') ? 'a gradient' : 'a paint';
      this.#leave(element, `${what} as its ${name}; the ${name} is taken as plain`);
    }
    if (['marker-start', 'marker-mid', 'marker-end'].some((m) => style[m] !== 'none'))
      this.#leave(element, 'markers on its line');
    if (!stroke) return;
    if (style['vector-effect'] === 'non-scaling-stroke')
      this.#leave(element, 'a stroke that does not scale; it is taken as one that does');
    if (stroke.dashes.length === 0 && style['stroke-dasharray'] !== 'none')
      this.#leave(element, 'dashes that cannot be read; the line is taken whole');
    if (stroke.dashes.length > 0 && element.attributes.has('pathLength'))
      this.#leave(element, 'a length of its own for its dashes; they are taken as they measure');
  }
}

const shows = (style: Style): boolean => style.display !== 'none' && opacityOf(style.opacity ?? '1') > 0;

const isWithin = (element: Element, holder: Element): boolean => {
  for (let e: Element | undefined = element; e; e = e.parent) if (e === holder) return true;
  return false;
};
