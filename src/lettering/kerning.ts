import { checkClasses, checkCoverage, classOf, coverageIndex, lookupsOf } from './layout-tables.js';
import type { Table, Tables } from './sfnt.js';

/** What to add to the left glyph's advance, in font units, by the indices of two neighbours. */
export type Kerning = (left: number, right: number) => number;

/** Undefined where the pair is not the subtable's to answer, so that the next is asked. */
type Pairs = (left: number, right: number) => number | undefined;

/**
 * Pair kerning: GPOS feature `kern` for Latin in its default language, or the `kern` table where GPOS has none.
 *
 * OpenType specification 1.9, "GPOS" (lookup type 2, pair adjustment, formats 1 and 2; type 9, extension) and
 * "Common Table Formats": within a lookup the first subtable that holds the pair answers, even when it answers
 * nought; the answers of several lookups add up. Only the left glyph's advance is taken: what a pair moves
 * sideways or does to the right glyph's advance is no space between two neighbours.
 */
export function pairKerning(tables: Tables): Kerning {
  const gpos = tables.get('GPOS');
  const lookups = gpos && lookupsOf(gpos, 'kern', 9);
  if (!lookups) return oldKerning(tables.get('kern'));
  const skips = skipper(tables.get('GDEF'));
  // subtables may be named more than once; each is checked once
  const known = new Map<number, Pairs>();
  const steps = lookups
    .filter((lookup) => lookup.type === 2)
    .map(({ flag, subtables }) => ({
      flag,
      subtables: subtables.map((subtable) => {
        const at = subtable.bytes.byteOffset;
        const pairs = known.get(at) ?? pairsOf(subtable);
        known.set(at, pairs);
        return pairs;
      }),
    }));
  return (left, right) => {
    let sum = 0;
    for (const { flag, subtables } of steps) {
      if (skips(flag, left) || skips(flag, right)) continue;
      for (const pairs of subtables) {
        const value = pairs(left, right);
        if (value === undefined) continue;
        sum += value;
        break;
      }
    }
    return sum;
  };
}

/** Whether a lookup passes a glyph over: its flag may leave out bases (2), ligatures (4) or marks (8). */
function skipper(gdef: Table | undefined): (flag: number, glyph: number) => boolean {
  const offset = gdef?.u16(4) ?? 0;
  if (!gdef || offset === 0) return () => false;
  const classes = gdef.from(offset);
  checkClasses(classes);
  return (flag, glyph) => {
    if ((flag & 0xe) === 0) return false;
    const kind = classOf(classes, glyph);
    return kind >= 1 && kind <= 3 && (flag & (1 << kind)) !== 0;
  };
}

const X_ADVANCE = 4;

function bits(n: number): number {
  let count = 0;
  for (let rest = n; rest; rest &= rest - 1) count += 1;
  return count;
}

function pairsOf(subtable: Table): Pairs {
  const format = subtable.u16(0);
  const coverage = subtable.from(subtable.u16(2));
  checkCoverage(coverage);
  const first = subtable.u16(4);
  const sizes = 2 * bits(first) + 2 * bits(subtable.u16(6));
  const advanceAt = 2 * bits(first & (X_ADVANCE - 1));
  const advance = (at: number): number => (first & X_ADVANCE ? subtable.i16(at + advanceAt) : 0);
  if (format === 1) return listed(subtable, coverage, sizes, advance);
  if (format === 2) return classed(subtable, coverage, sizes, advance);
  throw new RangeError('unknown pair adjustment format');
}

/** Format 1: each left glyph has a list of right glyphs. */
function listed(subtable: Table, coverage: Table, sizes: number, advance: (at: number) => number): Pairs {
  const sets = subtable.u16(8);
  const step = 2 + sizes;
  for (let i = 0; i < sets; i++) {
    const at = subtable.u16(10 + 2 * i);
    if (at + 2 + step * subtable.u16(at) > subtable.length) throw new RangeError('pairs cut short');
  }
  return (left, right) => {
    const index = coverageIndex(coverage, left);
    if (index < 0 || index >= sets) return undefined;
    const set = subtable.u16(10 + 2 * index);
    let low = 0;
    let high = subtable.u16(set) - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const at = set + 2 + step * middle;
      const other = subtable.u16(at);
      if (other < right) low = middle + 1;
      else if (other > right) high = middle - 1;
      else return advance(at + 2);
    }
    return undefined;
  };
}

/** Format 2: left glyphs and right glyphs fall into classes; a right glyph of no class is of class 0. */
function classed(subtable: Table, coverage: Table, sizes: number, advance: (at: number) => number): Pairs {
  const lefts = subtable.from(subtable.u16(8));
  const rights = subtable.from(subtable.u16(10));
  checkClasses(lefts);
  checkClasses(rights);
  const rows = subtable.u16(12);
  const columns = subtable.u16(14);
  if (16 + rows * columns * sizes > subtable.length) throw new RangeError('classes of pairs cut short');
  return (left, right) => {
    if (coverageIndex(coverage, left) < 0) return undefined;
    const row = classOf(lefts, left);
    const column = classOf(rights, right);
    if (row >= rows || column >= columns) return undefined;
    return advance(16 + (row * columns + column) * sizes);
  };
}

/**
 * OpenType specification 1.9, "kern", version 0, format 0: horizontal pairs, left out where a subtable holds least
 * values (coverage bit 1) or values across the line (bit 2); bit 3 puts a value in place of the sum so far.
 */
function oldKerning(kern: Table | undefined): Kerning {
  if (kern?.u16(0) !== 0) return () => 0;
  const subtables: { pairs: Pairs; replaces: boolean }[] = [];
  let at = 4;
  for (let i = kern.u16(2); i > 0; i--) {
    const coverage = kern.u16(at + 4);
    if (coverage >> 8 === 0 && (coverage & 7) === 1) {
      subtables.push({ pairs: sorted(kern.from(at + 6)), replaces: (coverage & 8) !== 0 });
    }
    at += Math.max(6, kern.u16(at + 2));
  }
  return (left, right) => {
    let sum = 0;
    for (const { pairs, replaces } of subtables) {
      const value = pairs(left, right);
      if (value !== undefined) sum = replaces ? value : sum + value;
    }
    return sum;
  };
}

function sorted(list: Table): Pairs {
  const count = list.u16(0);
  if (8 + 6 * count > list.length) throw new RangeError('pairs cut short');
  return (left, right) => {
    const wanted = left * 0x10000 + right;
    let low = 0;
    let high = count - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const at = 8 + 6 * middle;
      const key = list.u32(at);
      if (key < wanted) low = middle + 1;
      else if (key > wanted) high = middle - 1;
      else return list.i16(at + 4);
    }
    return undefined;
  };
}
