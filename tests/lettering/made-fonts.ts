import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { inflateSync } from 'node:zlib';
import { writeTables } from '../../src/lettering/sfnt.js';

const require = createRequire(import.meta.url);

export const FONT_FILES = {
  garamond: '@fontsource/eb-garamond/files/eb-garamond-latin-500-normal.woff',
  cormorant: '@fontsource/cormorant-garamond/files/cormorant-garamond-latin-600-normal.woff',
  jost: '@fontsource/jost/files/jost-latin-400-normal.woff',
} as const;

export const fontFile = (name: keyof typeof FONT_FILES): Uint8Array =>
  readFileSync(require.resolve(FONT_FILES[name]));

/** The tables of a WOFF file, unfolded without the reader under test. WOFF File Format 1.0, sections 3 to 5. */
export function unfolded(woff: Uint8Array): Map<string, Uint8Array> {
  const view = Buffer.from(woff.buffer, woff.byteOffset, woff.byteLength);
  const tables = new Map<string, Uint8Array>();
  for (let at = 44; at < 44 + 20 * view.readUInt16BE(12); at += 20) {
    const offset = view.readUInt32BE(at + 4);
    const stored = view.subarray(offset, offset + view.readUInt32BE(at + 8));
    const whole = stored.length === view.readUInt32BE(at + 12) ? stored : inflateSync(stored);
    tables.set(view.toString('latin1', at, at + 4), new Uint8Array(whole));
  }
  return tables;
}

export const ttf = (tables: ReadonlyMap<string, Uint8Array>): Uint8Array =>
  new Uint8Array(writeTables(0x00010000, tables));

/**
 * A table of 16-bit numbers, tags, and offsets: a part within is laid after the numbers, and its offset from the
 * table's start written in its place, in 32 bits where it is given as `far`.
 */
export function table(...items: (number | string | Uint8Array | { far: Uint8Array })[]): Uint8Array {
  const wide = (item: (typeof items)[number]): boolean =>
    typeof item === 'string' || (typeof item === 'object' && 'far' in item);
  let end = items.reduce<number>((n, item) => n + (wide(item) ? 4 : 2), 0);
  const head = Buffer.alloc(end);
  const parts: Uint8Array[] = [head];
  let at = 0;
  for (const item of items) {
    if (typeof item === 'number') at = head.writeUInt16BE(item & 0xffff, at);
    else if (typeof item === 'string') at += head.write(item, at, 'latin1');
    else {
      const part = 'far' in item ? item.far : item;
      at = 'far' in item ? head.writeUInt32BE(end, at) : head.writeUInt16BE(end, at);
      parts.push(part);
      end += part.length;
    }
  }
  return new Uint8Array(Buffer.concat(parts));
}

export const coverage = (...glyphs: number[]): Uint8Array => table(1, glyphs.length, ...glyphs);

/** Pair adjustment, format 1: one left glyph, one right glyph, one advance. */
export const onePair = (left: number, right: number, advance: number): Uint8Array =>
  table(1, coverage(left), 4, 0, 1, table(1, right, advance));

/** Pair adjustment, format 2: one left glyph; right glyphs of class 0, and one glyph of class 1. */
export const classPair = (left: number, right: number, other: number, advance: number): Uint8Array =>
  table(2, coverage(left), 4, 0, table(1, left, 1, 0), table(1, right, 1, 1), 1, 2, other, advance);

export const lookup = (type: number, ...subtables: Uint8Array[]): Uint8Array =>
  table(type, 0, subtables.length, ...subtables);

/** A GPOS table whose scripts each have a `kern` feature of the lookups given by index. */
export function gpos(
  scripts: Readonly<Record<string, readonly number[]>>,
  lookups: Uint8Array[],
): Uint8Array {
  const names = Object.keys(scripts).sort();
  const script = (i: number): Uint8Array => table(table(0, 0xffff, 1, i), 0);
  const scriptList = table(names.length, ...names.flatMap((name, i) => [name, script(i)]));
  const features = names.flatMap((name) => {
    const indices = scripts[name] ?? [];
    return ['kern', table(0, indices.length, ...indices)];
  });
  return table(1, 0, scriptList, table(names.length, ...features), table(lookups.length, ...lookups));
}
