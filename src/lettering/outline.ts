import opentype from 'opentype.js';
import type { PathCommand } from '../geometry/path-command.js';
import { type Problem, problem } from '../problem.js';
import { cffDrawing } from './cff.js';
import { type CharacterMap, characterMap } from './cmap.js';
import { type Exchange, exchangeOf } from './figures.js';
import type { Figures, Font, Glyph } from './font.js';
import { checkGlyf } from './glyf.js';
import { type Kerning, pairKerning } from './kerning.js';
import { COPY_AGAIN, FontFault, readTables, type Table, type Tables, writeTables } from './sfnt.js';

export type OutlineFont = { ok: true; font: Font } | { ok: false; problem: Problem };

/**
 * A TTF, OTF or WOFF file as a font to set. A variable font is set as its default instance.
 *
 * opentype.js draws the glyphs and is given only the tables it needs for that; characters, figures and kerning are
 * read here.
 */
export function outlineFont(id: string, bytes: Uint8Array): OutlineFont {
  try {
    return { ok: true, font: new Outlines(id, readTables(bytes)) };
  } catch (cause) {
    // whatever else the readers stumble on, the bytes are at fault: nothing else is handed in
    const fault =
      cause instanceof FontFault
        ? cause
        : new FontFault('The font file is cut short or damaged.', COPY_AGAIN);
    return { ok: false, problem: problem(`font ${id}`, fault.message, fault.cure) };
  }
}

class Outlines implements Font {
  readonly id: string;
  readonly kind = 'outline';
  readonly #draw: Drawing;
  readonly #characters: CharacterMap;
  readonly #metrics: Metrics;
  readonly #figures: Record<Figures, Exchange | undefined>;
  readonly #kerning: Kerning;
  readonly #capital: number;
  readonly #glyphs = new Map<number, Glyph | undefined>();
  readonly #indices = new Map<string, number>();

