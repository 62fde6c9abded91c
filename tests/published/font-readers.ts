import * as fontkit from 'fontkit';
import * as harfbuzz from 'harfbuzzjs';
import type { PathCommand } from '../../src/geometry/path-command.js';

/** Features that replace or move letters; off, so that one character is one glyph and only kerning moves it. */
const OFF = ['liga', 'clig', 'calt', 'rlig', 'ccmp', 'locl', 'mark', 'mkmk'];

export interface Setting {
  readonly glyphs: readonly number[];
  readonly advances: readonly number[];
}

/** A font as a library other than burin's reads it, in font units. */
export interface FontReader {
  readonly name: string;
  /** Sets text as Latin in the default language, with the features named and no others. */
  set(text: string, features: readonly string[]): Setting;
  /** The advance of a glyph before kerning. */
  advance(glyph: number): number;
  /** The outline, in every reading of it that may be meant. */
  outlines(glyph: number): PathCommand[][];
}

export function fontkitReader(bytes: Uint8Array): FontReader & { readonly font: fontkit.FontkitFont } {
  const font = fontkit.create(bytes);
  const widths = new Map<number, number>();
  const glyphs = new Map<number, fontkit.FontkitGlyph>();
  for (const code of font.characterSet) {
    const glyph = font.glyphForCodePoint(code);
    glyphs.set(glyph.id, glyph);
  }
  return {
    name: 'fontkit',
    font,
    set(text, features) {
      const wanted = Object.fromEntries([...OFF.map((tag) => [tag, false]), ['kern', false]]);
      for (const tag of features) wanted[tag] = true;
      const run = font.layout(text, wanted, 'latn');
      for (const glyph of run.glyphs) {
        widths.set(glyph.id, glyph.advanceWidth);
        glyphs.set(glyph.id, glyph);
      }
      return { glyphs: run.glyphs.map((g) => g.id), advances: run.positions.map((p) => p.xAdvance) };
    },
    advance: (glyph) => widths.get(glyph) ?? glyphs.get(glyph)?.advanceWidth ?? Number.NaN,
    outlines(glyph) {
      const names = { moveTo: 'M', lineTo: 'L', quadraticCurveTo: 'Q', bezierCurveTo: 'C', closePath: 'Z' };
      const commands = glyphs.get(glyph)?.path.commands ?? [];
      return [commands, commands.filter((_, i) => !isExtra(commands, i))].map((all) =>
        all.map(({ command, args }) => [names[command], ...args] as unknown as PathCommand),
      );
    },
  };
}

/**
 * Where a contour has no point on the curve, fontkit begins it with a piece of its own, from the start to half way
 * to the first point, and bends the next piece to suit. OpenType specification 1.9, "glyf", has only the points
 * midway between two off the curve, as HarfBuzz draws them; without the extra piece fontkit does too. A
 * contour may by chance begin so of itself, so both readings are offered.
 */
function isExtra(all: readonly fontkit.FontkitCommand[], i: number): boolean {
  const [move, extra, next] = all.slice(Math.max(0, i - 1), i + 2);
  if (i === 0 || move?.command !== 'moveTo' || extra?.command !== 'quadraticCurveTo') return false;
  const [x, y] = move.args as [number, number];
  const [toX = x, toY = y] = next?.args ?? [];
  const halfway = [x, y, (x + toX) / 2, (y + toY) / 2];
  return extra.args.every((n, k) => n === halfway[k]);
}

/** `bytes` are a TTF or OTF: this library reads no WOFF. */
export function harfbuzzReader(bytes: Uint8Array): FontReader {
  const font = new harfbuzz.Font(new harfbuzz.Face(new harfbuzz.Blob(bytes)));
  const feature = (text: string): harfbuzz.Feature => {
    const made = harfbuzz.Feature.fromString(text);
    if (!made) throw new Error(`no feature ${text}`);
    return made;
  };
  const off = [...OFF, 'kern'].map((tag) => feature(`-${tag}`));
  const buffer = new harfbuzz.Buffer();
  return {
    name: 'harfbuzz',
    set(text, features) {
      buffer.reset();
      buffer.addText(text);
      buffer.setDirection(harfbuzz.Direction.LTR);
      buffer.setScript('Latn');
      buffer.setLanguage('en');
      harfbuzz.shape(font, buffer, [...off, ...features.map((tag) => feature(`+${tag}`))]);
      return {
        glyphs: buffer.getGlyphInfos().map((info) => info.codepoint),
        advances: buffer.getGlyphPositions().map((position) => position.xAdvance),
      };
    },
    advance: (glyph) => font.glyphHAdvance(glyph),
    outlines: (glyph) => [
      font.glyphToJson(glyph).map(({ type, values }) => [type, ...values] as unknown as PathCommand),
    ],
  };
}

type Point = readonly [number, number];
/** A line or curve from point to point: two, three or four points. */
type Piece = readonly Point[];

/**
 * Contours in a form that does not depend on where a reader starts them or how it closes them: lines of no length
 * left out, the closing line drawn, each begun at its lowest piece in order of figures.
 */
function contours(path: readonly PathCommand[], scale: number): Piece[][] {
  const done: Piece[][] = [];
  let pieces: Piece[] = [];
  let start: Point = [0, 0];
  let here: Point = start;
  const add = (...points: Point[]): void => {
    const piece = [here, ...points];
    if (piece.some(([x, y]) => Math.abs(x - here[0]) > 1e-9 || Math.abs(y - here[1]) > 1e-9))
      pieces.push(piece);
    here = points.at(-1) ?? here;
  };
  const close = (): void => {
    add(start);
    if (pieces.length > 0) done.push(fromLowest(pieces));
    pieces = [];
  };
  for (const [type, ...values] of path) {
    const points: Point[] = [];
    for (let i = 0; i + 1 < values.length; i += 2) {
      points.push([(values[i] as number) * scale, (values[i + 1] as number) * scale]);
    }
    if (type === 'M') {
      close();
      start = points[0] as Point;
      here = start;
    } else if (type === 'Z') close();
    else add(...points);
  }
  close();
  return done;
}

function fromLowest(pieces: Piece[]): Piece[] {
  // a thousandth of a unit, so that rounding in the last place cannot choose another start
  const key = (piece: Piece): number[] => piece.flat().map((n) => Math.round(n * 1000));
  let lowest = 0;
  pieces.forEach((piece, i) => {
    const a = key(piece);
    const b = key(pieces[lowest] as Piece);
    const at = a.findIndex((n, k) => n !== b[k]);
    if (at >= 0 && (a[at] as number) < (b[at] ?? Number.POSITIVE_INFINITY)) lowest = i;
  });
  return [...pieces.slice(lowest), ...pieces.slice(0, lowest)];
}

/** How far a drawing is from the nearest reading of a glyph, both in font units. */
export const farthest = (
  path: readonly PathCommand[],
  unit: number,
  readings: readonly PathCommand[][],
): number => Math.min(...readings.map((reading) => difference(contours(path, unit), contours(reading, 1))));

/** The largest difference between two sets of contours, infinite where they are not made of the same pieces. */
function difference(a: readonly Piece[][], b: readonly Piece[][]): number {
  const shape = (all: readonly Piece[][]): string =>
    all.map((c) => c.map((p) => p.length).join('')).join(' ');
  if (shape(a) !== shape(b)) return Number.POSITIVE_INFINITY;
  const [left, right] = [a.flat(3) as number[], b.flat(3) as number[]];
  return left.reduce((most, n, i) => Math.max(most, Math.abs(n - (right[i] as number))), 0);
}
