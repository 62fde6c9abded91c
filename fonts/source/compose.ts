import { type Glyph, glyphOf } from './glyph.js';
import { CAP, SPACE_ADVANCE, TAIL } from './metrics.js';
import { bar, reach, type Stroke, translate } from './pen.js';
import { DIGITS, fractionKerns, smallGlyphs } from './small.js';
import { kernsOf } from './spacing.js';
import type { Drawing, MarkDrawing, Style } from './style.js';

const range = (from: number, to: number): string[] =>
  Array.from({ length: to - from + 1 }, (_, k) => String.fromCodePoint(from + k));

/** Letters that Unicode takes apart into a letter and a mark: Latin-1, Latin Extended-A, and the Romanian four. */
const ACCENTED = [...range(0xc0, 0x17f), ...'ȘșȚț'].filter((c) => [...c.normalize('NFD')].length === 2);

const CARON = '\u030c';
const CEDILLA = '\u0327';
const COMMA_BELOW = '\u0326';
const OGONEK = '\u0328';
const TURNED_COMMA = '\u0312';

/** Where an ogonek hangs on a letter: at its right foot, or under its middle. */
const OGONEK_AT: Readonly<Record<string, 'foot' | 'middle'>> = {
  A: 'foot',
  a: 'foot',
  u: 'foot',
  E: 'foot',
  e: 'middle',
  U: 'middle',
  I: 'middle',
  i: 'middle',
};

/** Everything of a style: what is drawn, and what is composed of it. */
export function composeStyle(style: Style): Drawing {
  const drawn = new Map(style.drawn.map((g) => [g.char, g]));
  const space: Glyph = { name: 'space', char: ' ', advance: SPACE_ADVANCE, strokes: [], anchors: {} };
  const hyphen = { ...drawn.get('-')!, name: 'softhyphen', char: '\u00ad' };
  const glyphs = [
    space,
    { ...space, name: 'nbspace', char: '\u00a0' },
    hyphen,
    ...style.drawn,
    ...ACCENTED.map((char) => accentedLetter(style, drawn, char)),
    ...barredLetters(drawn),
    ...pairs(drawn),
    ...smallGlyphs(drawn),
    ...standaloneMarks(style),
    ...variants(style, drawn),
  ];
  const unique = [...new Map(glyphs.map((g) => [g.char || g.name, g])).values()];
  unique.sort((a, b) => codeOf(a) - codeOf(b));
  const kerns = [...kernsOf(style, unique), ...fractionKerns(unique)];
  const { id, family, note, xHeight, missing } = style;
  return { id, family, note, xHeight, glyphs: unique, missing, kerns };
}

/** Variants without a character of their own come last, as they are listed. */
const codeOf = (g: Glyph): number => g.char.codePointAt(0) ?? 0x110000;

function accentedLetter(style: Style, drawn: ReadonlyMap<string, Glyph>, char: string): Glyph {
  const [base, mark] = [...char.normalize('NFD')] as [string, string];
  const letter = drawn.get(base);
  if (!letter) throw new Error(`${char} has no letter ${base} to stand on.`);
  if (mark === CARON && 'dtlL'.includes(base)) return besideTall(letter, char, style.tallCaron);
  if (mark === OGONEK) return attachMark(letter, char, style.marks[OGONEK]!, ogonekAt(letter));
  if (mark === CEDILLA && 'GKLNRklnr'.includes(base))
    return onLetter(letter, char, style.marks[COMMA_BELOW]!);
  if (mark === CEDILLA && base === 'g') return onLetter(letter, char, style.marks[TURNED_COMMA]!);
  const drawing = style.marks[mark];
  if (!drawing) throw new Error(`${char} has a mark that is not drawn.`);
  const dotless = base === 'i' ? drawn.get('ı')! : base === 'j' ? style.dotlessJ : letter;
  return onLetter(drawing.place === 'top' ? dotless : letter, char, drawing);
}

function onLetter(letter: Glyph, char: string, mark: MarkDrawing): Glyph {
  const at = letter.anchors[mark.place];
  if (!at) throw new Error(`${letter.char} has no place for a mark at its ${mark.place}.`);
  return attachMark(letter, char, mark, at);
}

/** A letter with a mark. A wide mark over a narrow letter widens its room evenly, so that nothing leaves it. */
function attachMark(letter: Glyph, char: string, mark: MarkDrawing, at: readonly [number, number]): Glyph {
  const strokes = [...letter.strokes, ...translate(mark.strokes, at[0], at[1])];
  const name = `${letter.name}${mark.name}`;
  return withBearings({ ...letter, name, char, strokes });
}

/** Room that every glyph keeps at both sides, so that no mark leaves it. */
const LEAST_BEARING = 40;

function withBearings(glyph: Glyph): Glyph {
  const [left, right] = reach(glyph.strokes);
  const more = Math.ceil(Math.max(0, LEAST_BEARING - left, right + LEAST_BEARING - glyph.advance));
  if (more === 0) return glyph;
  return { ...glyph, strokes: translate(glyph.strokes, more, 0), advance: glyph.advance + 2 * more };
}

function ogonekAt(letter: Glyph): readonly [number, number] {
  const [, right] = reach(letter.strokes);
  const place = OGONEK_AT[letter.char] ?? 'middle';
  if (place === 'foot') return [right, 0];
  return letter.anchors.bottom ?? [right, 0];
}

