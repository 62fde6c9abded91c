import * as harfbuzz from 'harfbuzzjs';
import type { PathCommand } from '../geometry/path-command.js';
import type { DigitStyle } from './font.js';

/** Which glyphs a font has for characters and how they follow one another, by glyph index and in font units. */
export interface Shaper {
  /** The height of capitals that the font states, if it states one. OpenType specification 1.9, "OS/2". */
  readonly statedCapHeight: number | undefined;
  /** Whether the font maps any character of Unicode. */
  readonly hasCharacters: boolean;
  /** The glyph of a character, or undefined where the font has none. */
  glyphOf(codePoint: number): number | undefined;
  /** The glyph of a digit in one style; the plain one where the font has a single style. */
  digitGlyph(codePoint: number, style: DigitStyle): number | undefined;
  advance(glyph: number): number;
  /** What the feature `kern` adds to the left glyph's advance; undefined where the font has no such feature. */
  readonly kern: ((left: number, right: number) => number) | undefined;
  /** Whether the tables of one kind hold a script that can be read. */
  hasScripts(table: 'GPOS' | 'GSUB'): boolean;
  /** A glyph's outline; undefined where it is damaged, or made of more pieces than any letter. */
  outline(glyph: number): readonly PathCommand[] | undefined;
}

/** No letter is drawn from more lines and curves than this. */
const MOST_COMMANDS = 20_000;

/**
 * Features that HarfBuzz applies unasked and that replace or move glyphs. They are off: one character is one glyph,
 * so that letters can be spaced, spread and raised one by one.
 */
const OFF = [
  'abvm',
  'blwm',
  'calt',
  'ccmp',
  'clig',
  'curs',
  'dist',
  'kern',
  'liga',
  'locl',
  'mark',
  'mkmk',
  'rclt',
  'rlig',
];

/** Figures stand on the line and are as high as capitals unless old-style ones are asked for: 10 in those reads as `Io`. */
const DIGIT_FEATURES: Readonly<Record<DigitStyle, readonly string[]>> = {
  tabular: ['lnum', 'tnum'],
  proportional: ['lnum', 'pnum'],
  'old-style': ['onum'],
};

/**
 * A font as HarfBuzz shapes it, as Latin in the font's default language. HarfBuzz checks every table before it reads
 * it and counts its steps, so a hostile font costs a bounded amount of work.
 *
 * @param bytes a TTF or OTF file
 */
export function createShaper(bytes: Uint8Array): Shaper {
  const face = new harfbuzz.Face(new harfbuzz.Blob(bytes));
  const font = new harfbuzz.Font(face);
  const buffer = new harfbuzz.Buffer();
  const off = OFF.map((tag) => feature(`-${tag}`));

  const shape = (of: harfbuzz.Font, codePoints: number[], features: readonly harfbuzz.Feature[]) => {
    buffer.reset();
    buffer.addCodePoints(codePoints);
    buffer.setDirection(harfbuzz.Direction.LTR);
    buffer.setScript('Latn');
    harfbuzz.shape(of, buffer, [...off, ...features]);
    return buffer.getGlyphInfosAndPositions();
  };

  const glyphOf = (codePoint: number): number | undefined => font.nominalGlyph(codePoint) || undefined;
  const advance = (glyph: number): number => font.glyphHAdvance(glyph);
  const digits = Array.from({ length: 10 }, (_, i) => 0x30 + i);
  const featuresOf = (style: DigitStyle) => DIGIT_FEATURES[style].map((tag) => feature(`+${tag}`));
  const features = {
    tabular: featuresOf('tabular'),
    proportional: featuresOf('proportional'),
    'old-style': featuresOf('old-style'),
  };
  const lining = [feature('+lnum')];
  const shaped = (codePoint: number, style: readonly harfbuzz.Feature[]): number | undefined => {
    const [only, more] = shape(font, [codePoint], style);
    return more === undefined ? only?.codepoint || undefined : glyphOf(codePoint);
  };
  const uniform = new Set(digits.map((d) => advance(shaped(d, lining) ?? 0))).size === 1;
  return {
    statedCapHeight: font.getMetricPosition(harfbuzz.MetricsTag.CAP_HEIGHT),
    hasCharacters: face.collectUnicodes().length > 0,
    glyphOf,
    digitGlyph(codePoint, style) {
      // digits that have widths of their own already stay as they are
      return shaped(codePoint, style === 'proportional' && !uniform ? lining : features[style]);
    },
    advance,
    kern: hasKerning(face) ? pairKerning(font, shape) : undefined,
    hasScripts: (table) => face.getTableScriptTags(table).length > 0,
    outline: outlineOf(font),
  };
}

