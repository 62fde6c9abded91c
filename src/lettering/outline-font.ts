import type { PathCommand } from '../geometry/path-command.js';
import { Refusal } from '../problem.js';
import type { DigitStyle, Font, FontResult, Glyph } from './font.js';
import { createShaper, type Shaper } from './font-shaper.js';
import { createGlyphDrawer, type GlyphDrawer } from './glyph-drawer.js';
import { readKernTable } from './kern-table.js';
import { problem, refuse } from './messages.js';
import { pathsAgree } from './outline-bounds.js';
import { LETTER_TABLES, readTables, requireTable, type Tables, toFontFile } from './sfnt.js';

/**
 * A TTF, OTF or WOFF file as a font. A variable font is read as its default instance.
 *
 * HarfBuzz says which glyph a character has, how wide it is and how two are kerned; opentype.js draws the glyphs. A
 * letter is drawn only where both see the same outline.
 */
export function outlineFont(id: string, bytes: Uint8Array): FontResult {
  const where = `font ${id}`;
  try {
    return { ok: true, font: openFont(id, where, bytes) };
  } catch (error) {
    // Whatever else the libraries stumble on, the bytes are at fault: nothing else is handed in.
    const found = error instanceof Refusal ? error.problems[0] : undefined;
    return { ok: false, problem: found ?? problem('lettering.font-damaged', where, {}) };
  }
}

function openFont(id: string, where: string, bytes: Uint8Array): Font {
  const tables = readTables(bytes, where, LETTER_TABLES);
  checkMetrics(tables, where);
  const cmap = requireTable(tables, 'cmap', where);
  const draw = createGlyphDrawer(tables, where);
  const shaper = createShaper(toFontFile(tables));
  checkLayout(tables, shaper);
  if (cmap.length === 0 || !shaper.hasCharacters)
    throw refuse('lettering.font-without-characters', where, {});
  const capHeight = capHeightOf(shaper, draw, requireTable(tables, 'head', where).u16(18), where);
  const pairKern = shaper.kern ?? readKernTable(tables.get('kern'));

  const glyphs = new Map<number, Glyph | undefined>();
  const indices = new Map<string, number>();
  const found: Record<DigitStyle, Map<string, Glyph | undefined>> = {
    tabular: new Map(),
    proportional: new Map(),
    'old-style': new Map(),
  };

  const glyphAt = (index: number): Glyph | undefined => {
    if (glyphs.has(index)) return glyphs.get(index);
    const path = drawGlyph(shaper, draw, index)?.map((command) => scale(command, capHeight));
    const key = `g${index}`;
    const glyph = path && { key, advance: shaper.advance(index) / capHeight, path };
    glyphs.set(index, glyph);
    indices.set(key, index);
    return glyph;
  };

  const findGlyph = (character: string, digits: DigitStyle): Glyph | undefined => {
    const [code, more] = Array.from(character.normalize('NFC'), (c) => c.codePointAt(0) as number);
    if (code === undefined || more !== undefined) return undefined;
    const index = isDigit(code) ? shaper.digitGlyph(code, digits) : shaper.glyphOf(code);
    const glyph = index === undefined ? undefined : glyphAt(index);
    // A letter without a drawing would be left out in silence.
    return glyph?.path.length === 0 && !isBlank(character) ? undefined : glyph;
  };

  return {
    id,
    kind: 'outline',
    glyph(character, digits) {
      const known = found[digits];
      if (!known.has(character)) known.set(character, findGlyph(character, digits));
      return known.get(character);
    },
    kern(left, right) {
      const [a, b] = [indices.get(left.key), indices.get(right.key)];
      return a === undefined || b === undefined ? 0 : pairKern(a, b) / capHeight;
    },
  };
}

const isDigit = (code: number): boolean => code >= 0x30 && code <= 0x39;

/** Whether a character is meant to have no drawing: spaces, and marks of format and control. */
const isBlank = (character: string): boolean => /^[\p{Z}\p{C}]$/u.test(character);

/**
 * HarfBuzz works on with what it can read of a table; a font that does not hold what it counts is refused instead.
 * OpenType specification 1.9, "head", "maxp", "hhea", "hmtx". Throws RangeError.
 */
function checkMetrics(tables: Tables, where: string): void {
  const u16 = (tag: string, at: number): number => requireTable(tables, tag, where).u16(at);
  const [unitsPerEm, glyphs, widths] = [u16('head', 18), u16('maxp', 4), u16('hhea', 34)];
  if (unitsPerEm === 0 || glyphs === 0 || widths === 0 || widths > glyphs) throw new RangeError('no metrics');
  const needed = 4 * widths + 2 * (glyphs - widths);
  if (needed > requireTable(tables, 'hmtx', where).length) throw new RangeError('metrics cut short');
}

/** Throws RangeError where a layout table counts scripts and none of them can be read. */
function checkLayout(tables: Tables, shaper: Shaper): void {
  for (const tag of ['GPOS', 'GSUB'] as const) {
    const table = tables.get(tag);
    if (table && table.u16(table.u16(4)) > 0 && !shaper.hasScripts(tag))
      throw new RangeError(`${tag} cannot be read`);
  }
}

/** A glyph in font units. Undefined where it cannot be drawn, or is drawn differently: no letter, not a wrong one. */
function drawGlyph(shaper: Shaper, draw: GlyphDrawer, index: number): PathCommand[] | undefined {
  const expected = shaper.outline(index);
  if (!expected) return undefined;
  try {
    const path = draw(index);
    return pathsAgree(path, expected) ? path : undefined;
  } catch {
    return undefined;
  }
}

/**
 * The height of the capitals in font units. What the font states is taken when it is near the height of its H (common
 * practice, no source: some fonts state zero, or a height left from another scale).
 */
function capHeightOf(shaper: Shaper, draw: GlyphDrawer, unitsPerEm: number, where: string): number {
  const stated = shaper.statedCapHeight ?? 0;
  const h = shaper.glyphOf(0x48);
  const path = h === undefined ? [] : drawGlyph(shaper, draw, h);
  if (!path) throw new RangeError('the H cannot be drawn');
  const drawn = highestPoint(path);
  if (stated > 0 && drawn > 0 && Math.abs(stated - drawn) <= drawn / 10) return stated;
  if (drawn > 0) return drawn;
  if (stated > 0 && stated <= 2 * unitsPerEm) return stated;
  throw refuse('lettering.font-without-cap-height', where, {});
}

/** The highest point a path passes through; curves at the top of an H begin and end at their highest. */
const highestPoint = (path: readonly PathCommand[]): number =>
  path.reduce((highest, c) => (c[0] === 'Z' ? highest : Math.max(highest, c[c.length - 1] as number)), 0);

const scale = (command: PathCommand, unit: number): PathCommand =>
  command.map((value) => (typeof value === 'number' ? value / unit : value)) as unknown as PathCommand;