/** A tick at the upper right of a tall letter, in room of its own. */
function besideTall(letter: Glyph, char: string, tick: readonly Stroke[]): Glyph {
  const [, right] = reach(upper(letter));
  // A t is lower, and has a bar to stand clear of.
  const lift = letter.char === 't' ? 60 : 0;
  const strokes = [...letter.strokes, ...translate(tick, right + 180, CAP + lift)];
  const [, end] = reach(strokes);
  const advance = Math.max(letter.advance, Math.ceil(end + LEAST_BEARING));
  return { ...letter, name: `${letter.name}caron`, char, strokes, advance };
}

/** The strokes of a letter that reach its upper part: what a tick has to stand clear of. */
function upper(letter: Glyph): Stroke[] {
  const high = letter.strokes.filter((s) => s.start[1] > 800 || s.pieces.some((p) => p.to[1] > 800));
  const cut = high.map((s): Stroke => {
    const x = s.start[1] > 800 ? s.start[0] : s.pieces.find((p) => p.to[1] > 800)!.to[0];
    return bar(x, 800, x, 1000);
  });
  return cut.length > 0 ? cut : [...letter.strokes];
}

/** Letters with a bar through them, drawn over the letter where its stem stands. */
function barredLetters(drawn: ReadonlyMap<string, Glyph>): Glyph[] {
  const over = (char: string, name: string, base: string, bars: (g: Glyph) => readonly Stroke[]): Glyph => {
    const letter = drawn.get(base)!;
    return withBearings({ ...letter, char, name, strokes: [...letter.strokes, ...bars(letter)] });
  };
  const stem = (g: Glyph): number => g.anchors.top?.[0] ?? reach(g.strokes)[0];
  const ends = (g: Glyph): readonly [number, number] => reach(g.strokes);
  const left = (g: Glyph): number => reach(upper(g))[0];
  return [
    over('Ð', 'Eth', 'D', (g) => [bar(left(g) - 110, 500, left(g) + 240, 500)]),
    over('Đ', 'Dcroat', 'D', (g) => [bar(left(g) - 110, 500, left(g) + 240, 500)]),
    over('đ', 'dcroat', 'd', (g) => [bar(stem(g) - 190, 860, stem(g) + 110, 860)]),
    over('Ħ', 'Hbar', 'H', (g) => [bar(ends(g)[0] - 75, 760, ends(g)[1] + 75, 760)]),
    over('ħ', 'hbar', 'h', (g) => [bar(left(g) - 110, 860, left(g) + 220, 860)]),
    over('Ł', 'Lslash', 'L', (g) => [bar(left(g) - 110, 400, left(g) + 220, 600)]),
    over('ł', 'lslash', 'l', (g) => [bar(stem(g) - 130, 420, stem(g) + 150, 620)]),
    over('Ø', 'Oslash', 'O', (g) => [bar(ends(g)[0] + 40, -40, ends(g)[1] - 40, 1040)]),
    over('ø', 'oslash', 'o', (g) => [bar(ends(g)[0] - 5, -40, ends(g)[1] + 5, g.anchors.top![1] + 40)]),
    over('Ŧ', 'Tbar', 'T', (g) => [bar(stem(g) - 180, 520, stem(g) + 180, 520)]),
    over('ŧ', 'tbar', 't', (g) => [bar(stem(g) - 130, 380, stem(g) + 190, 380)]),
  ];
}

/** Two glyphs as one, set as they would be side by side. */
function pairs(drawn: ReadonlyMap<string, Glyph>): Glyph[] {
  const pair = (char: string, name: string, a: string, b: string, closer: number): Glyph => {
    const [first, second] = [drawn.get(a)!, drawn.get(b)!];
    const at = first.advance - closer;
    return {
      ...first,
      name,
      char,
      advance: at + second.advance,
      strokes: [...first.strokes, ...translate(second.strokes, at, 0)],
      anchors: {},
    };
  };
  return [
    pair('Ĳ', 'IJ', 'I', 'J', 40),
    pair('ĳ', 'ij', 'i', 'j', 40),
    pair('ŉ', 'napostrophe', '’', 'n', 80),
    pair('Ŀ', 'Ldot', 'L', '·', 230),
    pair('ŀ', 'ldot', 'l', '·', 100),
  ];
}

/** Marks that stand alone, as high as over a small letter. */
function standaloneMarks({ marks, xHeight }: Style): Glyph[] {
  const alone: readonly (readonly [string, string])[] = [
    ['¨', '\u0308'],
    ['¯', '\u0304'],
    ['´', '\u0301'],
    ['¸', '\u0327'],
    ['`', '\u0300'],
    ['^', '\u0302'],
    ['~', '\u0303'],
  ];
  return alone.map(([char, mark]) => {
    const { name, place, strokes } = marks[mark]!;
    const lift = place === 'top' ? xHeight - (char === '~' ? 330 : 0) : 0;
    return glyphOf(`${name}alone`, char, 100, 100, translate(strokes, 0, lift));
  });
}

/** Digits of their own widths, then old-style ones: 0, 1 and 2 small, 6 and 8 rising, the others hanging. */
function variants({ smallDigits, xHeight }: Style, drawn: ReadonlyMap<string, Glyph>): Glyph[] {
  const own = (c: string, tag: string, strokes: readonly Stroke[]): Glyph =>
    glyphOf(`${drawn.get(c)!.name}.${tag}`, '', 110, 110, strokes);
  const strokes = (c: string): readonly Stroke[] => drawn.get(c)!.strokes;
  const old = (c: string): readonly Stroke[] =>
    smallDigits[Number(c)] ??
    ('34579'.includes(c) ? translate(strokes(c), 0, Math.max(TAIL, xHeight - CAP)) : strokes(c));
  return [
    ...[...DIGITS].map((c) => own(c, 'pnum', strokes(c))),
    ...[...DIGITS].map((c) => own(c, 'onum', old(c))),
  ];
}
