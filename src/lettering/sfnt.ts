import { inflateSync } from 'node:zlib';

/** No font for lettering comes near this; it bounds what a compressed file can unfold to. */
const LARGEST_BYTES = 64_000_000;

/** The tables drawn from. Others are never unfolded. */
const READ = [
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

/** What is wrong with a font file and what to do; caught where the file was handed in. */
export class FontFault extends Error {
  readonly cure: string;

  constructor(what: string, cure: string) {
    super(what);
    this.name = 'FontFault';
    this.cure = cure;
  }
}

export const COPY_AGAIN = 'Copy it again from where it came.';
const USE_TTF = 'Save it as TTF, OTF or WOFF.';

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
  readonly sum: number;
}

/**
 * The tables of a TTF, OTF or WOFF file.
 *
 * OpenType specification 1.9, "Organization of an OpenType Font"; WOFF File Format 1.0 (W3C), sections 3 to 5.
 * Throws FontFault, or RangeError where the bytes end too soon.
 */
export function readTables(bytes: Uint8Array): Tables {
  if (bytes.length === 0) throw new FontFault('The font file is empty.', COPY_AGAIN);
  if (bytes.length > LARGEST_BYTES) {
    throw new FontFault('The font file is larger than 64 MB.', 'Use a font with fewer glyphs.');
  }
  const file = new Table(bytes);
  const entries = directory(file);
  const tables = new Map<string, Table>();
  let unfolded = 0;
  for (const entry of entries) {
    if (!READ.includes(entry.tag) || tables.has(entry.tag)) continue;
    unfolded += entry.length;
    if (unfolded > LARGEST_BYTES) {
      throw new FontFault('The font unfolds to more than 64 MB.', 'Use a font with fewer glyphs.');
    }
    const table = new Table(unfold(entry));
    // `head` holds the sum of the whole file, so its own sum is made before that is written
    if (entry.tag !== 'head' && sumOf(table) !== entry.sum) {
      throw new FontFault(
        `The ${entry.tag.trim()} table does not match its checksum: the file has changed since it was made.`,
        `${COPY_AGAIN} If it is refused again, save it anew from a font editor.`,
      );
    }
    tables.set(entry.tag, table);
  }
  return tables;
}

function directory(file: Table): Entry[] {
  const kind = file.tag(0);
  if (kind === 'wOFF') {
    flavour(file.tag(4));
    return Array.from({ length: file.u16(12) }, (_, i) => {
      const at = 44 + 20 * i;
      const stored = cut(file, file.u32(at + 4), file.u32(at + 8));
      return { tag: file.tag(at), stored, length: file.u32(at + 12), sum: file.u32(at + 16) };
    });
  }
  flavour(kind);
  return Array.from({ length: file.u16(4) }, (_, i) => {
    const at = 12 + 16 * i;
    const stored = cut(file, file.u32(at + 8), file.u32(at + 12));
    return { tag: file.tag(at), stored, length: stored.length, sum: file.u32(at + 4) };
  });
}

function flavour(tag: string): void {
  if (tag === '\u0000\u0001\u0000\u0000' || tag === 'true' || tag === 'OTTO') return;
  if (tag === 'wOF2') throw new FontFault('This is a WOFF2 font, which is not read.', USE_TTF);
  if (tag === 'ttcf') {
    throw new FontFault(
      'This is a collection of several fonts in one file.',
      'Save the one you mean as a TTF or OTF of its own.',
    );
  }
  throw new FontFault('This is not a font file.', 'Give a TTF, OTF or WOFF file.');
}

function cut(file: Table, offset: number, length: number): Uint8Array {
  if (offset + length > file.length) throw new RangeError('table past the end of the file');
  return file.bytes.subarray(offset, offset + length);
}

function unfold(entry: Entry): Uint8Array {
  const { stored, length } = entry;
  if (stored.length === length) return stored;
  if (stored.length > length) throw new RangeError('table stored longer than it is');
  const whole = inflateSync(stored, { maxOutputLength: length });
  if (whole.length !== length) throw new RangeError('table unfolds to the wrong length');
  return whole;
}

/** The sum of a table's 32-bit words, its last word filled with zeros. */
function sumOf(table: Table): number {
  const whole = table.length & ~3;
  let sum = 0;
  for (let at = 0; at < whole; at += 4) sum = (sum + table.u32(at)) >>> 0;
  let last = 0;
  for (let i = 0; i < 4; i++) last = (last << 8) | (table.bytes[whole + i] ?? 0);
  return (sum + last) >>> 0;
}

/** Lays tables out as one TTF or OTF file, for a reader that wants a file. */
export function writeTables(flavourTag: number, tables: ReadonlyMap<string, Uint8Array>): ArrayBuffer {
  const tags = [...tables.keys()].sort();
  const padded = (n: number): number => (n + 3) & ~3;
  let at = 12 + 16 * tags.length;
  const file = new Uint8Array(at + [...tables.values()].reduce((n, t) => n + padded(t.length), 0));
  const view = new DataView(file.buffer);
  view.setUint32(0, flavourTag);
  view.setUint16(4, tags.length);
  tags.forEach((tag, i) => {
    const bytes = tables.get(tag) as Uint8Array;
    for (let k = 0; k < 4; k++) view.setUint8(12 + 16 * i + k, tag.charCodeAt(k));
    view.setUint32(12 + 16 * i + 4, sumOf(new Table(bytes)));
    view.setUint32(12 + 16 * i + 8, at);
    view.setUint32(12 + 16 * i + 12, bytes.length);
    file.set(bytes, at);
    at += padded(bytes.length);
  });
  return file.buffer;
}
