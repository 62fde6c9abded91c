import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { inflateSync } from 'node:zlib';
import { writeFontFile } from '../../src/lettering/sfnt.js';

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

export const ttf = (tables: ReadonlyMap<string, Uint8Array>): Uint8Array => writeFontFile(tables);

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

/** A character map of format 12: each character and its glyph, in order of characters. */
export function charactersMap(...pairs: (readonly [code: number, glyph: number])[]): Uint8Array {
  const words = [16 + 12 * pairs.length, 0, pairs.length, ...pairs.flatMap(([c, glyph]) => [c, c, glyph])];
  const groups = Buffer.alloc(4 * words.length);
  words.forEach((word, i) => {
    groups.writeUInt32BE(word, 4 * i);
  });
  return table(0, 1, 3, 10, { far: new Uint8Array(Buffer.concat([table(12, 0), groups])) });
}

/** The tables every font has, for `glyphs` glyphs 500 wide in 1000 to the em, capitals 700 high. */
export function frame(glyphs: number, cmap: Uint8Array): Map<string, Uint8Array> {
  const zeros = (n: number): number[] => new Array<number>(n).fill(0);
  return new Map([
    ['head', table(1, 0, 0, 0, 0, 0, 0x5f0f, 0x3cf5, 0, 1000, ...zeros(17))],
    ['hhea', table(1, 0, 800, -200, ...zeros(13), glyphs)],
    ['maxp', table(1, 0, glyphs, ...zeros(13))],
    ['hmtx', table(...Array.from({ length: glyphs }, () => [500, 0]).flat())],
    ['OS/2', table(2, ...zeros(43), 700, ...zeros(3))],
    ['cmap', cmap],
  ]);
}

/** Where each of several parts laid end to end begins, and where the last ends. */
function ends(parts: readonly { readonly length: number }[]): number[] {
  let end = 0;
  const all = [0];
  for (const part of parts) {
    end += part.length;
    all.push(end);
  }
  return all;
}

/** A TrueType font of glyphs given as their bytes, with 16-bit offsets. */
export function glyfFont(glyphs: readonly Uint8Array[], cmap: Uint8Array): Uint8Array {
  const offsets = ends(glyphs).map((end) => end / 2);
  const tables = frame(glyphs.length, cmap);
  return ttf(
    new Map([...tables, ['glyf', new Uint8Array(Buffer.concat(glyphs))], ['loca', table(...offsets)]]),
  );
}

/** A glyph made of others, each at the origin. */
export const composite = (...parts: number[]): Uint8Array =>
  table(-1, 0, 0, 0, 0, ...parts.flatMap((part, i) => [i + 1 < parts.length ? 0x23 : 0x03, part, 0, 0]));

/** A CFF font of Type 2 charstrings and shared pieces. Adobe Technical Notes 5176 and 5177. */
export function cffFont(charstrings: number[][], pieces: number[][], cmap: Uint8Array): Uint8Array {
  const index = (items: number[][]): number[] => {
    if (items.length === 0) return [0, 0];
    const wide = ends(items).flatMap((n) => [(n + 1) >> 16, ((n + 1) >> 8) & 255, (n + 1) & 255]);
    return [items.length >> 8, items.length & 255, 3, ...wide, ...items.flat()];
  };
  const offset = (n: number): number[] => [29, 0, n >> 16, (n >> 8) & 255, n & 255];
  const top = (at: number): number[] => [...offset(at), 17, ...offset(0), ...offset(at), 18];
  const before = (at: number): number[] => [
    ...[1, 0, 4, 1],
    ...index([[0x6d]]),
    ...index([top(at)]),
    ...index([]),
    ...index(pieces),
  ];
  const bytes = [...before(before(0).length), ...index(charstrings)];
  const tables = frame(charstrings.length, cmap);
  return writeFontFile(new Map([...tables, ['CFF ', Uint8Array.from(bytes)]]));
}
