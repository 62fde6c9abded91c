import type opentype from 'opentype.js';

/** More shared pieces than any letter is drawn from. */
const MOST_CALLS = 20_000;

type Pieces = readonly unknown[];

/** The shared pieces of a CFF font as opentype.js 2 keeps them; its published types leave them out. */
interface CffPieces {
  gsubrs?: Pieces;
  readonly tables: {
    readonly cff?: {
      readonly topDict: { _subrs?: Pieces; readonly _fdArray?: readonly { _subrs?: Pieces }[] };
    };
  };
}

/**
 * Draws the glyphs of a CFF font, and stops with a RangeError at one that calls on shared pieces without end: ten
 * deep is let by the specification (Adobe Technical Note 5177, appendix B), and pieces that call two others each
 * double at every step.
 */
export function cffDrawing(font: opentype.Font): (glyph: number) => readonly opentype.PathCommand[] {
  let calls = 0;
  const counted = (pieces: Pieces | undefined): Pieces | undefined =>
    pieces &&
    new Proxy(pieces, {
      get(target, key) {
        calls += 1;
        if (calls > MOST_CALLS) throw new RangeError('glyph drawn from too many pieces');
        return Reflect.get(target, key);
      },
    });
  const cff: CffPieces = font as CffPieces;
  cff.gsubrs = counted(cff.gsubrs);
  const top = cff.tables.cff?.topDict;
  if (top) top._subrs = counted(top._subrs);
  for (const dict of top?._fdArray ?? []) dict._subrs = counted(dict._subrs);
  return (glyph) => {
    calls = 0;
    return font.glyphs.get(glyph).path.commands;
  };
}
