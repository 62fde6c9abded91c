import { type Glyph, lettered } from './glyph.js';
import type { Kern } from './kerning.js';
import { CAP, CHARACTER_GAP, LINE_WIDTH, SPACE_ADVANCE, TAIL } from './metrics.js';
import { along, bar, mapped, moved, reach, type Stroke } from './pen.js';
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

/** Superior figures and letters are drawn at this part of their size, on lines so high. Common practice, no source. */
const SUPERIOR = { scale: 0.58, lift: 420 };
const INFERIOR = { scale: 0.58, lift: 0 };
const SMALL_BEARING = 55;

const FIGURES = '0123456789';
const SUPERIORS: Readonly<Record<string, string>> = {
  ...Object.fromEntries([...'⁰¹²³⁴⁵⁶⁷⁸⁹'].map((c, k) => [c, FIGURES[k]!])),
  ...Object.fromEntries([...'ᵃᵇᶜᵈᵉʰⁿʳˢᵗ'].map((c, k) => [c, 'abcdehnrst'[k]!])),
  ᵒ: 'o',
};
const INFERIORS: Readonly<Record<string, string>> = Object.fromEntries(
  [...'₀₁₂₃₄₅₆₇₈₉'].map((c, k) => [c, FIGURES[k]!]),
);
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

/** Everything of a style: what is drawn, and what is composed of it. */
export function composed(style: Style): Drawing {
  const drawn = new Map(style.drawn.map((g) => [g.char, g]));
  const space: Glyph = { name: 'space', char: ' ', advance: SPACE_ADVANCE, strokes: [], anchors: {} };
  const hyphen = { ...drawn.get('-')!, name: 'softhyphen', char: '\u00ad' };
  const glyphs = [
    space,
    { ...space, name: 'nbspace', char: '\u00a0' },
    hyphen,
    ...style.drawn,
    ...ACCENTED.map((char) => accented(style, drawn, char)),
    ...barred(drawn),
    ...pairs(drawn),
    ...Object.entries(SUPERIORS).map(([char, base]) => raised(drawn.get(base)!, char, 'superior', SUPERIOR)),
    ...Object.entries(INFERIORS).map(([char, base]) => raised(drawn.get(base)!, char, 'inferior', INFERIOR)),
    ...Object.entries(FRACTIONS).map(([char, parts]) => fraction(drawn, char, parts)),
    ...ordinals(drawn),
    ...aloneMarks(style),
    ...variants(style, drawn),
  ];
  const unique = [...new Map(glyphs.map((g) => [g.char || g.name, g])).values()];
  unique.sort((a, b) => codeOf(a) - codeOf(b) || (a.name < b.name ? -1 : 1));
  const { id, family, note, xHeight, missing } = style;
  return { id, family, note, xHeight, glyphs: unique, missing, kerns: kernsOf(style, unique) };
}

/** Variants without a character of their own come last. */
const codeOf = (g: Glyph): number => g.char.codePointAt(0) ?? 0x110000;

function accented(style: Style, drawn: ReadonlyMap<string, Glyph>, char: string): Glyph {
  const [base, mark] = [...char.normalize('NFD')] as [string, string];
  const letter = drawn.get(base);
  if (!letter) throw new Error(`${char} has no letter ${base} to stand on.`);
  if (mark === CARON && 'dtlL'.includes(base)) return besideTall(letter, char, style.tallCaron);
  if (mark === OGONEK) return hung(letter, char, style.marks[OGONEK]!, ogonekAt(letter));
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
  return hung(letter, char, mark, at);
}

/** A letter with a mark. A wide mark over a narrow letter widens its room evenly, so that nothing leaves it. */
function hung(letter: Glyph, char: string, mark: MarkDrawing, at: readonly [number, number]): Glyph {
  const strokes = [...letter.strokes, ...moved(mark.strokes, at[0], at[1])];
  const name = `${letter.name}${mark.name}`;
  return roomy({ ...letter, name, char, strokes });
}

/** Room that every glyph keeps at both sides, so that no mark leaves it. */
const LEAST_BEARING = 40;

