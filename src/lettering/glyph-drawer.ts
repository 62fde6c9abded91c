import opentype, { type PathCommand as OpentypeCommand } from 'opentype.js';
import type { PathCommand } from '../geometry/path-command.js';
import { refuse } from './messages.js';
import { requireTable, type Tables, writeFontFile } from './sfnt.js';

/** Draws a glyph in font units, y up, as closed contours. Throws an Error at one that cannot be drawn. */
export type GlyphDrawer = (glyph: number) => PathCommand[];

/**
 * The tables that opentype.js will not do without but that drawing does not need: a `name` without names, a `post`
 * without glyph names, a `cmap` without characters. The font's own would be unrolled whole, and a character map of
 * thirty bytes can name four thousand million characters.
 */
const PLACEHOLDERS: ReadonlyMap<string, Uint8Array> = new Map([
  ['name', new Uint8Array([0, 0, 0, 0, 0, 6])],
  ['post', new Uint8Array(32).fill(3, 1, 2)],
  [
    'cmap',
    new Uint8Array([
      ...[0, 0, 0, 1, 0, 3, 0, 1, 0, 0, 0, 12],
      ...[0, 4, 0, 24, 0, 0, 0, 2, 0, 2, 0, 0, 0, 0, 255, 255, 0, 0, 255, 255, 0, 1, 0, 0],
    ]),
  ],
]);

/** A drawer of the outlines of a font, by opentype.js. Throws a Refusal where it has none. */
export function createGlyphDrawer(tables: Tables, where: string): GlyphDrawer {
  const outlines = tables.has('glyf') ? ['glyf', 'loca'] : ['CFF '];
  if (!tables.has(outlines[0]!)) throw refuse('lettering.font-without-outlines', where, {});
  const parts = new Map(PLACEHOLDERS);
  for (const tag of ['head', 'hhea', 'hmtx', 'maxp', ...outlines])
    parts.set(tag, requireTable(tables, tag, where).bytes);
  const font = opentype.parse(writeFontFile(parts).buffer);
  return (glyph) => closedContours(font.glyphs.get(glyph).path.commands);
}

/** Contours that each end in Z. Lines of no length, and the line back to the start that Z draws, are left out. */
function closedContours(commands: readonly OpentypeCommand[]): PathCommand[] {
  const path: PathCommand[] = [];
  let contour: PathCommand[] = [];
  let start: readonly [number, number] = [0, 0];
  let at = start;
  const close = (): void => {
    const last = contour.at(-1);
    if (last?.[0] === 'L' && last[1] === start[0] && last[2] === start[1]) contour.pop();
    if (contour.length > 0) path.push(['M', ...start], ...contour, ['Z']);
    contour = [];
  };
  for (const c of commands) {
    if (c.type === 'Z') {
      close();
      at = start;
      continue;
    }
    const to = [c.x, c.y] as const;
    if (c.type === 'M') {
      close();
      start = to;
    } else if (c.type === 'Q') contour.push(['Q', c.x1, c.y1, ...to]);
    else if (c.type === 'C') contour.push(['C', c.x1, c.y1, c.x2, c.y2, ...to]);
    else if (to[0] !== at[0] || to[1] !== at[1]) contour.push(['L', ...to]);
    at = to;
  }
  close();
  return path;
}