  constructor(id: string, tables: Tables) {
    this.id = id;
    this.#metrics = metrics(tables);
    this.#characters = characterMap(need(tables, 'cmap'));
    this.#draw = drawing(tables, this.#metrics);
    this.#kerning = pairKerning(tables);
    this.#capital = this.#capitalHeight(tables.get('OS/2'));
    const gsub = tables.get('GSUB');
    this.#figures = {
      tabular: exchangeOf(gsub, 'tnum'),
      // figures that are of their own widths already stay as they are
      proportional: this.#oneWidth() ? exchangeOf(gsub, 'pnum') : undefined,
      'old-style': exchangeOf(gsub, 'onum'),
    };
  }

  glyph(character: string, figures: Figures): Glyph | undefined {
    const [code, more] = Array.from(character.normalize('NFC'), (c) => c.codePointAt(0) as number);
    if (code === undefined || more !== undefined) return undefined;
    const plain = this.#characters(code);
    const index = isFigure(code) ? (this.#figures[figures]?.(plain) ?? plain) : plain;
    if (plain === 0 || index === 0 || index >= this.#metrics.glyphs) return undefined;
    return this.#glyph(index);
  }

  kern(left: Glyph, right: Glyph): number {
    const a = this.#indices.get(left.key);
    const b = this.#indices.get(right.key);
    return a === undefined || b === undefined ? 0 : this.#kerning(a, b) / this.#capital;
  }

  #glyph(index: number): Glyph | undefined {
    if (this.#glyphs.has(index)) return this.#glyphs.get(index);
    const path = this.#path(index, this.#capital);
    const glyph = path && { key: `g${index}`, advance: this.#metrics.advance(index) / this.#capital, path };
    if (glyph) this.#indices.set(glyph.key, index);
    this.#glyphs.set(index, glyph);
    return glyph;
  }

  /** Undefined for a glyph that cannot be drawn: better no letter than a wrong one. */
  #path(index: number, unit: number): PathCommand[] | undefined {
    try {
      return closedContours(this.#draw(index), unit);
    } catch {
      return undefined;
    }
  }

  /**
   * The height of the capitals in font units. The font's own figure is taken when it is near the height of its H
   * (common practice, no source: fonts are met whose figure is nought, or left from another scale).
   */
  #capitalHeight(os2: Table | undefined): number {
    const stated = os2 && os2.u16(0) >= 2 ? os2.i16(88) : 0;
    const h = this.#characters(0x48);
    const path = h > 0 && h < this.#metrics.glyphs ? this.#path(h, 1) : undefined;
    const drawn = path ? top(path) : 0;
    if (stated > 0 && drawn > 0 && Math.abs(stated - drawn) <= drawn / 10) return stated;
    if (drawn > 0) return drawn;
    if (stated > 0 && stated <= 2 * this.#metrics.unitsPerEm) return stated;
    throw new FontFault(
      'The font has no capital H and states no height of capitals, so letters cannot be sized.',
      'Use a font with Latin capitals.',
    );
  }

  #oneWidth(): boolean {
    const widths = Array.from({ length: 10 }, (_, i) => this.#characters(0x30 + i)).map((glyph) =>
      glyph < this.#metrics.glyphs ? this.#metrics.advance(glyph) : 0,
    );
    return widths.every((width) => width === widths[0]);
  }
}

const isFigure = (code: number): boolean => code >= 0x30 && code <= 0x39;

interface Metrics {
  readonly unitsPerEm: number;
  readonly glyphs: number;
  readonly advance: (glyph: number) => number;
}

/** OpenType specification 1.9, "head", "maxp", "hhea", "hmtx": the last width stands for all glyphs after it. */
function metrics(tables: Tables): Metrics {
  const unitsPerEm = need(tables, 'head').u16(18);
  const glyphs = need(tables, 'maxp').u16(4);
  const widths = need(tables, 'hhea').u16(34);
  const hmtx = need(tables, 'hmtx');
  if (unitsPerEm === 0 || glyphs === 0 || widths === 0 || widths > glyphs) throw new RangeError('no metrics');
  if (4 * widths + 2 * (glyphs - widths) > hmtx.length) throw new RangeError('metrics cut short');
  return { unitsPerEm, glyphs, advance: (glyph) => hmtx.u16(4 * Math.min(glyph, widths - 1)) };
}

function need(tables: Tables, tag: string): Table {
  const table = tables.get(tag);
  if (table) return table;
  throw new FontFault(`The font has no ${tag.trim()} table.`, 'Save it anew from a font editor.');
}

/** An empty `name` table, a `post` without names and a `cmap` without characters: the reader will not do without. */
const EMPTY_NAME = new Uint8Array([0, 0, 0, 0, 0, 6]);
const EMPTY_POST = new Uint8Array(32).fill(3, 1, 2);
const EMPTY_CMAP = new Uint8Array([
  ...[0, 0, 0, 1, 0, 3, 0, 1, 0, 0, 0, 12],
  ...[0, 4, 0, 24, 0, 0, 0, 2, 0, 2, 0, 0, 0, 0, 255, 255, 0, 0, 255, 255, 0, 1, 0, 0],
]);

/** The outline of a glyph in font units. */
type Drawing = (glyph: number) => readonly opentype.PathCommand[];

function drawing(tables: Tables, { glyphs }: Metrics): Drawing {
  const parts = new Map<string, Uint8Array>([
    ['name', EMPTY_NAME],
    ['post', EMPTY_POST],
    ['cmap', EMPTY_CMAP],
  ]);
  for (const tag of ['head', 'hhea', 'hmtx', 'maxp']) parts.set(tag, need(tables, tag).bytes);
  const glyf = tables.get('glyf');
  if (glyf) {
    const loca = need(tables, 'loca');
    checkGlyf(loca, glyf, need(tables, 'head').i16(50) !== 0, glyphs);
    parts.set('glyf', glyf.bytes);
    parts.set('loca', loca.bytes);
    const font = opentype.parse(writeTables(0x00010000, parts));
    return (glyph) => font.glyphs.get(glyph).path.commands;
  }
  const cff = tables.get('CFF ');
  if (!cff) {
    throw new FontFault(
      'The font has no outlines that are read.',
      'Use one with TrueType or CFF outlines; of a variable CFF2 font, save one instance.',
    );
  }
  parts.set('CFF ', cff.bytes);
  return cffDrawing(opentype.parse(writeTables(0x4f54544f, parts)));
}

/**
 * Contours in letter heights, each ending in Z. Lines of no length, and the line back to the start that Z draws,
 * are left out.
 */
function closedContours(commands: readonly opentype.PathCommand[], unit: number): PathCommand[] {
  const path: PathCommand[] = [];
  let start: readonly [number, number] = [0, 0];
  let contour: PathCommand[] = [];
  const scaled = (value: number): number => {
    if (!Number.isFinite(value)) throw new RangeError('point nowhere');
    return value / unit;
  };
  const close = (): void => {
    const last = contour.at(-1);
    if (last?.[0] === 'L' && last[1] === start[0] && last[2] === start[1]) contour.pop();
    if (contour.length > 0) path.push(['M', ...start], ...contour, ['Z']);
    contour = [];
  };
  let here = start;
  for (const c of commands) {
    if (c.type === 'Z') {
      close();
      here = start;
      continue;
    }
    const to = [scaled(c.x), scaled(c.y)] as const;
    if (c.type === 'M') {
      close();
      start = to;
    } else if (c.type === 'Q') contour.push(['Q', scaled(c.x1), scaled(c.y1), ...to]);
    else if (c.type === 'C') {
      contour.push(['C', scaled(c.x1), scaled(c.y1), scaled(c.x2), scaled(c.y2), ...to]);
    } else if (to[0] !== here[0] || to[1] !== here[1]) contour.push(['L', ...to]);
    here = to;
  }
  close();
  return path;
}

/** The highest point a contour passes through; curves at the top of an H begin and end at their highest. */
const top = (path: readonly PathCommand[]): number =>
  path.reduce((highest, s) => (s[0] === 'Z' ? highest : Math.max(highest, s[s.length - 1] as number)), 0);
