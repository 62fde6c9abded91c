/** Sizes that relative units stand for, px. */
export interface UnitSizes {
  readonly em: number;
  readonly rem: number;
  /** Width and height of the outermost viewport. */
  readonly viewWidth: number;
  readonly viewHeight: number;
}

type Kind = 'number' | 'percentage' | 'length' | 'angle';

/** A number with what it counts: px for a length, degrees for an angle, parts of 1 for a percentage. */
interface Amount {
  readonly value: number;
  readonly kind: Kind;
}

export interface Quantity extends Amount {
  /** Whether a function makes it, so that it is no bare number even where it counts nothing. */
  readonly isCalculated: boolean;
}

export const PX_IN_MM = 25.4 / 96;

/** Absolute lengths in px at 96 to the inch (CSS Values 4, 6.2). */
const PX: Readonly<Record<string, number>> = {
  px: 1,
  mm: 96 / 25.4,
  cm: 96 / 2.54,
  q: 96 / 101.6,
  in: 96,
  pt: 96 / 72,
  pc: 16,
};
const DEGREES: Readonly<Record<string, number>> = { deg: 1, grad: 0.9, rad: 180 / Math.PI, turn: 360 };

const LONGEST_VALUE = 300;
/** Farther out than any drawing, and near enough that numbers keep their places. */
export const LARGEST_NUMBER = 1e7;

/**
 * A number, length, angle or percentage of CSS Values 4, with `calc()`, `min()`, `max()` and `clamp()`. A percentage is
 * taken of `whole`, as a length; where `whole` is left out, it is one. Undefined for anything else, for units
 * that depend on a font's shapes (ex, ch, lh), and for values beyond 1e7.
 */
export function quantityOf(text: string, sizes: UnitSizes, whole?: number): Quantity | undefined {
  if (text.length > LONGEST_VALUE) return undefined;
  const made = new Calculation(text, sizes, whole).read();
  return made && Math.abs(made.value) <= LARGEST_NUMBER ? made : undefined;
}

/** A length in px; a bare number counts as px, as in attributes. */
export function lengthOf(text: string | undefined, sizes: UnitSizes, whole: number): number | undefined {
  const made = text === undefined ? undefined : quantityOf(text, sizes, whole);
  return made && made.kind !== 'angle' ? made.value : undefined;
}

/**
 * A number of SVG 2 and CSS Syntax 3. A digit must follow its point, so that `5.` is none, nor is the 5 of it.
 */
const NUMBER_FORM = '[-+]?(?:\\d+(?!\\d|\\.(?!\\d))(?:\\.\\d+)?|\\.\\d+)(?:[eE][-+]?\\d+)?';
const NUMBER = new RegExp(NUMBER_FORM, 'y');
const WORD = /%|[a-zA-Z]+/y;
const SPACE = /[ \t\n\f\r]*/y;

/** Reads one sum of a math function (CSS Values 4, 10), by recursive descent. */
class Calculation {
  #at = 0;

  constructor(
    private readonly text: string,
    private readonly sizes: UnitSizes,
    private readonly whole: number | undefined,
  ) {}

  read(): Quantity | undefined {
    this.#take(SPACE);
    const start = this.text[this.#at];
    // Brackets stand only within a function.
    if (start === '(') return undefined;
    const made = this.#term();
    this.#take(SPACE);
    if (!made || this.#at !== this.text.length) return undefined;
    return { ...made, isCalculated: /[a-z]/i.test(start!) };
  }

  #take(form: RegExp): string {
    form.lastIndex = this.#at;
    const found = form.exec(this.text)?.[0] ?? '';
    this.#at += found.length;
    return found;
  }

  #sign(sign: string): boolean {
    if (this.text[this.#at] !== sign) return false;
    this.#at++;
    return true;
  }

  #term(): Amount | undefined {
    const number = this.#take(NUMBER);
    if (number !== '') return this.#withUnit(Number(number), this.#take(WORD).toLowerCase());
    const name = this.#take(WORD).toLowerCase();
    if (!this.#sign('(')) return undefined;
    const parts = this.#arguments();
    if (!parts || parts.some((p) => p.kind !== parts[0]!.kind)) return undefined;
    const values = parts.map((p) => p.value);
    const { kind } = parts[0]!;
    if (name === 'min') return { kind, value: Math.min(...values) };
    if (name === 'max') return { kind, value: Math.max(...values) };
    if (name === 'clamp' && values.length === 3)
      return { kind, value: Math.max(values[0]!, Math.min(values[1]!, values[2]!)) };
    return (name === 'calc' || name === '') && values.length === 1 ? parts[0] : undefined;
  }

  #arguments(): Amount[] | undefined {
    const parts: Amount[] = [];
    do {
      this.#take(SPACE);
      const part = this.#sum();
      if (!part) return undefined;
      parts.push(part);
      this.#take(SPACE);
    } while (this.#sign(','));
    return this.#sign(')') ? parts : undefined;
  }

  /** Signs of a sum stand between spaces. */
  #sum(): Amount | undefined {
    let sum = this.#product();
    for (;;) {
      const back = this.#at;
      const sign = this.#take(/\s+[-+]\s+/y).trim();
      if (!sum || sign === '') {
        this.#at = back;
        return sum;
      }
      const next = this.#product();
      if (!next || next.kind !== sum.kind) return undefined;
      sum = { kind: sum.kind, value: sum.value + (sign === '-' ? -next.value : next.value) };
    }
  }

  #product(): Amount | undefined {
    let product = this.#term();
    for (;;) {
      const back = this.#at;
      const sign = this.#take(/\s*[*/]\s*/y).trim();
      if (!product || sign === '') {
        this.#at = back;
        return product;
      }
      const next = this.#term();
      if (!next || (next.kind !== 'number' && (sign === '/' || product.kind !== 'number'))) return undefined;
      const kind: Kind = product.kind === 'number' ? next.kind : product.kind;
      product = { kind, value: sign === '*' ? product.value * next.value : product.value / next.value };
    }
  }

