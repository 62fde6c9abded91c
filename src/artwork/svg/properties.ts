import { lexer } from 'css-tree';
import { lengthOf, type Quantity, quantityOf, splitValue, type UnitSizes } from './css-values.js';
import { isColour, isPaint } from './paint.js';
import {
  attributeTransform,
  cssTransform,
  individualTransform,
  originOf,
  type TransformUnits,
} from './transform-list.js';

/** Where a value is written: in an attribute of the property's name, in a `style` attribute or in a rule. */
export type Source = 'attribute' | 'style' | 'rule';

/** A property that is read. */
export interface Property {
  /** Whether children take it from what holds them. */
  readonly inherits: boolean;
  readonly initial: string;
  /** Whether an attribute of its name sets it too. */
  readonly attribute: boolean;
  /** What `initial` and `revert` stand for, where that is not what an element has where nothing sets it. */
  readonly words?: { readonly initial: string; readonly revert: string };
  /** Whether a value is one of the property; bare numbers count as px in attributes, and some in styles. */
  readonly accepts: (value: string, from: Source) => boolean;
}

const SIZES: UnitSizes = { em: 16, rem: 16, viewWidth: 100, viewHeight: 100 };

/** Which numbers without a unit are taken as px: none but 0, those that are written out, or those of functions too. */
type Bare = 'zero' | 'written' | 'any';

const isBare = ({ kind, value, isCalculated }: Quantity, bare: Bare): boolean =>
  kind === 'number' && (bare === 'any' || (!isCalculated && (bare === 'written' || value === 0)));
const isLength = (value: string, bare: Bare): boolean => {
  const made = quantityOf(value, SIZES, 100);
  return made !== undefined && (made.kind === 'length' || isBare(made, bare));
};
const isPositive = (value: string, bare: Bare): boolean =>
  isLength(value, bare) && (/^[a-z]/.test(value) || lengthOf(value, SIZES, 100)! >= 0);
const isNumber = (value: string): boolean => quantityOf(value, SIZES)?.kind === 'number';
const isRatio = (value: string): boolean =>
  isNumber(value) || quantityOf(value, SIZES)?.kind === 'percentage';
/** Whether a value has the form that CSS gives a property. What functions such as `calc()` come to is not looked at. */
const hasForm = (property: string, value: string): boolean =>
  lexer.matchProperty(property, value).error === null;

/** Whether a value is a place out of the page, of which no length could be a part. */
const isDepth = (value: string, from: Source): boolean => {
  const made = quantityOf(value, SIZES);
  if (!made || (from === 'attribute' && made.isCalculated)) return false;
  return made.kind === 'length' || isBare(made, from === 'attribute' ? 'written' : 'zero');
};

/** Units of any size, to find out whether a value can be read. */
const UNITS: TransformUnits = {
  length: (text, axis) => {
    const whole = axis === 'z' ? undefined : 100;
    const made = quantityOf(text, SIZES, whole);
    return made && (made.kind === 'length' || isBare(made, 'zero')) ? made.value : undefined;
  },
  angle: (text) => {
    const made = quantityOf(text, SIZES);
    return made && (made.kind === 'angle' || isBare(made, 'zero')) ? made.value : undefined;
  },
  number: (text) => (isNumber(text) ? quantityOf(text, SIZES)!.value : undefined),
  ratio: (text) => (isRatio(text) ? quantityOf(text, SIZES)!.value : undefined),
};

