import type { PathCommand } from '../geometry/path-command.js';
import { charactersOf } from './characters.js';
import type { DigitStyle, Font, Glyph } from './font.js';
import { nearest } from './substitute.js';

/** A glyph in a line of text: x of its origin from the start of the line, in letter heights. */
export interface SetGlyph {
  readonly glyph: Glyph;
  readonly character: string;
  readonly x: number;
  /** How far its baseline stands above that of a single line, in letter heights; 0 when left out. */
  readonly y?: number;
}

/** Text set in one font, in letter heights from the start of its baseline. */
export interface SetLine {
  readonly glyphs: readonly SetGlyph[];
  readonly width: number;
  /** Characters the font does not have, each once. */
  readonly missing: readonly string[];
  /** Characters the font does not have for which others were set, each once. */
  readonly substituted?: readonly Substituted[];
}

export interface Substituted {
  readonly character: string;
  readonly by: string;
}

export interface TextOptions {
  /** Lower case as small capitals, or all letters; as typed when left out. */
  readonly capitals?: 'as-typed' | 'small' | 'all-small';
  /** Sets the nearest the font has for a character it lacks. */
  readonly substitute?: boolean;
}

/** Height of small capitals: a little over the lower case, so that they hold their own. Common practice, no source. */
const SMALL_CAPITALS = 0.75;

/**
 * Sets a line of text: characters in their composed form (Unicode NFC), each to its glyph, neighbours drawn together
 * by the font's kerning, `spacing` letter heights added between letters. DigitStyle about a fraction slash (U+2044) are
 * set as numerator and denominator where the font has such figures. A letter with marks that cannot be composed counts
 * as one character.
 */
export function setLine(
  font: Font,
  text: string,
  figures: DigitStyle,
  spacing = 0,
  options: TextOptions = {},
): SetLine {
  const glyphs: SetGlyph[] = [];
  const missing = new Set<string>();
  const substituted = new Map<string, string>();
  let x = 0;
  let last: Cast | undefined;
  for (const cast of castsOf(font, text, options)) {
    const found = glyphsFor(font, cast, figures, options, missing, substituted);
    for (const { glyph, character } of found) {
      const { small } = cast;
      if (last) x += font.kern(last.base!, glyph) * (small && last.small ? SMALL_CAPITALS : 1) + spacing;
      const set = small ? smallCapital(glyph) : glyph;
      glyphs.push({ glyph: set, character, x });
      x += set.advance;
      last = { ...cast, base: glyph };
    }
  }
  const by = [...substituted].map(([character, set]) => ({ character, by: set }));
  return { glyphs, width: x, missing: [...missing], ...(by.length > 0 ? { substituted: by } : {}) };
}

/** A character on its way to a glyph. */
interface Cast {
  readonly character: string;
  readonly small: boolean;
  readonly base?: Glyph;
}

function castsOf(font: Font, text: string, { capitals = 'as-typed' }: TextOptions): Cast[] {
  const casts: Cast[] = [];
  for (const character of charactersOf(fractioned(font, text))) {
    // Superior letters have no capitals and stay as they are.
    const upper = character.toUpperCase();
    const lower = upper !== character;
    const letter = lower || character.toLowerCase() !== character;
    const small = capitals === 'small' ? lower : capitals === 'all-small' && letter;
    for (const one of small ? charactersOf(upper) : [character]) casts.push({ character: one, small });
  }
  return casts;
}

const SUPERIOR = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const INFERIOR = '₀₁₂₃₄₅₆₇₈₉';

/** DigitStyle before a fraction slash as superior ones and those after it as inferior, where the font has them all. */
function fractioned(font: Font, text: string): string {
  return text.replace(/([0-9]+)\u2044([0-9]+)/g, (whole, over: string, under: string) => {
    const set = `${raised(over, SUPERIOR)}\u2044${raised(under, INFERIOR)}`;
    return [...set].every((c) => font.glyph(c, 'proportional')) ? set : whole;
  });
}

const raised = (figures: string, forms: string): string =>
  [...figures].map((f) => [...forms][Number(f)]!).join('');

function glyphsFor(
  font: Font,
  { character }: Cast,
  figures: DigitStyle,
  { substitute }: TextOptions,
  missing: Set<string>,
  substituted: Map<string, string>,
): { glyph: Glyph; character: string }[] {
  const glyph = font.glyph(character, figures);
  if (glyph) return [{ glyph, character }];
  const by = substitute ? nearest(font, character) : undefined;
  if (by === undefined) {
    missing.add(character);
    return [];
  }
  substituted.set(character, by);
  return charactersOf(by).map((c) => ({ glyph: font.glyph(c, figures)!, character: c }));
}

const smaller = new WeakMap<Glyph, Glyph>();

/** A glyph as a small capital, one for each glyph. A stroke font's line keeps its width, since the cutter makes it. */
function smallCapital(glyph: Glyph): Glyph {
  const known = smaller.get(glyph);
  if (known) return known;
  const path = glyph.path.map(
    (s) => s.map((v) => (typeof v === 'number' ? v * SMALL_CAPITALS : v)) as unknown as PathCommand,
  );
  const key = `${glyph.key}@${SMALL_CAPITALS}`;
  const made = { ...glyph, key, advance: glyph.advance * SMALL_CAPITALS, path };
  smaller.set(glyph, made);
  return made;
}
