import { boundsOfCurves } from '../geometry/curve-bounds.js';
import type { PathCommand } from '../geometry/path-command.js';
import type { Font, Glyph } from '../lettering/font.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import type { Problem } from '../problem.js';
import { problem } from './messages.js';
import type { Drawing } from './svg/drawing.js';
import { outlines } from './svg/outlines.js';
import { readSvg } from './svg/read-svg.js';
import { whiteShapes } from './svg/white-shapes.js';

/** A drawing of the workshop. */
export interface Artwork {
  readonly id: string;
  readonly drawing: Drawing;
}

export type ReadArtwork =
  | {
      readonly ok: true;
      readonly artwork: Artwork;
      /** What is not drawn as the file asks, and white shapes, each with its place. */
      readonly remarks: readonly Problem[];
    }
  | { readonly ok: false; readonly problem: Problem };

/** Reads a drawing from the bytes of an SVG file in UTF-8. */
export function readArtwork(id: string, bytes: Uint8Array, where: string): ReadArtwork {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return { ok: false, problem: problem('artwork.not-utf8', where, {}) };
  }
  const read = readSvg(text, where);
  if (!read.ok) return read;
  const remarks = [...read.remarks, ...whiteShapes(read.drawing)];
  return { ok: true, artwork: { id, drawing: read.drawing }, remarks };
}

export type Strokes = 'line' | 'outline' | 'leave';

/** A drawing set as a line of text is: the areas as one letter, the lines to be followed as another over it. */
export interface MotifSetting {
  readonly font: Font;
  readonly line: ShapedLine;
}

/**
 * A drawing as letters of height 1: from the lowest of its ink to the highest, its left end at x = 0. Undefined when
 * nothing of it can be cut.
 */
export function motifSetting({ id, drawing }: Artwork, strokes: Strokes): MotifSetting | undefined {
  const { areas, lines } = outlines(drawing, strokes);
  const [left, bottom, right, top] = boundsOfCurves([...areas, ...lines]);
  const height = top - bottom;
  if (!(height > 0)) return undefined;
  const shiftedPath = (path: readonly PathCommand[]) =>
    path.map((s) => scaleCommand(s, 1 / height, -left, -bottom));
  const advance = (right - left) / height;
  const glyphs: Glyph[] = [];
  if (areas.length > 0) glyphs.push({ key: `${id} ${strokes} areas`, advance, path: shiftedPath(areas) });
  if (lines.length > 0)
    glyphs.push({ key: `${id} ${strokes} lines`, advance, path: shiftedPath(lines), stroked: true });
  const font: Font = {
    id: `artwork ${id}`,
    kind: areas.length > 0 ? 'outline' : 'stroke',
    glyph: () => glyphs[0],
    kern: () => 0,
  };
  const line = {
    glyphs: glyphs.map((glyph) => ({ glyph, character: id, x: 0 })),
    width: advance,
    missing: [],
  };
  return { font, line };
}

function scaleCommand(segment: PathCommand, scale: number, dx: number, dy: number): PathCommand {
  const [command, ...numbers] = segment;
  return [command, ...numbers.map((v, i) => (v + (i % 2 === 0 ? dx : dy)) * scale)] as unknown as PathCommand;
}
