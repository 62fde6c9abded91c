import {
  type CloseUpHow,
  closesUpBetween,
  closesUpWithin,
  type Finding,
  type Piece,
} from '../cutting/close-up.js';
import { cutWidth } from '../cutting/width.js';
import type { Cutter } from '../documents/schema/cutter.js';
import type { LetteredMark, MotifMark } from '../documents/schema/design.js';
import { flatten } from '../geometry/flatten.js';
import { type CentredGlyph, centred } from '../layout/place.js';
import type { Font } from '../lettering/font.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';

/** A finding, and the label it was first met in. */
export interface Closing extends Finding {
  readonly label: string;
}

/** What is asked of a mark: how it is cut, and in what letters or drawing. */
export interface Closed {
  readonly mark: Pick<LetteredMark | MotifMark, 'way' | 'depth' | 'land'>;
  readonly font: Pick<Font, 'kind'>;
}

/** Findings of one mark told at the most. */
const MOST = 50;

/**
 * What of a fitted mark's labels will close up when it is cut, each letter and each pair of neighbours told once, in
 * the name of its first label. Letters are held beside one another on the flat, as the line sets them.
 */
export function closingOf(
  of: Closed,
  cutter: Cutter,
  settings: Iterable<readonly [label: string, setting: { readonly line: ShapedLine; readonly size: number }]>,
): Closing[] {
  const found: Closing[] = [];
  const seen = new Set<string>();
  const once = (key: string, label: string, judge: () => readonly Finding[]) => {
    if (seen.has(key) || found.length >= MOST) return;
    seen.add(key);
    for (const one of judge()) found.push({ ...one, label, place: `label ${label}` });
  };
  for (const [label, { line, size }] of settings) {
    const glyphs = centred(line).filter((g) => g.glyph.path.length > 0);
    for (const [k, one] of glyphs.entries()) {
      const how = howOf(of, cutter, one);
      const alone = { ...one, x: 0, y: 0 };
      once(`${one.glyph.key} ${size}`, label, () =>
        closesUpWithin(pieceOf(alone, size), how).filter((f) => !isSpot(f, how, size)),
      );
      const next = glyphs[k + 1];
      // The two drawings of one motif lie over one another by design.
      if (!next || next.x === one.x) continue;
      const [dx, dy] = [next.x - one.x, next.y - one.y];
      const key = `${one.glyph.key} ${next.glyph.key} ${size} ${dx.toFixed(6)} ${dy.toFixed(6)}`;
      once(key, label, () => {
        const gap = closesUpBetween(pieceOf(alone, size), pieceOf({ ...next, x: dx, y: dy }, size), how);
        return gap ? [gap] : [];
      });
    }
  }
  return found;
}

/** Hollows of a traced font narrower than this part of the letter are dots, drawn to be cut solid. */
const SPOT = 0.06;

const isSpot = ({ kind, widthAtMost }: Finding, { way }: CloseUpHow, size: number): boolean =>
  way === 'trace' && kind !== 'thin' && widthAtMost !== undefined && widthAtMost < SPOT * size;

function howOf({ mark, font }: Closed, cutter: Cutter, { glyph }: CentredGlyph): CloseUpHow {
  const outline = font.kind === 'outline' && !glyph.stroked;
  const way = mark.way === 'trace' || !outline ? (outline ? 'outline' : 'trace') : mark.way;
  const width = cutWidth(cutter, mark.depth);
  // A groove starts at the tip; every other cut is as wide as it is deep at its full depth.
  const tip = way === 'groove' && cutter.shape === 'cone' ? cutter.tip : width;
  return { way, cutWidth: width, tip, land: mark.land ?? 0 };
}

function pieceOf({ glyph, character, x, y }: CentredGlyph, size: number): Piece {
  const paths = flatten(glyph.path, size, FLATTEN_TOLERANCE_MM).map(({ points, closed }) => ({
    closed,
    points: points.map((v, i) => v + (i % 2 === 0 ? x : y) * size),
  }));
  return { name: character, paths };
}
