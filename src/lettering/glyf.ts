import type { Table } from './sfnt.js';

/** More points than any letter has. Glyphs made of glyphs can double at every step, so the sum is watched. */
const MOST_POINTS = 20_000;
const DEEPEST = 8;

/**
 * Walks the outlines of a TrueType font before they are drawn: every glyph within its table, its contours in
 * order, its components present, in no circle, and within reason. Throws RangeError.
 *
 * OpenType specification 1.9, "loca" and "glyf".
 */
export function checkGlyf(loca: Table, glyf: Table, long: boolean, glyphs: number): void {
  const offset = (i: number): number => (long ? loca.u32(4 * i) : 2 * loca.u16(2 * i));
  const known = new Map<number, number>();

  const points = (index: number, depth: number): number => {
    const before = known.get(index);
    if (before !== undefined) return before;
    if (depth > DEEPEST || index >= glyphs) throw new RangeError('glyph made of nothing or of itself');
    const start = offset(index);
    const end = offset(index + 1);
    if (start > end || end > glyf.length) throw new RangeError('glyph past the end of its table');
    let total = 0;
    if (start < end) {
      const contours = glyf.i16(start);
      total =
        contours < 0
          ? components(glyf, start).reduce((sum, part) => sum + points(part, depth + 1), 0)
          : contourPoints(glyf, start, contours);
    }
    if (total > MOST_POINTS) throw new RangeError('glyph of too many points');
    known.set(index, total);
    return total;
  };

  for (let i = 0; i < glyphs; i++) points(i, 0);
}

function contourPoints(glyf: Table, start: number, contours: number): number {
  let last = -1;
  for (let i = 0; i < contours; i++) {
    const end = glyf.u16(start + 10 + 2 * i);
    if (end <= last) throw new RangeError('contours out of order');
    last = end;
  }
  return last + 1;
}

/** Flags of a component: wide arguments, one scale, more to come, two scales, four scales. */
const [WIDE, SCALE, MORE, TWO_SCALES, FOUR_SCALES] = [0x1, 0x8, 0x20, 0x40, 0x80];

function components(glyf: Table, start: number): number[] {
  const parts: number[] = [];
  let at = start + 10;
  for (;;) {
    const flags = glyf.u16(at);
    parts.push(glyf.u16(at + 2));
    at += flags & WIDE ? 8 : 6;
    if (flags & SCALE) at += 2;
    else if (flags & TWO_SCALES) at += 4;
    else if (flags & FOUR_SCALES) at += 8;
    if (!(flags & MORE)) return parts;
  }
}