  #withUnit(value: number, unit: string): Amount | undefined {
    if (unit === '') return { kind: 'number', value };
    if (unit === '%')
      return this.whole === undefined
        ? { kind: 'percentage', value: value / 100 }
        : { kind: 'length', value: (value / 100) * this.whole };
    const degrees = DEGREES[unit];
    if (degrees !== undefined) return { kind: 'angle', value: value * degrees };
    const px = PX[unit] ?? this.#relative(unit);
    return px === undefined ? undefined : { kind: 'length', value: value * px };
  }

  #relative(unit: string): number | undefined {
    const { em, rem, viewWidth, viewHeight } = this.sizes;
    switch (unit) {
      case 'em':
        return em;
      case 'rem':
        return rem;
      case 'vw':
      case 'vi':
        return viewWidth / 100;
      case 'vh':
      case 'vb':
        return viewHeight / 100;
      case 'vmin':
        return Math.min(viewWidth, viewHeight) / 100;
      case 'vmax':
        return Math.max(viewWidth, viewHeight) / 100;
      default:
        return undefined;
    }
  }
}

/** The parts of a value between spaces or commas, those within brackets left whole. */
export function splitValue(text: string, separator: 'space' | 'comma' | 'either'): string[] {
  const parts: string[] = [];
  let [depth, part] = [0, ''];
  for (const sign of text) {
    if (sign === '(') depth++;
    else if (sign === ')') depth--;
    const space = /\s/.test(sign);
    const between = sign === ',' ? separator !== 'space' : space && separator !== 'comma';
    if (depth > 0 || !between) part += sign;
    else if (part !== '' || (sign === ',' && separator === 'comma')) {
      parts.push(part);
      part = '';
    }
  }
  if (part !== '') parts.push(part);
  return parts.map((p) => p.trim());
}

/** A list of numbers up to `largest`, or undefined when it is none. */
export function numbersOf(text: string, largest = LARGEST_NUMBER): number[] | undefined {
  const read = leadingNumbers(text, Number.POSITIVE_INFINITY, largest);
  return read.whole ? read.numbers : undefined;
}

const SPACES = '[ \\t\\n\\f\\r]*';
const FIRST = new RegExp(`${SPACES}(${NUMBER_FORM})`, 'y');
/** One comma may stand between two numbers, and nothing need. */
const NEXT = new RegExp(`${SPACES},?${SPACES}(${NUMBER_FORM})`, 'y');
/** Browsers pass over a comma behind a number that stands alone. */
const ALONE = new RegExp(`^${SPACES}(${NUMBER_FORM})${SPACES}(?:,${SPACES})?$`);

/** The number an attribute of one number holds; undefined when it is none. */
export function numberAlone(text: string): number | undefined {
  const number = Number(ALONE.exec(text)?.[1] ?? Number.NaN);
  return Math.abs(number) <= LARGEST_NUMBER ? number : undefined;
}

const BLANK = new RegExp(`^${SPACES}$`);

/** The numbers a list begins with (SVG 2, 4.2), no more than `most`, and whether they are all of it. */
export function leadingNumbers(
  text: string,
  most: number,
  largest = LARGEST_NUMBER,
): { numbers: number[]; whole: boolean } {
  const numbers: number[] = [];
  let at = 0;
  while (at < text.length) {
    const form = numbers.length === 0 ? FIRST : NEXT;
    form.lastIndex = at;
    const match = form.exec(text);
    if (!match) return { numbers, whole: BLANK.test(text.slice(at)) };
    at = form.lastIndex;
    const number = Number(match[1]);
    if (!(Math.abs(number) <= largest) || numbers.length >= most) return { numbers, whole: false };
    numbers.push(number);
  }
  return { numbers, whole: true };
}
