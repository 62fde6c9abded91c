import type { PathCommand } from '../geometry/path-command.js';
import { charactersOf } from './characters.js';
import type { DigitStyle, Font, Glyph } from './font.js';
import { nearestSubstitute } from './substitute.js';

/** A glyph in a line of text: x of its origin from the start of the line, in letter heights. */
export interface LineGlyph {
  readonly glyph: Glyph;
  readonly character: string;
  readonly x: number;
  /** How far its baseline stands above that of a single line, in letter heights; 0 when left out. */
  readonly y?: number;
}

/** Text shaped in one font, in letter heights from the start of its baseline. */
export interface ShapedLine {
  readonly glyphs: readonly LineGlyph[];
  readonly width: number;
  /** Characters the font does not have, each once. */
  readonly missing: readonly string[];
  /** Characters the font does not have and what replaces them, each once. */
  readonly substituted?: readonly Substitution[];
}

export interface Substitution {
  readonly character: string;
  readonly by: string;
}

export interface TextOptions {
  /** Lower case as small capitals, or all letters; as typed when left out. */
  readonly capitals?: 'as-typed' | 'small' | 'all-small';
  /** Replaces a character the font lacks by the nearest it has. */
  readonly substitute?: boolean;
}

/** Height of small capitals: a little over the lower case, so that they hold their own. Common practice, no source. */
const SMALL_CAPITALS = 0.75;

/**
 * Shapes a line of text: characters in their composed form (Unicode NFC), each to its glyph, neighbours kerned by the
 * font, `spacing` letter heights added between letters. Digits about a fraction slash (U+2044) become numerator and
 * denominator where the font has such digits. A letter with marks that cannot be composed counts as one character.
 */
export function shapeLine(
  font: Font,
  text: string,
  digits: DigitStyle,
  spacing = 0,
  options: TextOptions = {},
): ShapedLine {
  const glyphs: LineGlyph[] = [];
  const missing = new Set<string>();
  const substitutes = new Map<string, string>();
  const smallCapitals = new Map<Glyph, Glyph>();
  let x = 0;
  let last: { readonly full: Glyph; readonly small: boolean } | undefined;
  for (const { character: requested, small } of applyCapitals(withFractions(font, text), options)) {
    for (const character of charactersInFont(font, requested, digits, options, missing, substitutes)) {
      const full = font.glyph(character, digits)!;
      if (last) x += font.kern(last.full, full) * (small && last.small ? SMALL_CAPITALS : 1) + spacing;
      const glyph = small ? smallCapital(full, smallCapitals) : full;
      glyphs.push({ glyph, character, x });
      x += glyph.advance;
      last = { full, small };
    }
  }
  const substituted = [...substitutes].map(([character, by]) => ({ character, by }));
  return { glyphs, width: x, missing: [...missing], ...(substituted.length > 0 ? { substituted } : {}) };
}

/**
 * Makes lines share what they have in common: a letter at the same place is the same object in all of them. Ten thousand
 * labels have few such letters.
 */
export function lineSharer(): (line: ShapedLine) => ShapedLine {
  const known = new Map<Glyph, Map<number, LineGlyph>>();
  const shared = (one: LineGlyph): LineGlyph => {
    const { glyph, character, x, y } = one;
    if (y !== undefined) return one;
    const atPlaces = known.get(glyph) ?? new Map<number, LineGlyph>();
    known.set(glyph, atPlaces);
    const before = atPlaces.get(x);
    if (before?.character === character) return before;
    atPlaces.set(x, one);
    return one;
  };
  return (line) => ({ ...line, glyphs: line.glyphs.map(shared) });
}

interface CasedCharacter {
  readonly character: string;
  /** To be drawn as a small capital. */
  readonly small: boolean;
}

function applyCapitals(text: string, { capitals = 'as-typed' }: TextOptions): CasedCharacter[] {
  const typed = charactersOf(text);
  if (capitals === 'as-typed') return typed.map((character) => ({ character, small: false }));
  return typed.flatMap((character) => {
    // Superior letters have no capitals and stay as they are.
    const upper = character.toUpperCase();
    const isLower = upper !== character;
    const isLetter = isLower || character.toLowerCase() !== character;
    const small = capitals === 'small' ? isLower : capitals === 'all-small' && isLetter;
    return (small ? charactersOf(upper) : [character]).map((c) => ({ character: c, small }));
  });
}

const SUPERIOR_DIGITS = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const INFERIOR_DIGITS = '₀₁₂₃₄₅₆₇₈₉';

/** Digits before a fraction slash as superior ones and those after it as inferior, where the font has them all. */
function withFractions(font: Font, text: string): string {
  return text.replace(/([0-9]+)\u2044([0-9]+)/g, (whole, numerator: string, denominator: string) => {
    const fraction = `${replaceDigits(numerator, SUPERIOR_DIGITS)}\u2044${replaceDigits(denominator, INFERIOR_DIGITS)}`;
    return [...fraction].every((c) => font.glyph(c, 'proportional')) ? fraction : whole;
  });
}

const replaceDigits = (digits: string, forms: string): string =>
  [...digits].map((d) => [...forms][Number(d)]!).join('');

/** The character itself where the font has it, what replaces it where that is asked for, else none. */
function charactersInFont(
  font: Font,
  character: string,
  digits: DigitStyle,
  { substitute }: TextOptions,
  missing: Set<string>,
  substitutes: Map<string, string>,
): string[] {
  if (font.glyph(character, digits)) return [character];
  const by = substitute ? nearestSubstitute(font, character) : undefined;
  if (by === undefined) {
    missing.add(character);
    return [];
  }
  substitutes.set(character, by);
  return charactersOf(by);
}

/** A glyph as a small capital. A stroke font's line keeps its width, since the cutter makes it. */
function smallCapital(glyph: Glyph, made: Map<Glyph, Glyph>): Glyph {
  const before = made.get(glyph);
  if (before) return before;
  const path = glyph.path.map(
    (s) => s.map((v) => (typeof v === 'number' ? v * SMALL_CAPITALS : v)) as unknown as PathCommand,
  );
  const key = `${glyph.key}@${SMALL_CAPITALS}`;
  const small = { ...glyph, key, advance: glyph.advance * SMALL_CAPITALS, path };
  made.set(glyph, small);
  return small;
}
