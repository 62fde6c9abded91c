import { boundsOfCurves } from '../geometry/curve-bounds.js';
import type { PathCommand } from '../geometry/path-command.js';
import type { Font, Glyph } from '../lettering/font.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import { type Problem, problem } from '../problem.js';
import { type Drawing, type LeftOut, outlines, readSvg } from './svg.js';

/** A drawing of the workshop. */
export interface Artwork {
  readonly id: string;
  readonly drawing: Drawing;
}

export type ReadArtwork =
  | { readonly ok: true; readonly artwork: Artwork; readonly leftOut: readonly LeftOut[] }
  | { readonly ok: false; readonly problem: Problem };

/** Reads a drawing from the bytes of an SVG file in UTF-8. */
export function readArtwork(id: string, bytes: Uint8Array, where: string): ReadArtwork {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return {
      ok: false,
      problem: problem(where, 'It is not UTF-8 text.', 'Save the drawing again as SVG in UTF-8.'),
    };
  }
  const read = readSvg(text, where);
  return read.ok ? { ok: true, artwork: { id, drawing: read.drawing }, leftOut: read.leftOut } : read;
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
  const moved = (path: readonly PathCommand[]) => path.map((s) => fitted(s, 1 / height, -left, -bottom));
  const advance = (right - left) / height;
  const glyphs: Glyph[] = [];
  if (areas.length > 0) glyphs.push({ key: `${id} ${strokes} areas`, advance, path: moved(areas) });
  if (lines.length > 0)
    glyphs.push({ key: `${id} ${strokes} lines`, advance, path: moved(lines), stroked: true });
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

function fitted(segment: PathCommand, scale: number, dx: number, dy: number): PathCommand {
  const [command, ...figures] = segment;
  return [command, ...figures.map((v, i) => (v + (i % 2 === 0 ? dx : dy)) * scale)] as unknown as PathCommand;
}
