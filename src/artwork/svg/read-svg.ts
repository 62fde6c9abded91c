import type { PathCommand } from '../../geometry/path-command.js';
import { LimitExceeded } from '../budget.js';
import { problem } from '../messages.js';
import { boundingBox, shift, shownChildren, targetOf } from './bounding-box.js';
import { boxClip, clipsOf } from './clips.js';
import { LARGEST_NUMBER, PX_IN_MM } from './css-values.js';
import type { Clip, Drawing, DrawnPath, DrawnStroke, ReadDrawing } from './drawing.js';
import { elementTransform } from './element-transform.js';
import { type Matrix, times, transformPath } from './matrix.js';
import { opacityOf } from './paint.js';
import { paintsOf } from './paints.js';
import { strokeOf } from './pen.js';
import { Reading } from './reading.js';
import { hasExtensions, remarkOnConditions, remarkOnUnread } from './remarks.js';
import { isShape } from './shapes.js';
import type { Style } from './style.js';
import { type Element, elementTree } from './tree.js';
import { fittedBox, isOutermostEmpty, isViewBoxEmpty, type Viewport } from './viewport.js';

/**
 * Reads an SVG file (SVG 2) to the paths it draws. What is not drawn as the file asks is remarked on; a file that is
 * broken or beyond a limit is refused in one line. Nothing outside the text is read and no script is run.
 */
export function readSvg(text: string, where: string): ReadDrawing {
  try {
    const tree = elementTree(text.replace(/^\ufeff/, ''), where);
    if ('problem' in tree) return { ok: false, problem: tree.problem };
    const reading = new Reading(tree, text);
    return { ok: true, drawing: new Walk(reading).drawing(), remarks: reading.remarks };
  } catch (error) {
    if (!(error instanceof LimitExceeded)) throw error;
    return { ok: false, problem: problem(error.code, where, { limit: error.limit }) };
  }
}

interface Place {
  readonly map: Matrix;
  readonly style: Style;
  readonly viewport: Viewport;
  readonly clips: readonly Clip[];
  /** Of what it stands within. */
  readonly opacity: number;
  /** The elements that `use` has brought here, outermost first. */
  readonly uses: readonly Element[];
  /** How many elements it stands within, those of copies too. */
  readonly depth: number;
}

const DEEPEST_USE = 30;
/** Of elements within one another, copies unfolded. */
const DEEPEST = 500;

/** Elements that hold what is drawn only when referred to, or nothing that is drawn. */
const NEVER_DRAWN: ReadonlySet<string> = new Set(
  'defs symbol clipPath mask marker pattern linearGradient radialGradient filter style title desc metadata view cursor'.split(
    ' ',
  ),
);

/** The walk through a file's elements in the order they are drawn. */
class Walk {
  readonly #reading: Reading;
  readonly #paths: DrawnPath[] = [];
  /** Down in px becomes up in mm. */
  readonly #rootMap: Matrix;

  constructor(reading: Reading) {
    this.#reading = reading;
    this.#rootMap = [PX_IN_MM, 0, 0, -PX_IN_MM, 0, reading.rootViewport.height * PX_IN_MM];
  }

