import type { Table } from './sfnt.js';

/** What to add to the left glyph's advance, in font units, by the indices of two neighbours. */
export type PairKerning = (left: number, right: number) => number;

/**
 * Pairs of the `kern` table, which fonts had before GPOS. Read here because neither library does so in full: HarfBuzz
 * as packaged for JavaScript leaves the table out, and opentype.js takes the first subtable for kerning whatever it
 * holds.
 *
 * OpenType specification 1.9, "kern", version 0, format 0: horizontal pairs, left out where a subtable holds minimum
 * values (coverage bit 1) or values across the line (bit 2); bit 3 puts a value in place of the sum so far.
 *
 * @throws RangeError where the table ends too soon
 */
export function readKernTable(kern: Table | undefined): PairKerning {
  if (kern?.u16(0) !== 0) return () => 0;
  const subtables: { find: ReturnType<typeof readPairs>; replaces: boolean }[] = [];
  let at = 4;
  for (let i = kern.u16(2); i > 0; i--) {
    const coverage = kern.u16(at + 4);
    if (coverage >> 8 === 0 && (coverage & 7) === 1)
      subtables.push({ find: readPairs(kern.from(at + 6)), replaces: (coverage & 8) !== 0 });
    at += Math.max(6, kern.u16(at + 2));
  }
  return (left, right) => {
    let sum = 0;
    for (const { find, replaces } of subtables) {
      const value = find(left, right);
      if (value !== undefined) sum = replaces ? value : sum + value;
    }
    return sum;
  };
}

/** Pairs in order of left and right glyph, searched by halves. */
function readPairs(list: Table): (left: number, right: number) => number | undefined {
  const count = list.u16(0);
  if (8 + 6 * count > list.length) throw new RangeError('pairs cut short');
  return (left, right) => {
    const pair = left * 0x10000 + right;
    let low = 0;
    let high = count - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const at = 8 + 6 * middle;
      const key = list.u32(at);
      if (key < pair) low = middle + 1;
      else if (key > pair) high = middle - 1;
      else return list.i16(at + 4);
    }
    return undefined;
  };
}
