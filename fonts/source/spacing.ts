import type { Glyph } from './glyph.js';
import type { Kern } from './kerning.js';
import { CHARACTER_GAP, LINE_WIDTH } from './metrics.js';
import { along } from './pen.js';
import type { Style } from './style.js';

/** Letters with a bar through them, which space as the letter below the bar. */
const BARRED: Readonly<Record<string, string>> = {
  Ð: 'D',
  Đ: 'D',
  đ: 'd',
  Ł: 'L',
  ł: 'l',
  Ø: 'O',
  ø: 'o',
  Ŧ: 'T',
  ŧ: 't',
};

/** Kerning of the letters drawn, and of those composed of them alike; marks that would touch are left apart. */
export function kernsOf({ kernGroups }: Style, glyphs: readonly Glyph[]): Kern[] {
  const alike = new Map<string, string[]>();
  for (const { char } of glyphs) {
    const base = char && (BARRED[char] ?? [...char.normalize('NFD')][0]!);
    if (base && base !== char && /\p{L}/u.test(char)) alike.set(base, [...(alike.get(base) ?? []), char]);
  }
  const byChar = new Map(glyphs.map((g) => [g.char, g]));
  const all = (c: string): string[] => [c, ...(alike.get(c) ?? [])].filter((one) => byChar.has(one));
  const out = new Map<string, Kern>();
  for (const [lefts, rights, tighter] of kernGroups) {
    for (const left of [...lefts].flatMap(all)) {
      for (const right of [...rights].flatMap(all)) {
        const asListed = lefts.includes(left) && rights.includes(right);
        const k = asListed ? tighter : roomFor(byChar.get(left)!, byChar.get(right)!, tighter);
        if (k > 0) out.set(left + right, { left, right, tighter: k });
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
    if (!isNearer(left, right, k, NEAREST)) return k;
  }
  return 0;
}

/** How much nearer a neighbour may come until strokes are `clear` apart, centre to centre; in tens of units. */
export function closer(left: Glyph, right: Glyph, clear: number): number {
  let k = 0;
  while (!isNearer(left, right, k + 10, clear)) k += 10;
  return k;
}

/** Whether strokes of two glyphs come nearer than this once so many units are taken out between them. */
function isNearer(left: Glyph, right: Glyph, tighter: number, least: number): boolean {
  const shift = left.advance - tighter;
  const theirs = dots(right);
  const first = shift - least + Math.min(...theirs.map(([u]) => u));
  for (const [x, y] of dots(left)) {
    if (x < first) continue;
    for (const [u, v] of theirs) if (Math.hypot(x - u - shift, y - v) < least) return true;
  }
  return false;
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
