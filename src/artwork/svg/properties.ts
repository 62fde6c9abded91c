import { lengthOf, quantityOf, splitValue, type UnitSizes } from './css-values.js';
import { isColour, isPaint, referencedId } from './paint.js';
import {
  attributeTransform,
  cssTransform,
  individualTransform,
  originOf,
  type TransformUnits,
} from './transform.js';

/** A property that is read. */
export interface Property {
  /** Whether children take it from what holds them. */
  readonly inherits: boolean;
  readonly initial: string;
  /** Whether an attribute of its name sets it too. */
  readonly attribute: boolean;
  /** Whether a value is one of the property; bare numbers count as px in attributes. */
  readonly accepts: (value: string, inAttribute: boolean) => boolean;
}

const SIZES: UnitSizes = { em: 16, rem: 16, viewWidth: 100, viewHeight: 100 };

const isLength = (value: string, bare: boolean): boolean => {
  const made = quantityOf(value, SIZES, 100);
  return (
    made !== undefined && (made.kind === 'length' || (made.kind === 'number' && (bare || made.value === 0)))
  );
};
const isPositive = (value: string, bare: boolean): boolean =>
  isLength(value, bare) && (/^[a-z]/i.test(value) || lengthOf(value, SIZES, 100)! >= 0);
const isNumber = (value: string): boolean => quantityOf(value, SIZES)?.kind === 'number';

/** Units of any size, to find out whether a value can be read. */
const UNITS: TransformUnits = {
  length: (text) => (isLength(text, false) ? lengthOf(text, SIZES, 100) : undefined),
  angle: (text) => {
    const made = quantityOf(text, SIZES);
    return made && (made.kind === 'angle' || (made.kind === 'number' && made.value === 0))
      ? made.value
      : undefined;
  },
  number: (text) => (isNumber(text) ? quantityOf(text, SIZES)!.value : undefined),
};

const words = (...of: string[]) => {
  const set = new Set(of);
  return (value: string) => set.has(value.toLowerCase());
};
const isReference = (value: string): boolean => value === 'none' || referencedId(value) !== undefined;
const isAny = (): boolean => true;
const isDashList = (value: string): boolean =>
  value === 'none' || splitValue(value, 'either').every((dash) => isPositive(dash, true));

const inherited = (initial: string, accepts: Property['accepts']): Property => ({
  inherits: true,
  initial,
  attribute: true,
  accepts,
});
const own = (initial: string, accepts: Property['accepts'], attribute = true): Property => ({
  inherits: false,
  initial,
  attribute,
  accepts,
});
/** Sizes and places: the attribute of the name is read with the shape, the property comes before it. */
const geometry = (accepts: (value: string) => boolean): Property => own('', accepts, false);
// Browsers take bare numbers as px in the styles of an SVG file.
const place = geometry((value) => isLength(value, true));
const size = geometry((value) => value === 'auto' || isPositive(value, true));

const FONT_SIZES = 'xx-small x-small small medium large x-large xx-large xxx-large smaller larger'.split(' ');

export const PROPERTIES: Readonly<Record<string, Property>> = {
  fill: inherited('black', isPaint),
  'fill-rule': inherited('nonzero', words('nonzero', 'evenodd')),
  'fill-opacity': inherited('1', isNumber),
  stroke: inherited('none', isPaint),
  'stroke-width': inherited('1', (value) => isPositive(value, true)),
  'stroke-linecap': inherited('butt', words('butt', 'round', 'square')),
  'stroke-linejoin': inherited('miter', words('miter', 'round', 'bevel')),
  'stroke-miterlimit': inherited('4', (value) => isNumber(value) && quantityOf(value, SIZES)!.value >= 0),
  'stroke-dasharray': inherited('none', isDashList),
  'stroke-dashoffset': inherited('0', (value) => isLength(value, true)),
  'stroke-opacity': inherited('1', isNumber),
  'clip-rule': inherited('nonzero', words('nonzero', 'evenodd')),
  visibility: inherited('visible', words('visible', 'hidden', 'collapse')),
  color: inherited('black', isColour),
  'font-size': inherited('16px', (value) => FONT_SIZES.includes(value) || isPositive(value, true)),
  'marker-start': inherited('none', isReference),
  'marker-mid': inherited('none', isReference),
  'marker-end': inherited('none', isReference),
  display: own('inline', (value) => /^[a-z][a-z -]*$/i.test(value)),
  opacity: own('1', isNumber),
  overflow: own('', words('visible', 'hidden', 'scroll', 'auto', 'clip')),
  transform: own('none', (value, inAttribute) =>
    inAttribute && value !== 'none'
      ? attributeTransform(value) !== undefined
      : cssTransform(value, UNITS) !== undefined,
  ),
  'transform-origin': own('0 0', (value, inAttribute) => {
    const origin = originOf(value);
    return origin?.every((o) => isLength(o, inAttribute)) ?? false;
  }),
  'transform-box': own(
    'view-box',
    words('view-box', 'fill-box', 'content-box', 'stroke-box', 'border-box'),
    false,
  ),
  translate: own('none', (value) => individualTransform('translate', value, UNITS) !== undefined, false),
  rotate: own('none', (value) => individualTransform('rotate', value, UNITS) !== undefined, false),
  scale: own('none', (value) => individualTransform('scale', value, UNITS) !== undefined, false),
  'clip-path': own('none', isReference),
  mask: own('none', isAny),
  filter: own('none', isAny),
  'vector-effect': own('none', words('none', 'non-scaling-stroke')),
  x: place,
  y: place,
  cx: place,
  cy: place,
  r: size,
  rx: size,
  ry: size,
  width: size,
  height: size,
  d: geometry((value) => value === 'none' || pathString(value) !== undefined),
};

/** The path data in `path("...")`. */
export const pathString = (value: string): string | undefined =>
  /^path\(\s*(?:(?:nonzero|evenodd)\s*,\s*)?(["'])([\s\S]*)\1\s*\)$/.exec(value)?.[2];

export const PROPERTY_NAMES: readonly string[] = Object.keys(PROPERTIES);
export const ATTRIBUTE_NAMES: readonly string[] = PROPERTY_NAMES.filter(
  (name) => PROPERTIES[name]!.attribute,
);
export const OWN_NAMES: readonly string[] = PROPERTY_NAMES.filter((name) => !PROPERTIES[name]!.inherits);

/** Properties that move ink in a browser and are not read, with the values that change nothing. */
export const UNREAD_PROPERTIES: ReadonlyMap<string, RegExp> = new Map(
  Object.entries({
    all: /^$/,
    animation: /^none\b/,
    'animation-name': /^none$/,
    'backface-visibility': /^visible$/,
    background: /^(?:none|transparent|white|#fff(?:fff)?)$/i,
    'background-color': /^(?:transparent|white|#fff(?:fff)?)$/i,
    'background-image': /^none$/,
    border: /^(?:0|none)\b/,
    'content-visibility': /^visible$/,
    'mask-border': /^none$/,
    'mask-border-source': /^none$/,
    'mask-image': /^none$/,
    'mix-blend-mode': /^normal$/,
    offset: /^none$/,
    'offset-path': /^none$/,
    'object-view-box': /^none$/,
    'overflow-x': /^$/,
    'overflow-y': /^$/,
    padding: /^0/,
    perspective: /^none$/,
    zoom: /^(?:1|100%|normal)$/,
  }),
);
