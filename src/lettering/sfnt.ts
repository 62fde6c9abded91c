import { inflateSync } from 'node:zlib';
import { refuse } from './messages.js';

/** No font for lettering comes near this; it bounds what a compressed file can unpack to. */
const MOST_MEGABYTES = 64;
const MOST_BYTES = MOST_MEGABYTES * 1_000_000;

/** The tables that letters are shaped and drawn from. */
export const LETTER_TABLES: readonly string[] = [
  'cmap',
  'head',
  'hhea',
  'hmtx',
  'maxp',
  'OS/2',
  'glyf',
  'loca',
  'CFF ',
  'GPOS',
  'GSUB',
  'GDEF',
  'kern',
];

/** One table of a font. Every read is checked by DataView, which throws past the end. */
export class Table {
  readonly bytes: Uint8Array;
  readonly #view: DataView;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  get length(): number {
    return this.bytes.length;
  }
  u16(at: number): number {
    return this.#view.getUint16(at);
  }
  i16(at: number): number {
    return this.#view.getInt16(at);
  }
  u32(at: number): number {
    return this.#view.getUint32(at);
  }
  tag(at: number): string {
    const n = this.u32(at);
    return String.fromCharCode(n >>> 24, (n >>> 16) & 255, (n >>> 8) & 255, n & 255);
  }
  /** What begins at an offset, to the end of this table. */
  from(at: number): Table {
    if (at > this.length) throw new RangeError('offset past the end of its table');
    return new Table(this.bytes.subarray(at));
  }
}

export type Tables = ReadonlyMap<string, Table>;

interface Entry {
  readonly tag: string;
  readonly stored: Uint8Array;
  readonly length: number;
  readonly checksum: number;
}

/**
 * The tables of a TTF, OTF or WOFF file.
 *
 * OpenType specification 1.9, "Organization of an OpenType Font"; WOFF File Format 1.0 (W3C), sections 3 to 5.
 *
 * @param where what a problem names: `font jost`
 * @param tags the tables to read, all of them where left out; others are never unpacked
 * @throws a Refusal that says what is wrong, or a RangeError where the bytes end too soon
 */
export function readTables(bytes: Uint8Array, where: string, tags?: readonly string[]): Tables {
  if (bytes.length === 0) throw refuse('lettering.font-empty', where, {});
  const tooLarge = () => refuse('lettering.font-too-large', where, { megabytes: MOST_MEGABYTES });
  if (bytes.length > MOST_BYTES) throw tooLarge();
  const tables = new Map<string, Table>();
  let unpacked = 0;
  for (const entry of directory(new Table(bytes), where)) {
    if ((tags && !tags.includes(entry.tag)) || tables.has(entry.tag)) continue;
    unpacked += entry.length;
    if (unpacked > MOST_BYTES) throw tooLarge();
    const table = new Table(unpack(entry));
    // `head` holds the checksum of the whole file, so its own checksum is made before that is written
    if (entry.tag !== 'head' && checksumOf(table) !== entry.checksum)
      throw refuse('lettering.font-checksum', where, { table: entry.tag.trim() });
    tables.set(entry.tag, table);
  }
  return tables;
}

/** A table the font cannot do without. Throws a Refusal where it is missing. */
export function requireTable(tables: Tables, tag: string, where: string): Table {
  const table = tables.get(tag);
  if (!table) throw refuse('lettering.font-without-table', where, { table: tag.trim() });
  return table;
}

function directory(file: Table, where: string): Entry[] {
  const kind = file.tag(0);
  if (kind === 'wOFF') {
    checkFlavour(file.tag(4), where);
    return Array.from({ length: file.u16(12) }, (_, i) => {
      const at = 44 + 20 * i;
      const stored = sliceTable(file, file.u32(at + 4), file.u32(at + 8));
      return { tag: file.tag(at), stored, length: file.u32(at + 12), checksum: file.u32(at + 16) };
    });
  }
  checkFlavour(kind, where);
  return Array.from({ length: file.u16(4) }, (_, i) => {
    const at = 12 + 16 * i;
    const stored = sliceTable(file, file.u32(at + 8), file.u32(at + 12));
    return { tag: file.tag(at), stored, length: stored.length, checksum: file.u32(at + 4) };
  });
}

function checkFlavour(tag: string, where: string): void {
  if (tag === '\u0000\u0001\u0000\u0000' || tag === 'true' || tag === 'OTTO') return;
  if (tag === 'wOF2') throw refuse('lettering.font-woff2', where, {});
  if (tag === 'ttcf') throw refuse('lettering.font-collection', where, {});
  throw refuse('lettering.font-not-a-font', where, {});
}

function sliceTable(file: Table, offset: number, length: number): Uint8Array {
  if (offset + length > file.length) throw new RangeError('table past the end of the file');
  return file.bytes.subarray(offset, offset + length);
}

function unpack(entry: Entry): Uint8Array {
  const { stored, length } = entry;
  if (stored.length === length) return stored;
  if (stored.length > length) throw new RangeError('table stored longer than it is');
  const whole = inflateSync(stored, { maxOutputLength: length });
  if (whole.length !== length) throw new RangeError('table unpacks to the wrong length');
  return whole;
}

/** The sum of a table's 32-bit words, its last word filled with zeros. */
function checksumOf(table: Table): number {
  const whole = table.length & ~3;
  let sum = 0;
  for (let at = 0; at < whole; at += 4) sum = (sum + table.u32(at)) >>> 0;
  let last = 0;
  for (let i = 0; i < 4; i++) last = (last << 8) | (table.bytes[whole + i] ?? 0);
  return (sum + last) >>> 0;
}

/** A font file as a TTF or OTF, out of its WOFF where it is one. Throws as `readTables` does. */
export const unpackFont = (bytes: Uint8Array, where: string): Uint8Array =>
  toFontFile(readTables(bytes, where));

/** Tables as one TTF or OTF file, for a library that reads files. */
export const toFontFile = (tables: Tables): Uint8Array =>
  writeFontFile(new Map([...tables].map(([tag, table]) => [tag, table.bytes])));

export function writeFontFile(tables: ReadonlyMap<string, Uint8Array>): Uint8Array<ArrayBuffer> {
  const tags = [...tables.keys()].sort();
  const padded = (n: number): number => (n + 3) & ~3;
  let at = 12 + 16 * tags.length;
  const file = new Uint8Array(at + [...tables.values()].reduce((n, t) => n + padded(t.length), 0));
  const view = new DataView(file.buffer);
  view.setUint32(0, tables.has('CFF ') ? CFF_FLAVOUR : TRUETYPE_FLAVOUR);
  view.setUint16(4, tags.length);
  tags.forEach((tag, i) => {
    const bytes = tables.get(tag) as Uint8Array;
    for (let k = 0; k < 4; k++) view.setUint8(12 + 16 * i + k, tag.charCodeAt(k));
    view.setUint32(12 + 16 * i + 4, checksumOf(new Table(bytes)));
    view.setUint32(12 + 16 * i + 8, at);
    view.setUint32(12 + 16 * i + 12, bytes.length);
    file.set(bytes, at);
    at += padded(bytes.length);
  });
  return file;
}

const [TRUETYPE_FLAVOUR, CFF_FLAVOUR] = [0x00010000, 0x4f54544f];
