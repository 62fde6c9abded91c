import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { flatten } from '../../src/geometry/flatten.js';
import type { PathCommand } from '../../src/geometry/path-command.js';
import type { Font } from '../../src/lettering/font.js';
import { outlineFont } from '../../src/lettering/outline-font.js';
import * as made from './made-fonts.js';

const names = ['garamond', 'cormorant', 'jost'] as const;
const ASCII = Array.from({ length: 95 }, (_, i) => String.fromCharCode(32 + i));

/** One contour of four corners. OpenType specification 1.9, "glyf". */
const square = made.table(1, 0, 0, 0, 0, 3, 0, 0x0101, 0x0101, 0, 700, 0, -700, 0, 0, 700, 0);

/** Bytes two by two, as `table` takes them. */
const packed = (bytes: number[]): number[] =>
  bytes.flatMap((b, i) => (i % 2 ? [] : [(b << 8) | (bytes[i + 1] ?? 0)]));

function opened(bytes: Uint8Array): Font {
  const read = outlineFont('own', bytes);
  if (!read.ok) throw new Error(read.problem.code);
  return read.font;
}

/** The code of the problem a file gives, with its values. */
function refused(bytes: Uint8Array) {
  const read = outlineFont('own', bytes);
  if (read.ok) throw new Error('the font was accepted');
  expect(read.problem.where).toBe('font own');
  const { code, values } = read.problem;
  return { code, values };
}

const advance = (font: Font, character: string, digits: 'tabular' | 'proportional'): number | undefined =>
  font.glyph(character, digits)?.advance;

const ys = (path: readonly PathCommand[]): number[] =>
  path.flatMap((s) => s.slice(1).filter((_, i) => i % 2 === 1) as number[]);

describe('files that are not read', () => {
  it.each([
    ['WOFF2', 'wOF2', 'lettering.font-woff2'],
    ['collections', 'ttcf', 'lettering.font-collection'],
    ['other files', '<svg xmlns="http://www.w3.org/2000/svg"/>', 'lettering.font-not-a-font'],
    ['empty files', '', 'lettering.font-empty'],
    ['files of one byte', 'w', 'lettering.font-damaged'],
  ])('%s give a problem', (_, text, code) => {
    expect(refused(Buffer.from(text))).toEqual({ code, values: {} });
  });

  it('a font without outlines, or without a table it needs', () => {
    const tables = made.unfolded(made.fontFile('jost'));
    tables.delete('glyf');
    expect(refused(made.ttf(tables)).code).toBe('lettering.font-without-outlines');
    tables.delete('cmap');
    expect(refused(made.ttf(tables))).toEqual({
      code: 'lettering.font-without-table',
      values: { table: 'cmap' },
    });
  });

  it('a file cut short anywhere', () => {
    for (const file of [made.fontFile('jost'), made.ttf(made.unfolded(made.fontFile('garamond')))]) {
      for (let end = 0; end < file.length - 4; end += 499) refused(file.slice(0, end));
    }
  });

  it('a file in which one byte of a table has changed', () => {
    const file = made.ttf(made.unfolded(made.fontFile('jost')));
    // the directory of a TTF names `glyf`; its offset stands eight bytes on
    const at = Buffer.from(file).readUInt32BE(Buffer.from(file).indexOf('glyf') + 8) + 500;
    file[at] = (file[at] as number) ^ 1;
    expect(refused(file)).toEqual({ code: 'lettering.font-checksum', values: { table: 'glyf' } });
  });

  it('a file that unpacks to more than 64 MB, before it is unpacked', () => {
    const file = Buffer.from(made.fontFile('jost'));
    // WOFF: the directory begins at byte 44, and the length of an unpacked table stands 12 bytes on
    file.writeUInt32BE(64_000_001, 44 + 12);
    expect(refused(file)).toEqual({ code: 'lettering.font-too-large', values: { megabytes: 64 } });
    expect(refused(Buffer.alloc(64_000_001)).code).toBe('lettering.font-too-large');
  });
});

