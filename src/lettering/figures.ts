import { checkCoverage, coverageIndex, lookupsOf } from './layout-tables.js';
import type { Table } from './sfnt.js';

/**
 * The glyph a feature puts in place of another, one for one: `tnum` and `pnum` name the figures of one width and
 * of their own widths. OpenType specification 1.9, "GSUB", lookup type 1.
 */
export type Exchange = (glyph: number) => number;

export function exchangeOf(gsub: Table | undefined, feature: string): Exchange | undefined {
  const lookups = gsub && lookupsOf(gsub, feature, 7)?.filter((lookup) => lookup.type === 1);
  if (!lookups?.length) return undefined;
  const steps = lookups.map((lookup) => lookup.subtables.map(single));
  return (glyph) => {
    let current = glyph;
    for (const subtables of steps) {
      for (const subtable of subtables) {
        const put = subtable(current);
        if (put === undefined) continue;
        current = put;
        break;
      }
    }
    return current;
  };
}

function single(subtable: Table): (glyph: number) => number | undefined {
  const format = subtable.u16(0);
  if (format !== 1 && format !== 2) throw new RangeError('unknown substitution format');
  const coverage = subtable.from(subtable.u16(2));
  checkCoverage(coverage);
  const last = subtable.u16(4);
  if (format === 1) {
    return (glyph) => (coverageIndex(coverage, glyph) < 0 ? undefined : (glyph + last) & 0xffff);
  }
  if (6 + 2 * last > subtable.length) throw new RangeError('substitution cut short');
  return (glyph) => {
    const index = coverageIndex(coverage, glyph);
    return index < 0 || index >= last ? undefined : subtable.u16(6 + 2 * index);
  };
}