const isOneOf = (...of: string[]) => {
  const set = new Set(of);
  return (value: string) => set.has(value);
};
/** An address and nothing beside it: browsers pass over more. */
const isReference = (value: string): boolean =>
  /^(?:none|url\(\s*(?:"[^"]*"|'[^']*'|[^"'()\s]*)\s*\))$/i.test(value);
const isAny = (): boolean => true;
const isDashList = (value: string): boolean =>
  value === 'none' ||
  (!/(?:^|,)\s*(?:,|$)/.test(value) && splitValue(value, 'either').every((dash) => isPositive(dash, 'any')));

const inheritedProperty = (initial: string, accepts: Property['accepts']): Property => ({
  inherits: true,
  initial,
  attribute: true,
  accepts,
});
const ownProperty = (initial: string, accepts: Property['accepts'], attribute = true): Property => ({
  inherits: false,
  initial,
  attribute,
  accepts,
});
/** Sizes and places: the attribute of the name is read with the shape, the property comes before it. */
const geometry = (word: string, accepts: Property['accepts']): Property => ({
  ...ownProperty('', accepts, false),
  words: { initial: word, revert: word },
});
// Browsers take bare numbers as px in the styles of an SVG file; in its rules, and of functions, not for every property.
const place = geometry('0', (value) => isLength(value, 'any'));
const radius = geometry('auto', (value) => value === 'auto' || isPositive(value, 'any'));
const size = geometry(
  'auto',
  (value, from) => value === 'auto' || isPositive(value, from === 'rule' ? 'zero' : 'written'),
);

/** What may be displayed, which is all one to a drawing but for `none`. */
const DISPLAYS =
  'none contents inline block flow-root inline-block list-item table inline-table table-row-group table-header-group table-footer-group table-row table-cell table-column-group table-column table-caption flex inline-flex grid inline-grid ruby ruby-text math -webkit-box -webkit-inline-box -webkit-flex -webkit-inline-flex'.split(
    ' ',
  );

const BARE_SIZES: Readonly<Record<Source, Bare>> = { attribute: 'any', style: 'written', rule: 'zero' };
const FONT_SIZES = 'xx-small x-small small medium large x-large xx-large xxx-large smaller larger'.split(' ');

export const PROPERTIES: Readonly<Record<string, Property>> = {
  fill: inheritedProperty('black', isPaint),
  'fill-rule': inheritedProperty('nonzero', isOneOf('nonzero', 'evenodd')),
  'fill-opacity': inheritedProperty('1', isRatio),
  stroke: inheritedProperty('none', isPaint),
  'stroke-width': inheritedProperty('1', (value) => isPositive(value, 'any')),
  'stroke-linecap': inheritedProperty('butt', isOneOf('butt', 'round', 'square')),
  'stroke-linejoin': inheritedProperty('miter', isOneOf('miter', 'round', 'bevel')),
  'stroke-miterlimit': inheritedProperty(
    '4',
    (value) => isNumber(value) && quantityOf(value, SIZES)!.value >= 0,
  ),
  'stroke-dasharray': inheritedProperty('none', isDashList),
  'stroke-dashoffset': inheritedProperty('0', (value) => isLength(value, 'any')),
  'stroke-opacity': inheritedProperty('1', isRatio),
  'clip-rule': inheritedProperty('nonzero', isOneOf('nonzero', 'evenodd')),
  visibility: inheritedProperty('visible', isOneOf('visible', 'hidden', 'collapse')),
  color: inheritedProperty('black', isColour),
  'font-size': inheritedProperty(
    '16px',
    (value, from) => FONT_SIZES.includes(value) || isPositive(value, BARE_SIZES[from]),
  ),
  'marker-start': inheritedProperty('none', isReference),
  'marker-mid': inheritedProperty('none', isReference),
  'marker-end': inheritedProperty('none', isReference),
  display: ownProperty('inline', isOneOf(...DISPLAYS)),
  opacity: ownProperty('1', isRatio),
  // Browsers set these two by a style sheet of their own.
  overflow: {
    ...ownProperty('', isOneOf('visible', 'hidden', 'scroll', 'auto', 'clip')),
    words: { initial: 'visible', revert: '' },
  },
  transform: ownProperty('none', (value, from) =>
    from === 'attribute' && value !== 'none'
      ? attributeTransform(value) !== undefined
      : hasForm('transform', value) && cssTransform(value, UNITS) !== undefined,
  ),
  'transform-origin': {
    ...ownProperty('', (value, from) => {
      const { x, y, z } = originOf(value) ?? {};
      if (x === undefined || y === undefined) return false;
      if (z !== undefined && !isDepth(z, from)) return false;
      return [x, y].every((o) => isLength(o, from === 'attribute' ? 'any' : 'zero'));
    }),
    words: { initial: '50% 50%', revert: '' },
  },
  'transform-box': ownProperty(
    'view-box',
    isOneOf('view-box', 'fill-box', 'content-box', 'stroke-box', 'border-box'),
    false,
  ),
  translate: ownProperty(
    'none',
    (value) => hasForm('translate', value) && individualTransform('translate', value, UNITS) !== undefined,
    false,
  ),
  rotate: ownProperty(
    'none',
    (value) => hasForm('rotate', value) && individualTransform('rotate', value, UNITS) !== undefined,
    false,
  ),
  scale: ownProperty(
    'none',
    (value) => hasForm('scale', value) && individualTransform('scale', value, UNITS) !== undefined,
    false,
  ),
  'clip-path': ownProperty('none', isReference),
  mask: ownProperty('none', isAny),
  filter: ownProperty('none', isAny),
  'vector-effect': ownProperty('none', isOneOf('none', 'non-scaling-stroke')),
  x: place,
  y: place,
  cx: place,
  cy: place,
  r: geometry('0', (value) => isPositive(value, 'any')),
  rx: radius,
  ry: radius,
  width: size,
  height: size,
  d: geometry('none', (value) => value === 'none' || pathString(value) !== undefined),
};

/** Characters in the value of one property; path data has a limit of its own. */
export const LONGEST_VALUE = 2_000;

const WIDE = /^(?:inherit|initial|unset|revert)$/;

/** Whether a value is one of a property, a keyword of every property, or refers to a custom property. */
export const isAccepted = (name: string, value: string, from: Source): boolean =>
  WIDE.test(value) || /(?<![\w-])var\(/i.test(value) || PROPERTIES[name]!.accepts(value, from);

/** The path data in `path("...")`. */
export const pathString = (value: string): string | undefined =>
  /^path\(\s*(["'])([\s\S]*)\1\s*\)$/.exec(value)?.[2];

export const PROPERTY_NAMES: readonly string[] = Object.keys(PROPERTIES);
export const ATTRIBUTE_NAMES: readonly string[] = PROPERTY_NAMES.filter(
  (name) => PROPERTIES[name]!.attribute,
);
export const OWN_NAMES: readonly string[] = PROPERTY_NAMES.filter((name) => !PROPERTIES[name]!.inherits);

const NONE = /^none$/;
/** Lines are drawn where a style of line is given. */
const NO_LINE = /^(?!.*\b(?:auto|dotted|dashed|solid|double|groove|ridge|inset|outset)\b)/;
const NO_SPACE = /^(?:(?:0(?:px|%|em|rem|pt|mm|cm|in)?|auto)(?: |$))+$/;

/** Properties that move ink in a browser and are not read, with the values that change nothing. */
export const UNREAD_PROPERTIES: ReadonlyMap<string, RegExp> = new Map(
  Object.entries({
    all: /^$/,
    animation: /^none\b/,
    'animation-name': NONE,
    'backface-visibility': /^visible$/,
    'content-visibility': /^visible$/,
    'font-family': /^(?!monospace$)/,
    // Even `auto` is not what an attribute says.
    'block-size': /^$/,
    'inline-size': /^$/,
    '-webkit-logical-height': /^$/,
    '-webkit-logical-width': /^$/,
    '-webkit-mask-box-image': NONE,
    '-webkit-mask-box-image-source': NONE,
    'mask-border': NONE,
    'mask-border-source': NONE,
    'mask-image': NONE,
    'mix-blend-mode': /^normal$/,
    offset: NONE,
    'offset-path': NONE,
    'object-view-box': NONE,
    outline: NO_LINE,
    'outline-style': NO_LINE,
    'overflow-block': /^$/,
    'overflow-inline': /^$/,
    'overflow-x': /^$/,
    'overflow-y': /^$/,
    perspective: NONE,
    '-webkit-transform-origin-x': /^$/,
    '-webkit-transform-origin-y': /^$/,
    zoom: /^(?:1|100%|normal)$/,
  }),
);

/** Lines go from left to right and rows down the page: what overflows it does so at its right and its foot. */
const LEFT_TO_RIGHT = /^(?:horizontal-tb|lr|lr-tb|rl|rl-tb)$/;

/** None of its lengths is more than nothing. */
const NO_RADIUS = /^(?:0(?:px|%|em|rem|pt|mm|cm|in)?(?: |\/|$)| )+$/;

const SIDES = ['top', 'right', 'bottom', 'left'];
const CORNERS = [
  'top-left',
  'top-right',
  'bottom-left',
  'bottom-right',
  'start-start',
  'start-end',
  'end-start',
  'end-end',
];
/** Extents that a browser bounds. */
const EXTENTS = ['width', 'height', 'inline-size', 'block-size'];
const FLOW_SIDES = ['block', 'inline'].flatMap((s) => [s, `${s}-start`, `${s}-end`]);

/** The same for the outermost element, which alone is a box of the page. */
export const UNREAD_OUTERMOST: ReadonlyMap<string, RegExp> = new Map([
  ['background', /^(?:none|transparent|white|#fff(?:fff)?)$/],
  ['background-color', /^(?:transparent|white|#fff(?:fff)?)$/],
  ['background-image', NONE],
  ['border', NO_LINE],
  ...['border-image', 'border-image-source', '-webkit-border-image'].map((name): [string, RegExp] => [
    name,
    NONE,
  ]),
  ['direction', /^ltr$/],
  ...['writing-mode', '-webkit-writing-mode', '-epub-writing-mode'].map((name): [string, RegExp] => [
    name,
    LEFT_TO_RIGHT,
  ]),
  ['border-style', NO_LINE],
  ['box-shadow', NONE],
  ['position', /^(?:static|relative|sticky)$/],
  ['inset', NO_SPACE],
  ['margin', NO_SPACE],
  ['padding', NO_SPACE],
  ...SIDES.map((side): [string, RegExp] => [side, NO_SPACE]),
  ...[...SIDES, ...FLOW_SIDES].flatMap((side): [string, RegExp][] => [
    [`border-${side}`, NO_LINE],
    [`border-${side}-style`, NO_LINE],
    [`margin-${side}`, NO_SPACE],
    [`padding-${side}`, NO_SPACE],
  ]),
  ...FLOW_SIDES.map((side): [string, RegExp] => [`inset-${side}`, NO_SPACE]),
  ...['before', 'after', 'start', 'end'].flatMap((side): [string, RegExp][] => [
    [`-webkit-border-${side}`, NO_LINE],
    [`-webkit-border-${side}-style`, NO_LINE],
    [`-webkit-margin-${side}`, NO_SPACE],
    [`-webkit-padding-${side}`, NO_SPACE],
  ]),
  ...EXTENTS.flatMap((extent): [string, RegExp][] => [
    [`max-${extent}`, NONE],
    [`min-${extent}`, NO_SPACE],
  ]),
  ...['max', 'min'].flatMap((bound) =>
    ['width', 'height'].map((extent): [string, RegExp] => [
      `-webkit-${bound}-logical-${extent}`,
      bound === 'max' ? NONE : NO_SPACE,
    ]),
  ),
  ['border-radius', NO_RADIUS],
  ['-webkit-border-radius', NO_RADIUS],
  ...CORNERS.map((corner): [string, RegExp] => [`border-${corner}-radius`, NO_RADIUS]),
  ...['top-left', 'top-right', 'bottom-left', 'bottom-right'].map((corner): [string, RegExp] => [
    `-webkit-border-${corner}-radius`,
    NO_RADIUS,
  ]),
  ['-webkit-box-reflect', NONE],
]);

/** Of the properties that are not read, those that an attribute of their name sets too. */
export const UNREAD_ATTRIBUTES: readonly string[] = ['font-family', 'direction', 'writing-mode'];