  drawing(): Drawing {
    const { root, rootStyle: style, rootViewport: viewport } = this.#reading;
    const [width, height] = [viewport.width * PX_IN_MM, viewport.height * PX_IN_MM];
    const within: Place = { map: this.#rootMap, style, viewport, clips: [], opacity: 1, uses: [], depth: 0 };
    // Browsers draw the outermost element whatever its `display`.
    if (opacityOf(style.opacity!) > 0 && !isOutermostEmpty(root, this.#reading.sizesOf(style))) {
      // The outermost element is a box of the page: it is cut off at its edge before it is turned about its middle, and
      // at that of the page after.
      const edgeIn = (map: Matrix): Clip => boxClip(map, [0, 0, viewport.width, viewport.height]);
      const place = this.#enter(root, { ...within, clips: [edgeIn(this.#rootMap)] }, '50% 50%');
      if (place) {
        const isMoved = place.map.some((v, k) => v !== this.#rootMap[k]);
        const clips = isMoved ? [...place.clips, edgeIn(place.map)] : place.clips;
        this.#drawFitted(root, { ...place, clips }, viewport, true);
      }
    }
    return { paths: this.#paths, width, height };
  }

  #children(element: Element, place: Place): void {
    if (place.depth >= DEEPEST) throw new LimitExceeded('artwork.too-deep', DEEPEST);
    for (const child of shownChildren(element)) this.#element(child, { ...place, depth: place.depth + 1 });
  }

  #element(element: Element, within: Place): void {
    const reading = this.#reading;
    reading.visits.take();
    const { name } = element;
    if (NEVER_DRAWN.has(name) || name.includes(':')) return;
    if (remarkOnUnread(reading, element)) return;
    const style = reading.styleWithin(element, within.style);
    if (!isShown(style)) return;
    if (!remarkOnConditions(reading, element)) return;
    const place = this.#enter(element, { ...within, style });
    if (!place) return;
    if (isShape(name)) this.#shape(element, place);
    else if (name === 'g' || name === 'a') this.#children(element, place);
    else if (name === 'svg')
      this.#drawViewport(element, place, reading.viewportOf(element, style, place.viewport));
    else if (name === 'use') this.#use(element, place);
    else if (name === 'switch') this.#switch(element, place);
    else reading.remark(problem('artwork.left-out-element', element.where, { kind: name.slice(0, 30) }));
  }

  /** The place within an element: its transform and clips applied. Undefined where a clip leaves nothing. */
  #enter(element: Element, place: Place, origin?: string): Place | undefined {
    const reading = this.#reading;
    const { style, viewport } = place;
    const box = () => boundingBox(reading, element, viewport);
    const turned = times(place.map, elementTransform(reading, style, viewport, box, origin));
    // What moves a copy moves the clip on it too.
    const map =
      element.name === 'use'
        ? times(turned, shift(element, style, reading.lengths(style, viewport)))
        : turned;
    for (const effect of ['filter', 'mask'])
      if (style[effect] !== 'none')
        reading.remark(problem('artwork.left-out-effect', element.where, { effect }));
    if (style.display === 'contents')
      reading.remark(
        problem('artwork.unread-value', element.where, { property: 'display', value: 'contents' }),
      );
    if (/^(?:stroke|border)-box$/.test(style['transform-box']!) && map !== place.map)
      reading.remark(
        problem('artwork.unread-value', element.where, {
          property: 'transform-box',
          value: style['transform-box']!,
        }),
      );
    // What is fitted into a viewport is clipped in the units within it.
    const isFitted = element.name === 'symbol' || (element.name === 'svg' && element.parent);
    const inside = { ...place, map, opacity: place.opacity * Math.min(1, opacityOf(style.opacity!)) };
    return isFitted ? inside : this.#clip(element, inside);
  }

  /** The place within the clip of an element. Undefined where it leaves nothing. */
  #clip(element: Element, place: Place): Place | undefined {
    const clip = place.style['clip-path']!;
    if (clip === 'none') return place;
    const area = clipsOf(this.#reading, element, clip, place);
    if (!area) return undefined;
    this.#reading.clipping.take(place.clips.length);
    return { ...place, clips: [...place.clips, ...area] };
  }

  /** A viewport of its own within another, which a `use` may bring. */
  #drawViewport(element: Element, place: Place, size: Viewport): void {
    if (!(size.width > 0 && size.height > 0)) return;
    const lengths = this.#reading.lengths(place.style, place.viewport);
    const map = times(place.map, shift(element, place.style, lengths));
    const isOpen = /^(?:visible|auto)$/.test(place.style.overflow!);
    // By the standard both apply; Chromium does not always cut off at the edge then.
    if (!isOpen && place.style['clip-path'] !== 'none')
      this.#reading.remark(problem('artwork.unread-clip', element.where, { fault: 'edge' }));
    this.#drawFitted(element, { ...place, map }, size, isOpen);
  }

