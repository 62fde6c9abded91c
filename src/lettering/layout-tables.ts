import type { Table } from './sfnt.js';

export interface Lookup {
  readonly type: number;
  readonly flag: number;
  readonly subtables: readonly Table[];
}

/**
 * The lookups of one feature for Latin in its default language, in the order they apply; undefined when the table
 * has no such feature. Extension subtables (GPOS type 9, GSUB type 7) are followed to what they stand for.
 *
 * OpenType specification 1.9, "OpenType Layout Common Table Formats": features are taken from the script's default
 * language system, from script DFLT where `latn` is missing; lookups apply in the order of the lookup list whatever
 * the order a feature names them in.
 */
export function lookupsOf(layout: Table, feature: string, extension: 7 | 9): Lookup[] | undefined {
  const language = languageOf(layout);
  if (!language) return undefined;
  const features = layout.from(layout.u16(6));
  const wanted = new Set<number>();
  let named = false;
  const count = language.u16(4);
  for (let i = 0; i < count; i++) {
    const at = 2 + 6 * language.u16(6 + 2 * i);
    if (features.tag(at) !== feature) continue;
    named = true;
    const table = features.from(features.u16(at + 4));
    for (let k = 0; k < table.u16(2); k++) wanted.add(table.u16(4 + 2 * k));
  }
  if (!named) return undefined;
  const list = layout.from(layout.u16(8));
  return [...wanted]
    .sort((a, b) => a - b)
    .map((index) => lookup(list.from(list.u16(2 + 2 * index)), extension));
}

function languageOf(layout: Table): Table | undefined {
  const scripts = layout.from(layout.u16(4));
  const offsets = new Map<string, number>();
  for (let i = 0; i < scripts.u16(0); i++) offsets.set(scripts.tag(2 + 6 * i), scripts.u16(6 + 6 * i));
  const offset = offsets.get('latn') ?? offsets.get('DFLT');
  if (!offset) return undefined;
  const script = scripts.from(offset);
  const language = script.u16(0);
  return language === 0 ? undefined : script.from(language);
}

function lookup(table: Table, extension: number): Lookup {
  let type = table.u16(0);
  const subtables: Table[] = [];
  const count = table.u16(4);
  const extended = type === extension;
  for (let i = 0; i < count; i++) {
    let subtable = table.from(table.u16(6 + 2 * i));
    if (extended) {
      // the specification has every extension of one lookup stand for the same type
      type = subtable.u16(2);
      subtable = subtable.from(subtable.u32(4));
    }
    subtables.push(subtable);
  }
  return { type, flag: table.u16(2), subtables };
}

/** A glyph's place in a coverage table, or -1. Reads past the end were ruled out by `checkCoverage`. */
export function coverageIndex(coverage: Table, glyph: number): number {
  const ranges = coverage.u16(0) === 2;
  let low = 0;
  let high = coverage.u16(2) - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const at = 4 + (ranges ? 6 : 2) * middle;
    const first = coverage.u16(at);
    const last = ranges ? coverage.u16(at + 2) : first;
    if (last < glyph) low = middle + 1;
    else if (first > glyph) high = middle - 1;
    else return ranges ? coverage.u16(at + 4) + glyph - first : middle;
  }
  return -1;
}

export function checkCoverage(coverage: Table): void {
  const format = coverage.u16(0);
  if (format !== 1 && format !== 2) throw new RangeError('unknown coverage format');
  if (4 + (format === 2 ? 6 : 2) * coverage.u16(2) > coverage.length)
    throw new RangeError('coverage cut short');
}

/** A glyph's class, 0 where none is given. Reads past the end were ruled out by `checkClasses`. */
export function classOf(classes: Table, glyph: number): number {
  if (classes.u16(0) === 1) {
    const index = glyph - classes.u16(2);
    return index >= 0 && index < classes.u16(4) ? classes.u16(6 + 2 * index) : 0;
  }
  let low = 0;
  let high = classes.u16(2) - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const at = 4 + 6 * middle;
    if (classes.u16(at + 2) < glyph) low = middle + 1;
    else if (classes.u16(at) > glyph) high = middle - 1;
    else return classes.u16(at + 4);
  }
  return 0;
}

export function checkClasses(classes: Table): void {
  const format = classes.u16(0);
  if (format !== 1 && format !== 2) throw new RangeError('unknown class format');
  const end = format === 1 ? 6 + 2 * classes.u16(4) : 4 + 6 * classes.u16(2);
  if (end > classes.length) throw new RangeError('classes cut short');
}