function roomy(glyph: Glyph): Glyph {
  const [left, right] = reach(glyph.strokes);
  const more = Math.ceil(Math.max(0, LEAST_BEARING - left, right + LEAST_BEARING - glyph.advance));
  if (more === 0) return glyph;
  return { ...glyph, strokes: moved(glyph.strokes, more, 0), advance: glyph.advance + 2 * more };
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
  const strokes = [...letter.strokes, ...moved(tick, right + 150, CAP)];
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
function barred(drawn: ReadonlyMap<string, Glyph>): Glyph[] {
  const over = (char: string, name: string, base: string, bars: (g: Glyph) => readonly Stroke[]): Glyph => {
    const letter = drawn.get(base)!;
    return roomy({ ...letter, char, name, strokes: [...letter.strokes, ...bars(letter)] });
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
      strokes: [...first.strokes, ...moved(second.strokes, at, 0)],
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
  return lettered(`${base.name}${kind}`, char, SMALL_BEARING, SMALL_BEARING, strokes);
}

/** Numerator, slash and denominator, drawn together under the slash's slope. */
function fraction(drawn: ReadonlyMap<string, Glyph>, char: string, parts: string): Glyph {
  const [over, under] = [...parts].map((c) => drawn.get(c)!) as [Glyph, Glyph];
  const top = raised(over, '', 'superior', SUPERIOR);
  const bottom = raised(under, '', 'inferior', INFERIOR);
  const slash = drawn.get('⁄')!;
  const at = top.advance - 130;
  const then = at + slash.advance - 130;
  const strokes = [...top.strokes, ...moved(slash.strokes, at, 0), ...moved(bottom.strokes, then, 0)];
  return lettered(`${over.name}over${under.name}`, char, 100, 100, strokes);
}

/** ª and º: a small letter raised, with a bar below it. */
function ordinals(drawn: ReadonlyMap<string, Glyph>): Glyph[] {
  const one = (char: string, name: string, base: string): Glyph => {
    const up = raised(drawn.get(base)!, char, '', { scale: 0.62, lift: 560 });
    const [from, to] = reach(up.strokes);
    return lettered(name, char, 100, 100, [...up.strokes, bar(from - 10, 420, to + 10, 420)]);
  };
  return [one('ª', 'ordfeminine', 'a'), one('º', 'ordmasculine', 'o')];
}

/** Marks that stand alone, as high as over a small letter. */
function aloneMarks({ marks, xHeight }: Style): Glyph[] {
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
    return lettered(`${name}alone`, char, 100, 100, moved(strokes, 0, lift));
  });
}

/** Figures of their own widths, and old-style figures: high ones low, and low ones hanging. */
function variants({ smallFigures, xHeight }: Style, drawn: ReadonlyMap<string, Glyph>): Glyph[] {
  return [...FIGURES].flatMap((c, k) => {
    const figure = drawn.get(c)!;
    const own = (tag: string, strokes: readonly Stroke[]): Glyph =>
      lettered(`${figure.name}.${tag}`, '', 110, 110, strokes);
    const small = smallFigures[k];
    const old =
      small ??
      ('34579'.includes(c) ? moved(figure.strokes, 0, Math.max(TAIL, xHeight - CAP)) : figure.strokes);
    return [own('onum', old), own('pnum', figure.strokes)];
  });
}

/** Kerning of the letters drawn, and of those composed of them alike; marks that would touch are left apart. */
function kernsOf({ kernGroups }: Style, glyphs: readonly Glyph[]): Kern[] {
  const alike = new Map<string, string[]>();
  for (const { char } of glyphs) {
    const base = char && ([...char.normalize('NFD')][0] as string);
    if (base && base !== char && /\p{L}/u.test(char)) alike.set(base, [...(alike.get(base) ?? []), char]);
  }
  const byChar = new Map(glyphs.map((g) => [g.char, g]));
  const all = (c: string): string[] => [c, ...(alike.get(c) ?? [])].filter((one) => byChar.has(one));
  const out = new Map<string, Kern>();
  for (const [lefts, rights, tighter] of kernGroups) {
    for (const l of lefts) {
      for (const r of rights) {
        for (const left of all(l)) {
          for (const right of all(r)) {
            const k =
              left === l && right === r ? tighter : roomFor(byChar.get(left)!, byChar.get(right)!, tighter);
            if (k > 0) out.set(left + right, { left, right, tighter: k });
          }
        }
      }
    }
  }
  return [...out.values()];
}

/** Strokes of neighbours keep so far apart, centre to centre: half the character gap clear between cuts. */
const NEAREST = CHARACTER_GAP / 2 + LINE_WIDTH + 2;

/** As much of a kern as brings no mark too near its neighbour. */
function roomFor(left: Glyph, right: Glyph, tighter: number): number {
  for (const share of [1, 0.75, 0.5, 0.25]) {
    const k = Math.round(tighter * share);
    const shift = left.advance - k;
    const near = dots(left).some(([x, y]) =>
      dots(right).some(([u, v]) => Math.hypot(x - u - shift, y - v) < NEAREST),
    );
    if (!near) return k;
  }
  return 0;
}

const dotted = new WeakMap<Glyph, (readonly [number, number])[]>();

/** Points along a glyph's strokes, near enough together to measure by. */
function dots(glyph: Glyph): (readonly [number, number])[] {
  let known = dotted.get(glyph);
  if (!known) {
    known = glyph.strokes.flatMap((s) => along(s, 16));
    dotted.set(glyph, known);
  }
  return known;
}