  /** What a viewport shows: its viewBox fitted, and cut off at its edge unless that is open. */
  #drawFitted(element: Element, place: Place, viewport: Viewport, isOpen: boolean): void {
    if (isViewBoxEmpty(element)) return;
    const fitted = fittedBox(element, viewport);
    const map = times(place.map, fitted.matrix);
    const clips = isOpen ? place.clips : [...place.clips, boxClip(map, fitted.shows)];
    const inside = { ...place, map, viewport: fitted.inner, clips };
    const clipped = element.parent ? this.#clip(element, inside) : inside;
    if (clipped) this.#children(element, clipped);
  }

  #use(element: Element, place: Place): void {
    const reading = this.#reading;
    const target = targetOf(reading, element);
    if (!target || place.uses.includes(target) || isWithin(element, target)) {
      const href = element.href ?? '';
      const fault = target ? 'itself' : href.startsWith('#') || href === '' ? 'missing' : 'external';
      reading.remark(problem('artwork.unread-reference', element.where, { fault }));
      return;
    }
    if (place.uses.length >= DEEPEST_USE) throw new LimitExceeded('artwork.copies-too-deep', DEEPEST_USE);
    reading.uses.take();
    const there: Place = { ...place, uses: [...place.uses, target], depth: place.depth + 1 };
    if (target.name !== 'symbol' && target.name !== 'svg') {
      this.#element(target, there);
      return;
    }
    const style = reading.styleWithin(target, place.style);
    if (!isShown(style)) return;
    const inside = this.#enter(target, { ...there, style });
    if (!inside) return;
    const use = { element, style: place.style };
    this.#drawViewport(target, inside, reading.viewportOf(target, style, place.viewport, use));
  }

  /** The first child that is for every program and language; one for a single language where there is no other. */
  #switch({ children }: Element, place: Place): void {
    this.#reading.visits.take(children.length);
    // One that draws nothing of itself is taken all the same.
    const may = children.filter((c) => !c.name.includes(':') && hasExtensions(c));
    const first = may.find((c) => !c.attributes.has('systemLanguage')) ?? may[0];
    for (const child of may)
      if (child.attributes.has('systemLanguage'))
        this.#reading.remark(
          problem('artwork.other-language', child.where, { drawn: child === first ? 'yes' : 'no' }),
        );
    if (first) this.#element(first, { ...place, depth: place.depth + 1 });
  }

  #shape(element: Element, { map, style, viewport, clips, opacity }: Place): void {
    const reading = this.#reading;
    const { path } = reading.shape(element, style, viewport);
    reading.segments.take(path.length);
    reading.visits.take(element.children.length);
    for (const child of element.children) remarkOnUnread(reading, child);
    if (style.visibility !== 'visible' || path.length === 0) return;
    const { fill, stroke, white } = paintsOf(reading, element, style, opacity);
    const isScaled = style['vector-effect'] !== 'non-scaling-stroke';
    const [own, penMap] = !isScaled
      ? [transformPath(path, times(inverse(this.#rootMap), map)), this.#rootMap]
      : [path, map];
    const lengths = reading.lengths(style, viewport);
    const pen = stroke
      ? strokeOf(
          own,
          penMap,
          style,
          lengths,
          element.attributes.get('pathLength'),
          // Browsers measure the path itself, and take the unit for one of the stroke.
          isScaled ? undefined : { path, map },
        )
      : undefined;
    if (pen && hasSquareDots(pen)) reading.remark(problem('artwork.square-dots', element.where, {}));
    reading.dashes.take(pen?.dashes.length ?? 0);
    const fills = fill && element.name !== 'line';
    if (!fills && !pen) return;
    const there = transformPath(path, map);
    if (!isInRange(there) || (pen && !isInRange(transformPath(own, penMap)))) {
      reading.remark(problem('artwork.out-of-range', element.where, {}));
      return;
    }
    this.#paths.push({
      path: there,
      fill: fills ? (style['fill-rule'] === 'evenodd' ? 'evenodd' : 'nonzero') : 'none',
      ...(pen ? { stroke: pen } : {}),
      clips,
      white: white.filter((part) => (part === 'fill' ? fills : pen)),
      where: element.where,
    });
  }
}

/** Square dots that SVG 2 turns along their line, and browsers do not. */
const hasSquareDots = ({ cap, dashes }: DrawnStroke): boolean =>
  cap === 'square' && dashes.some((dash, k) => k % 2 === 0 && dash === 0);

const isShown = (style: Style): boolean => style.display !== 'none' && opacityOf(style.opacity!) > 0;

const isInRange = (path: readonly PathCommand[]): boolean =>
  path.every((s) => s.every((v) => typeof v === 'string' || Math.abs(v) <= LARGEST_NUMBER));

const inverse = ([a, , , d, e, f]: Matrix): Matrix => [1 / a, 0, 0, 1 / d, -e / a, -f / d];

const isWithin = (element: Element, holder: Element): boolean => {
  for (let e: Element | undefined = element; e; e = e.parent) if (e === holder) return true;
  return false;
};
