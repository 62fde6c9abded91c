import { type Glyph, glyphOf } from './glyph.js';
import type { Kern } from './kerning.js';
import { bar, mapped, reach, type Stroke, translate } from './pen.js';
import { closer } from './spacing.js';

/** Superior digits and letters are drawn at this part of their size, on lines so high. Common practice, no source. */
const SUPERIOR = { scale: 0.58, lift: 420 };
const INFERIOR = { scale: 0.58, lift: 0 };
const SMALL_BEARING = 80;

export const DIGITS = '0123456789';
const SUPERIORS: Readonly<Record<string, string>> = {
  ...Object.fromEntries([...'⁰¹²³⁴⁵⁶⁷⁸⁹'].map((c, k) => [c, DIGITS[k]!])),
  ...Object.fromEntries([...'ᵃᵇᶜᵈᵉʰⁿʳˢᵗ'].map((c, k) => [c, 'abcdehnrst'[k]!])),
  ᵒ: 'o',
};
const INFERIORS: Readonly<Record<string, string>> = Object.fromEntries(
  [...'₀₁₂₃₄₅₆₇₈₉'].map((c, k) => [c, DIGITS[k]!]),
);
const SLASH = '⁄';
const FRACTIONS: Readonly<Record<string, string>> = {
  '½': '12',
  '¼': '14',
  '¾': '34',
  '⅓': '13',
  '⅔': '23',
  '⅛': '18',
  '⅜': '38',
  '⅝': '58',
  '⅞': '78',
};

/** Small digits and letters drawn from the large ones, by the character of the large. */
interface Small {
  readonly superior: ReadonlyMap<string, Glyph>;
  readonly inferior: ReadonlyMap<string, Glyph>;
}

/** Superior and inferior digits and letters, fractions and ordinals: what is composed of glyphs drawn smaller. */
export function smallGlyphs(drawn: ReadonlyMap<string, Glyph>): Glyph[] {
  const superior = Object.entries(SUPERIORS).map(
    ([char, base]) => [base, raised(drawn.get(base)!, char, 'superior', SUPERIOR)] as const,
  );
  const inferior = Object.entries(INFERIORS).map(
    ([char, base]) => [base, raised(drawn.get(base)!, char, 'inferior', INFERIOR)] as const,
  );
  const small = { superior: new Map(superior), inferior: new Map(inferior) };
  return [
    ...small.superior.values(),
    ...small.inferior.values(),
    ...Object.entries(FRACTIONS).map(([char, parts]) => fraction(small, drawn.get(SLASH)!, char, parts)),
    ...ordinals(drawn),
  ];
}

const scaled = (strokes: readonly Stroke[], by: number, dx: number, dy: number): Stroke[] =>
  strokes.map((s) => mapped(s, ([x, y]) => [x * by + dx, y * by + dy]));

/** A glyph drawn small on a line so high: a superior or inferior one. */
function raised(
  base: Glyph,
  char: string,
  kind: string,
  { scale, lift }: { readonly scale: number; readonly lift: number },
): Glyph {
  const strokes = scaled(base.strokes, scale, 0, lift);
  return glyphOf(`${base.name}${kind}`, char, SMALL_BEARING, SMALL_BEARING, strokes);
}

/** Centre to centre of a fraction's slash and its digits: a line of the design width, and 7/10 as much clear. */
const SLASH_CLEAR = 170;

/** Numerator, slash and denominator as one glyph, set as they are set one by one. */
function fraction(small: Small, slash: Glyph, char: string, parts: string): Glyph {
  const [over, under] = [small.superior.get(parts[0]!)!, small.inferior.get(parts[1]!)!];
  const at = over.advance - closer(over, slash, SLASH_CLEAR);
  const then = at + slash.advance - closer(slash, under, SLASH_CLEAR);
  const strokes = [...over.strokes, ...translate(slash.strokes, at, 0), ...translate(under.strokes, then, 0)];
  return glyphOf(`${over.name}over${under.name}`, char, 100, 100, strokes);
}

/** Small digits drawn in under the slash of a fraction. */
export function fractionKerns(glyphs: readonly Glyph[]): Kern[] {
  const byChar = new Map(glyphs.map((g) => [g.char, g]));
  const slash = byChar.get(SLASH)!;
  const digits = (some: Readonly<Record<string, string>>): Glyph[] =>
    Object.keys(some).flatMap((c) => (DIGITS.includes(some[c]!) ? [byChar.get(c)!] : []));
  const kern = (left: Glyph, right: Glyph): Kern => ({
    left: left.char,
    right: right.char,
    tighter: closer(left, right, SLASH_CLEAR),
  });
  return [
    ...digits(SUPERIORS).map((digit) => kern(digit, slash)),
    ...digits(INFERIORS).map((digit) => kern(slash, digit)),
  ].filter(({ tighter }) => tighter > 0);
}

/** ª and º: a small letter raised, with a bar below it. */
function ordinals(drawn: ReadonlyMap<string, Glyph>): Glyph[] {
  const one = (char: string, name: string, base: string): Glyph => {
    const up = raised(drawn.get(base)!, char, '', { scale: 0.62, lift: 560 });
    const [from, to] = reach(up.strokes);
    return glyphOf(name, char, 100, 100, [...up.strokes, bar(from - 10, 420, to + 10, 420)]);
  };
  return [one('ª', 'ordfeminine', 'a'), one('º', 'ordmasculine', 'o')];
}
