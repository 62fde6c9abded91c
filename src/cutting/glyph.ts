import { flatten } from '../geometry/flatten.js';
import type { Path } from '../geometry/path.js';
import { type PlacedGlyph, placeOnSheet } from '../layout/glyph-placement.js';
import type { Font } from '../lettering/font.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';
import { CutWork } from './cut-work.js';
import type { CutBlock } from './cuts.js';
import { type CutParameters, cutLines, type DrawingCut } from './strategies.js';

/** What a glyph takes from its mark. */
export interface GlyphOf {
  readonly mark: string;
  readonly font: Pick<Font, 'id' | 'kind'>;
  /** Letter height, mm. */
  readonly size: number;
}

/** The cuts of one mark's glyphs: those that stand alike on their sheets, and differ in where these are turned to, are cut once. */
export type KnownGlyphs = Map<string, DrawingCut>;

/** The cut of one placed glyph. A space has none and gives undefined; nor has what the cutter is too wide for. */
export function cutGlyph(
  placed: PlacedGlyph,
  of: GlyphOf,
  parameters: CutParameters,
  known: KnownGlyphs = new Map(),
  work = new CutWork(),
): CutBlock | undefined {
  const block = glyphBlock(placed, of, parameters, known, work);
  return block.lines.length > 0 ? block : undefined;
}

/** As `cutGlyph`, but without lines where nothing is cut. */
export function glyphBlock(
  placed: PlacedGlyph,
  of: GlyphOf,
  parameters: CutParameters,
  known: KnownGlyphs,
  work: CutWork,
): CutBlock {
  const { glyph, x, y, rotation } = placed;
  const stance = `${glyph.key} ${of.size} ${x} ${y} ${rotation}`;
  const cut = known.get(stance) ?? cutPlaced(placed, of, parameters, work);
  known.set(stance, cut);
  return {
    key: blockKey(placed, of),
    mark: of.mark,
    name: placed.character,
    turn: placed.turn,
    ...cut,
    depth: parameters.depth,
    passes: parameters.passes,
  };
}

function cutPlaced(placed: PlacedGlyph, of: GlyphOf, parameters: CutParameters, work: CutWork): DrawingCut {
  const paths: Path[] = flatten(placed.glyph.path, of.size, FLATTEN_TOLERANCE_MM).map((p) => ({
    closed: p.closed,
    points: placeOnSheet(p.points, placed.rotation, placed.x, placed.y),
  }));
  const filled = of.font.kind === 'outline' && !placed.glyph.stroked;
  return cutLines(paths, filled, parameters, work);
}

/** Equal keys mean equal blocks: the glyph, and its place to a millionth of a mm. A mark is cut in one way only. */
const blockKey = (placed: PlacedGlyph, { mark, font, size }: GlyphOf): string =>
  [
    mark,
    font.id,
    placed.glyph.key,
    size,
    placed.turn.toFixed(7),
    placed.x.toFixed(6),
    placed.y.toFixed(6),
    placed.rotation,
  ].join(' ');