/** Whether a font, given as a TTF or OTF file, has a glyph for a character. */
export function characterCoverage(bytes: Uint8Array): (codePoint: number) => boolean {
  const font = new harfbuzz.Font(new harfbuzz.Face(new harfbuzz.Blob(bytes)));
  return (codePoint) => Boolean(font.nominalGlyph(codePoint));
}

type Shape = (
  font: harfbuzz.Font,
  codePoints: number[],
  features: readonly harfbuzz.Feature[],
) => readonly { readonly codepoint: number; readonly xAdvance?: number }[];

function feature(text: string): harfbuzz.Feature {
  const made = harfbuzz.Feature.fromString(text);
  if (!made) throw new RangeError(`no feature ${text}`);
  return made;
}

/** Whether the font kerns Latin by GPOS: by script `latn`, or by DFLT where it has no `latn`. */
function hasKerning(face: harfbuzz.Face): boolean {
  const scripts = face.getTableScriptTags('GPOS');
  const script = scripts.indexOf(scripts.includes('latn') ? 'latn' : 'DFLT');
  return script >= 0 && face.getLanguageFeatureTags('GPOS', script, DEFAULT_LANGUAGE).includes('kern');
}

/** HarfBuzz's index of a script's default language system: HB_OT_LAYOUT_DEFAULT_LANGUAGE_INDEX. */
const DEFAULT_LANGUAGE = 0xffff;

/** The first private-use character of plane 15. */
const PRIVATE_USE = 0xf0000;

/**
 * Kerning of any two glyphs. HarfBuzz shapes characters, and a glyph such as an old-style digit has none of its own,
 * so this font names each glyph by a private-use character. Each pair is shaped once.
 */
function pairKerning(font: harfbuzz.Font, shape: Shape): (left: number, right: number) => number {
  const byGlyph = font.subFont();
  const names = new harfbuzz.FontFuncs();
  names.setNominalGlyphFunc((_, codePoint) => codePoint - PRIVATE_USE);
  byGlyph.setFuncs(names);
  const on = [feature('+kern')];
  const known = new Map<number, number>();
  return (left, right) => {
    const pair = left * 0x10000 + right;
    const before = known.get(pair);
    if (before !== undefined) return before;
    const [first] = shape(byGlyph, [PRIVATE_USE + left, PRIVATE_USE + right], on);
    const kern = (first?.xAdvance ?? 0) - font.glyphHAdvance(left);
    known.set(pair, kern);
    return kern;
  };
}

function outlineOf(font: harfbuzz.Font): Shaper['outline'] {
  let path: PathCommand[] = [];
  const draw = new harfbuzz.DrawFuncs();
  draw.setMoveToFunc((x, y) => path.push(['M', x, y]));
  draw.setLineToFunc((x, y) => path.push(['L', x, y]));
  draw.setQuadraticToFunc((x1, y1, x, y) => path.push(['Q', x1, y1, x, y]));
  draw.setCubicToFunc((x1, y1, x2, y2, x, y) => path.push(['C', x1, y1, x2, y2, x, y]));
  draw.setClosePathFunc(() => path.push(['Z']));
  return (glyph) => {
    path = [];
    const drawn = font.drawGlyphOrFail(glyph, draw);
    return drawn && path.length <= MOST_COMMANDS ? path : undefined;
  };
}
