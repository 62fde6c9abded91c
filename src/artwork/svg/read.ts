import type { Segment } from '../../lettering/font.js';
import { problem } from '../../problem.js';
import { pathBox } from './box.js';
import { type StyleSheet, styleSheet } from './css.js';
import type { Clip, Drawing, DrawnPath, DrawnStroke, LeftOut, ReadDrawing } from './drawing.js';
import { IDENTITY, type Matrix, mapped, times, transformOf } from './matrix.js';
import { MOST_SEGMENTS } from './path-data.js';
import { strokeOf } from './pen.js';
import { isShape, shapeOf } from './shapes.js';
import { FIRST_STYLE, opacityOf, paints, referred, type Style, styleOf } from './style.js';
import { TooMuch } from './too-much.js';
import { byId, type Element, elementTree } from './tree.js';
import { lengthOf, PX_IN_MM } from './units.js';
import { fittedBox, outermost, type Viewport } from './viewport.js';

/**
 * Reads an SVG file (SVG 2) to the paths it draws. What cannot be cut is listed; a file that is broken, nested without
 * end or larger than any drawing is refused in one line. Nothing outside the text is read and no script is run.
 */
export function readSvg(text: string, where: string): ReadDrawing {
  const tree = elementTree(text.replace(/^\ufeff/, ''), where);
  if ('problem' in tree) return { ok: false, problem: tree.problem };
  const reader = new Reader(tree.root);
  try {
    return { ok: true, drawing: reader.drawing(), leftOut: reader.leftOut };
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

const MOST_USES = 100_000;
const DEEPEST_USE = 30;
const MOST_LEFT_OUT = 200;

/** Elements that hold what is drawn only when referred to, or nothing that is drawn. */
const SILENT = new Set(
  'defs symbol clipPath mask marker pattern linearGradient radialGradient filter style title desc metadata script view cursor'.split(
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

class Reader {
  readonly leftOut: LeftOut[] = [];
  readonly #root: Element;
  readonly #ids: ReadonlyMap<string, Element>;
  readonly #sheet: StyleSheet;
  readonly #paths: DrawnPath[] = [];
  readonly #told = new Set<string>();
  #segments = 0;
  #uses = 0;

  constructor(root: Element) {
    this.#root = root;
    this.#ids = byId(root);
    const sheets: string[] = [];
    const stack: Element[] = [root];
    for (let e = stack.pop(); e; e = stack.pop()) {
      if (e.name === 'style') sheets.push(e.text);
      for (let k = e.children.length - 1; k >= 0; k--) stack.push(e.children[k]!);
    }
    this.#sheet = styleSheet(sheets.join('\n'));
    for (const rule of new Set(this.#sheet.unread)) this.#leave(root, `the style rule ${rule}`);
  }

  drawing(): Drawing {
    const { width, height } = outermost(this.#root);
    const fitted = fittedBox(this.#root, width, height);
    // Down in px becomes up in mm.
    const toMm: Matrix = [PX_IN_MM, 0, 0, -PX_IN_MM, 0, height * PX_IN_MM];
    const style = styleOf(this.#root, FIRST_STYLE, this.#sheet);
    const map = times(toMm, fitted.matrix);
    const clips = boxClip(map, fitted.shows);
    if (this.#shows(style)) {
      const place: Place = { map, style, viewport: fitted.inner, clips: [clips], uses: [] };
      this.#children(this.#root, place);
    }
    return { paths: this.#paths, width: width * PX_IN_MM, height: height * PX_IN_MM };
  }

  #leave(element: Element, what: string): void {
    const key = `${element.where} ${what}`;
    if (this.#told.has(key)) return;
    this.#told.add(key);
    if (this.leftOut.length < MOST_LEFT_OUT) this.leftOut.push({ where: element.where, what });
    else if (this.leftOut.length === MOST_LEFT_OUT)
      this.leftOut.push({ where: this.#root.where, what: 'more than can be listed' });
  }

  #shows = (style: Style): boolean => style.display !== 'none' && opacityOf(style.opacity ?? '1') > 0;

  #children(element: Element, place: Place): void {
    for (const child of element.children) this.#element(child, place);
  }

  #element(element: Element, within: Place): void {
    const { name } = element;
    const told = TOLD[name];
    if (told !== undefined) this.#leave(element, told);
    if (SILENT.has(name) || told !== undefined || name.includes(':')) return;
    const style = styleOf(element, within.style, this.#sheet);
    if (!this.#shows(style)) return;
    const place = this.#entered(element, { ...within, style });
    if (!place) return;
    if (isShape(name)) this.#shape(element, place);
    else if (name === 'g' || name === 'a') this.#children(element, place);
    else if (name === 'svg') this.#inner(element, place);
    else if (name === 'use') this.#use(element, place);
    else if (name === 'switch') {
      const first = element.children.find((c) => !c.attributes.has('systemLanguage') && !SILENT.has(c.name));
      if (first) this.#element(first, place);
    } else this.#leave(element, `an element burin does not know (${name.slice(0, 30)})`);
  }

  /** The place within an element: its transform and clips applied, and what it asks that cannot be cut told. */
  #entered(element: Element, place: Place): Place | undefined {
    const { style } = place;
    let { map, clips } = place;
    const transform = element.attributes.get('transform');
    if (transform !== undefined) {
      const own = transformOf(transform);
      if (!own) {
        this.#leave(element, 'its transform cannot be read, so it is left out');
        return undefined;
      }
      map = times(map, own);
    }
    if (style.filter !== 'none') this.#leave(element, 'a filter; the shape is taken without it');
    if (style.mask !== 'none') this.#leave(element, 'a mask; the shape is taken without it');
    const clip = style['clip-path'] ?? 'none';
    if (clip !== 'none') {
      const area = this.#clip(element, clip, { ...place, map });
      if (!area) return undefined;
      clips = [...clips, ...area];
    }
    return { ...place, map, clips };
  }

  #inner(element: Element, place: Place): void {
    const { viewport } = place;
    const width = lengthOf(element.attributes.get('width') ?? '100%', viewport.width) ?? viewport.width;
    const height = lengthOf(element.attributes.get('height') ?? '100%', viewport.height) ?? viewport.height;
    this.#within(element, place, width, height);
  }

  /** A viewport of its own: moved to x and y, its viewBox fitted, and cut off at its edge. */
  #within(element: Element, place: Place, width: number, height: number): void {
    if (!(width > 0 && height > 0)) return;
    const x = lengthOf(element.attributes.get('x'), place.viewport.width) ?? 0;
    const y = lengthOf(element.attributes.get('y'), place.viewport.height) ?? 0;
    const fitted = fittedBox(element, width, height);
    const map = times(times(place.map, [1, 0, 0, 1, x, y]), fitted.matrix);
    const open = element.attributes.get('overflow') === 'visible';
    const clips = open ? place.clips : [...place.clips, boxClip(map, fitted.shows)];
    this.#children(element, { ...place, map, viewport: fitted.inner, clips });
  }

  #use(element: Element, place: Place): void {
    const href = element.attributes.get('href') ?? '';
    const target = href.startsWith('#') ? this.#ids.get(href.slice(1)) : undefined;
    if (!target) {
      const what = href.startsWith('#')
        ? 'it uses what is not in the file'
        : 'it uses another file, which is not read';
      this.#leave(element, what);
      return;
    }
    if (place.uses.includes(target) || isWithin(element, target)) {
      this.#leave(element, 'it uses itself');
      return;
    }
    if (place.uses.length >= DEEPEST_USE || ++this.#uses > MOST_USES)
      throw new TooMuch(
        'It uses its own parts without end.',
        'Expand the copies and save the drawing again.',
      );
    const x = lengthOf(element.attributes.get('x'), place.viewport.width) ?? 0;
    const y = lengthOf(element.attributes.get('y'), place.viewport.height) ?? 0;
    const there: Place = {
      ...place,
      map: times(place.map, [1, 0, 0, 1, x, y]),
      uses: [...place.uses, target],
    };
    if (target.name !== 'symbol' && target.name !== 'svg') {
      this.#element(target, there);
      return;
    }
    const style = styleOf(target, place.style, this.#sheet);
    if (!this.#shows(style)) return;
    const inside = this.#entered(target, { ...there, style });
    if (!inside) return;
    const size = (key: 'width' | 'height'): number => {
      const given = element.attributes.get(key) ?? target.attributes.get(key) ?? '100%';
      return lengthOf(given, place.viewport[key]) ?? place.viewport[key];
    };
    this.#within(target, inside, size('width'), size('height'));
  }

  #shape(element: Element, { map, style, viewport, clips }: Place): void {
    const { path, fault } = shapeOf(element, viewport);
    if (fault !== undefined) this.#leave(element, fault);
    for (const child of element.children) {
      const told = TOLD[child.name];
      if (told !== undefined) this.#leave(child, told);
    }
    if (style.visibility !== 'visible' || path.length === 0) return;
    this.#segments += path.length;
    if (this.#segments > MOST_SEGMENTS)
      throw new TooMuch('It has more lines than any cutter follows.', 'Simplify the drawing.');
    const fills = element.name !== 'line' && paints(style.fill!, style['fill-opacity']!, style.color!);
    const stroke = this.#stroke(element, path, map, style, viewport);
    this.#paints(element, style);
    if (!fills && !stroke) return;
    this.#paths.push({
      path: mapped(path, map),
      fill: fills ? (style['fill-rule'] === 'evenodd' ? 'evenodd' : 'nonzero') : 'none',
      ...(stroke ? { stroke } : {}),
      clips,
      where: element.where,
    });
  }

  #paints(element: Element, style: Style): void {
    for (const name of ['fill', 'stroke'] as const) {
      const id = referred(style[name]!);
      if (id === undefined) continue;
      const kind = this.#ids.get(id)?.name;
      const what = kind === 'pattern' ? 'a pattern' : kind?.endsWith('Gradient') ? 'a gradient' : 'a paint';
      this.#leave(element, `${what} as its ${name}; the ${name} is taken as plain`);
    }
    if (['marker-start', 'marker-mid', 'marker-end'].some((m) => style[m] !== 'none'))
      this.#leave(element, 'markers on its line');
  }

  #stroke(
    element: Element,
    own: readonly Segment[],
    map: Matrix,
    style: Style,
    viewport: Viewport,
  ): DrawnStroke | undefined {
    const stroke = strokeOf(own, map, style, viewport);
    if (stroke && style['vector-effect'] === 'non-scaling-stroke')
      this.#leave(element, 'a stroke that does not scale; it is taken as one that does');
    if (stroke?.dashes.length === 0 && style['stroke-dasharray'] !== 'none')
      this.#leave(element, 'dashes that cannot be read; the line is taken whole');
    return stroke;
  }

  /** The areas a `clip-path` leaves, outermost last; undefined when it leaves nothing. */
  #clip(element: Element, value: string, place: Place, depth = 0): Clip[] | undefined {
    const id = referred(value);
    const clipPath = id === undefined ? undefined : this.#ids.get(id);
    if (clipPath?.name !== 'clipPath') {
      this.#leave(
        element,
        id === '' ? 'a clip in another file, which is not read' : 'a clip that cannot be read',
      );
      return [];
    }
    if (depth > 10)
      throw new TooMuch('Its clips clip one another without end.', 'Expand the clips in the drawing.');
    let { map } = place;
    if (clipPath.attributes.get('clipPathUnits') === 'objectBoundingBox') {
      const box = this.#box(element, place);
      if (!box) return undefined;
      map = times(map, [box[2] - box[0], 0, 0, box[3] - box[1], box[0], box[1]]);
    }
    const own = clipPath.attributes.get('transform');
    if (own !== undefined) map = times(map, transformOf(own) ?? IDENTITY);
    const style = styleOf(clipPath, FIRST_STYLE, this.#sheet);
    const shapes = clipPath.children.flatMap((child) => this.#clipShape(child, map, style, place));
    const inner =
      style['clip-path'] === 'none'
        ? []
        : this.#clip(clipPath, style['clip-path']!, { ...place, map }, depth + 1);
    return inner && [...inner, shapes];
  }

  #clipShape(child: Element, map: Matrix, within: Style, place: Place): Clip {
    const style = styleOf(child, within, this.#sheet);
    if (style.display === 'none' || style.visibility !== 'visible') return [];
    const own = child.attributes.get('transform');
    let there = own === undefined ? map : times(map, transformOf(own) ?? IDENTITY);
    if (child.name === 'use') {
      const target = this.#ids.get((child.attributes.get('href') ?? '').replace(/^#/, ''));
      if (!target || !isShape(target.name)) return [];
      const x = lengthOf(child.attributes.get('x'), place.viewport.width) ?? 0;
      const y = lengthOf(child.attributes.get('y'), place.viewport.height) ?? 0;
      there = times(there, [1, 0, 0, 1, x, y]);
      return this.#clipShape(target, there, style, place);
    }
    if (!isShape(child.name)) {
      if (child.name === 'text') this.#leave(child, 'live text as a clip; turn it into paths');
      return [];
    }
    if (style['clip-path'] !== 'none') this.#leave(child, 'a clip within a clip; it is taken without it');
    const { path } = shapeOf(child, place.viewport);
    return [{ path: mapped(path, there), rule: style['clip-rule'] === 'evenodd' ? 'evenodd' : 'nonzero' }];
  }

  /** The box of an element's shapes in its own units. */
  #box(element: Element, place: Place): [number, number, number, number] | undefined {
    const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
    const take = (e: Element, map: Matrix): void => {
      const own = e === element ? IDENTITY : (transformOf(e.attributes.get('transform') ?? '') ?? IDENTITY);
      const there = times(map, own);
      if (isShape(e.name)) growBox(box, mapped(shapeOf(e, place.viewport).path, there));
      else if (!SILENT.has(e.name)) for (const child of e.children) take(child, there);
    };
    take(element, IDENTITY);
    return box[2] > box[0] && box[3] > box[1] ? box : undefined;
  }
}

const isWithin = (element: Element, holder: Element): boolean => {
  for (let e: Element | undefined = element; e; e = e.parent) if (e === holder) return true;
  return false;
};

function boxClip(map: Matrix, [x, y, w, h]: readonly [number, number, number, number]): Clip {
  const path: Segment[] = [['M', x, y], ['L', x + w, y], ['L', x + w, y + h], ['L', x, y + h], ['Z']];
  return [{ path: mapped(path, map), rule: 'nonzero' }];
}

/** Grows a box by the ends and turning points of a path's curves. */
function growBox(box: [number, number, number, number], path: readonly Segment[]): void {
  const [x0, y0, x1, y1] = pathBox(path);
  box[0] = Math.min(box[0], x0);
  box[1] = Math.min(box[1], y0);
  box[2] = Math.max(box[2], x1);
  box[3] = Math.max(box[3], y1);
}