describe('broken bytes whose checksums agree', () => {
  // opentype.js speaks of what it finds; the test need not
  const voices = (['log', 'warn', 'error'] as const).map((voice) => ({ voice }));
  beforeAll(() => {
    for (const { voice } of voices) vi.spyOn(console, voice).mockImplementation(() => {});
  });
  afterAll(() => {
    vi.restoreAllMocks();
  });

  const line = [139, 149, 5];
  const call = (piece: number): number[] => [28, 255, 149 + piece, 29];
  const cff = made.cffFont(
    [[14], [139, 139, 21, ...line, ...call(0), 14]],
    [[...line, 11]],
    made.charactersMap([72, 1]),
  );
  const cffTables = (): Map<string, Uint8Array> => {
    const view = Buffer.from(cff);
    const entries = Array.from({ length: view.readUInt16BE(4) }, (_, i) => 12 + 16 * i);
    return new Map(
      entries.map((at) => {
        const start = view.readUInt32BE(at + 8);
        return [view.toString('latin1', at, at + 4), cff.slice(start, start + view.readUInt32BE(at + 12))];
      }),
    );
  };
  const sources = [...names.map((name) => made.unfolded(made.fontFile(name))), cffTables()];

  it('give a problem or a font that sets, never a throw', () => {
    const change = fc.tuple(fc.nat(14), fc.nat(40_000), fc.nat(255));
    fc.assert(
      fc.property(
        fc.constantFrom(...sources),
        fc.array(change, { minLength: 1, maxLength: 4 }),
        (source, changes) => {
          const tables = new Map([...source].map(([tag, bytes]) => [tag, bytes.slice()]));
          const tags = [...tables.keys()];
          for (const [tag, at, to] of changes) {
            const bytes = tables.get(tags[tag % tags.length] as string) as Uint8Array;
            // half the changes fall among the first bytes, where counts and offsets are
            bytes[at % 2 ? at % Math.min(64, bytes.length) : at % bytes.length] = to;
          }
          const read = outlineFont('own', made.ttf(tables));
          if (!read.ok) return;
          const glyphs = ASCII.flatMap((c) => read.font.glyph(c, 'tabular') ?? []);
          for (const [i, glyph] of glyphs.entries()) {
            expect(Number.isFinite(read.font.kern(glyph, glyphs[i - 1] ?? glyph))).toBe(true);
            expect(ys(glyph.path).every(Number.isFinite)).toBe(true);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('a letter made of itself is left out, and one that doubles without end refuses the font', () => {
    const cmap = made.charactersMap([72, 1]);
    const itself = opened(made.glyfFont([made.composite(0), made.composite(1, 1)], cmap));
    expect(itself.glyph('H', 'tabular')).toBeUndefined();
    const dot = made.table(1, 0, 0, 0, 0, 0, 0, 0x3737);
    const doubling = Array.from({ length: 40 }, (_, i) => made.composite(i, i));
    const last = made.charactersMap([72, 40]);
    expect(refused(made.glyfFont([dot, ...doubling], last)).code).toBe('lettering.font-damaged');
    const wide = made.composite(...new Array<number>(200).fill(0));
    const wider = made.composite(...new Array<number>(200).fill(1));
    const second = made.charactersMap([72, 2]);
    expect(refused(made.glyfFont([dot, wide, wider], second)).code).toBe('lettering.font-damaged');
  });

  it('a letter of more pieces than any letter has is left out', () => {
    const many = made.composite(...new Array<number>(1500).fill(1));
    const lines = 20;
    const points = Array.from({ length: lines }, (_, i) => [i % 2, i % 3]).flat();
    const comb = made.table(1, 0, 0, 0, 0, lines - 1, 0, ...packed(new Array(lines).fill(1)), ...points);
    const font = opened(made.glyfFont([square, comb, many, square], made.charactersMap([72, 3], [73, 2])));
    expect(font.glyph('I', 'tabular')).toBeUndefined();
    expect(font.glyph('H', 'tabular')).toBeDefined();
  });

  it('a letter that the two readers see differently is left out', () => {
    // the second of two contours ends before the first: one reader stops there, the other reads on
    const crossed = made.table(2, 0, 0, 0, 0, 3, 1, 0, 0x0101, 0x0101, 0, 700, 0, -700, 0, 0, 700, 0);
    const font = opened(made.glyfFont([square, crossed, square], made.charactersMap([72, 2], [73, 1])));
    expect(font.glyph('I', 'tabular')).toBeUndefined();
  });

  it('a character map that names every number there is, is read in bounded steps', () => {
    const words = [16 + 24, 0, 2, 0x48, 0x48, 1, 0x49, 0xffffffff, 1];
    const map = Buffer.alloc(4 * words.length);
    words.forEach((word, i) => {
      map.writeUInt32BE(word, 4 * i);
    });
    const cmap = made.table(0, 1, 3, 10, { far: new Uint8Array(Buffer.concat([made.table(12, 0), map])) });
    const font = opened(made.glyfFont([square, square], cmap));
    expect(font.glyph('\u{10ffff}', 'tabular')).toBeUndefined();
  });

  it('a table that cannot be read is not passed over', () => {
    const base = made.unfolded(made.fontFile('jost'));
    const without = (changes: Record<string, Uint8Array>): string =>
      refused(made.ttf(new Map([...base, ...Object.entries(changes)]))).code;
    const cut = (tag: string, length: number) => without({ [tag]: base.get(tag)!.slice(0, length) });
    expect(cut('hmtx', 40)).toBe('lettering.font-damaged');
    expect(cut('GPOS', 60)).toBe('lettering.font-damaged');
    expect(cut('GSUB', 60)).toBe('lettering.font-damaged');
    expect(cut('cmap', 30)).toBe('lettering.font-without-characters');
    expect(without({ maxp: made.table(1, 0, 0) })).toBe('lettering.font-damaged');
  });

  it('pieces that call on pieces without end leave the letter out', () => {
    const hundred = (of: number[]): number[] => new Array<number[]>(100).fill(of).flat();
    const pieces = Array.from({ length: 9 }, (_, i) => [...(i ? hundred(call(i - 1)) : line), 11]);
    const letters = [[14], [139, 139, 21, ...call(8), 14], [139, 139, 21, 139, 149, 149, 139, 5, 14]];
    const font = opened(made.cffFont(letters, pieces, made.charactersMap([72, 2], [73, 1])));
    expect(font.glyph('I', 'tabular')).toBeUndefined();
    expect(font.glyph('H', 'tabular')?.path).toHaveLength(4);
  });
});

describe.each(names)('%s', (name) => {
  const font = opened(made.fontFile(name));

  it('has no glyph for what it does not hold, for no character and for more than one', () => {
    for (const absent of ['一', '\u{1f58b}', '\ue123', '', 'AB', '\ud800']) {
      expect(font.glyph(absent, 'tabular')).toBeUndefined();
    }
  });

  it('takes an accented letter however it is written', () => {
    expect(font.glyph('e\u0301', 'tabular')).toBe(font.glyph('é', 'tabular'));
    expect(font.glyph('é', 'tabular')?.key).not.toBe(font.glyph('e', 'tabular')?.key);
  });

  it('has digits of one width where asked, and of their own where not', () => {
    const widths = (digits: 'tabular' | 'proportional'): Set<number | undefined> =>
      new Set([...'0123456789'].map((digit) => advance(font, digit, digits)));
    expect(widths('tabular').size).toBe(1);
    expect(widths('proportional').size).toBeGreaterThan(1);
    expect(font.glyph('A', 'tabular')).toBe(font.glyph('A', 'proportional'));
  });

  it('draws y up, capitals one high, in closed contours', () => {
    const p = font.glyph('p', 'tabular')?.path ?? [];
    expect(Math.min(...ys(p))).toBeLessThan(-0.2);
    const h = ys(font.glyph('H', 'tabular')?.path ?? []);
    expect(Math.max(...h)).toBeCloseTo(1, 1);
    expect(Math.min(...h)).toBeCloseTo(0, 1);
    for (const character of ASCII) {
      const path = font.glyph(character, 'tabular')?.path ?? [];
      expect(path.map(([type]) => type).join('')).toMatch(/^(M[LQC]+Z)*$/);
    }
    expect(font.glyph(' ', 'tabular')?.path).toEqual([]);
  });

  it('kerns no glyph of another font', () => {
    const a = font.glyph('A', 'tabular');
    if (!a) throw new Error('no A');
    expect(font.kern(a, { key: 'elsewhere', advance: 1, path: [] })).toBe(0);
  });
});

describe('fonts out of the ordinary', () => {
  it('characters beyond the first plane are found', () => {
    const font = opened(made.glyfFont([square, square], made.charactersMap([72, 1], [0x1f58b, 1])));
    expect(font.glyph('\u{1f58b}', 'tabular')).toBe(font.glyph('H', 'tabular'));
    expect(font.glyph('\u{1f58c}', 'tabular')).toBeUndefined();
  });

  it('digits stay as they are where the font has one kind only', () => {
    const tables = made.unfolded(made.fontFile('jost'));
    tables.delete('GSUB');
    const font = opened(made.ttf(tables));
    expect(font.glyph('1', 'tabular')).toBe(font.glyph('1', 'proportional'));
  });

  it.each([
    ['nought', 0],
    ['left from another scale', 1434],
  ])('a stated height of capitals that is %s gives way to the height of H', (_, stated) => {
    const tables = made.unfolded(made.fontFile('jost'));
    const os2 = Buffer.from(tables.get('OS/2') ?? []);
    os2.writeInt16BE(stated, 88);
    tables.set('OS/2', os2);
    // H of this font is 700 high, by its own stated height
    expect(advance(opened(made.ttf(tables)), 'H', 'tabular')).toBe(
      advance(opened(made.fontFile('jost')), 'H', 'tabular'),
    );
  });
});

// Cormorant Garamond's own figures are old-style, and 10 in them reads as "Io". `lnum` and `onum`: OpenType specification 1.9,
// "Registered features"; that lining figures are as high as capitals is its wording, from memory.
describe('figures of a font whose own are old-style', () => {
  const read = outlineFont('cormorant', made.fontFile('cormorant'));
  if (!read.ok) throw new Error('not read');
  const extent = (digit: string, style: 'tabular' | 'proportional' | 'old-style'): [number, number] => {
    const ys = flatten(read.font.glyph(digit, style)!.path, 1, 0.001).flatMap(({ points }) =>
      [...points].filter((_, i) => i % 2 === 1),
    );
    return [Math.min(...ys), Math.max(...ys)];
  };
  it.each(['tabular', 'proportional'] as const)('stand on the line, as high as capitals: %s', (style) => {
    for (const digit of '0123456789') {
      const [low, high] = extent(digit, style);
      expect([digit, low > -0.05, high > 0.95 && high < 1.1]).toEqual([digit, true, true]);
    }
  });
  it('hang below the line and rise above small letters where old-style is asked for', () => {
    expect(extent('1', 'old-style')[1]).toBeLessThan(0.7);
    expect(extent('3', 'old-style')[0]).toBeLessThan(-0.3);
    expect(extent('6', 'old-style')[1]).toBeGreaterThan(1);
  });
});
