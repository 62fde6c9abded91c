import type { Cutter } from '../documents/schema/cutter.js';
import type { LetteredMark, MotifMark } from '../documents/schema/design.js';
import { flatten } from '../geometry/flatten.js';
import { type CentredGlyph, centreGlyphs } from '../layout/glyph-placement.js';
import type { Font } from '../lettering/font.js';
import type { LineGlyph, ShapedLine } from '../lettering/shaped-line.js';
import { FLATTEN_TOLERANCE_MM } from '../units.js';
import {
  findingBetween,
  findingsWithin,
  type MinFeatureFinding,
  type MinFeatureParameters,
  type Piece,
} from './min-feature.js';
import { MinFeatureWork } from './min-feature-work.js';

/** A finding, and the label it was first met in. */
export interface LabelFinding extends MinFeatureFinding {
  readonly label: string;
}

/** What the check reads of a mark: how it is cut, and its letters or drawing. */
export interface CheckedMark {
  readonly mark: Pick<LetteredMark | MotifMark, 'kind' | 'way' | 'depth' | 'land'>;
  readonly font: Pick<Font, 'kind'>;
  /** Width of the cut at full depth, mm. */
  readonly cutWidth: number;
}

/** The most findings of one mark. */
const MOST_FINDINGS = 50;

/**
 * What in a fitted mark is too narrow to cut: each letter and each pair of neighbours once, under the first label that has
 * it. Letters are compared side by side on the flat, as the line sets them.
 */
export function markMinFeatures(
  of: CheckedMark,
  cutter: Cutter,
  texts: Iterable<{ readonly label: string; readonly line: ShapedLine; readonly size: number }>,
  work = new MinFeatureWork(),
): LabelFinding[] {
  const found: LabelFinding[] = [];
  const seen = new Set<string>();
  const once = (key: string, label: string, find: () => readonly MinFeatureFinding[]) => {
    if (seen.has(key) || found.length >= MOST_FINDINGS) return;
    seen.add(key);
    for (const one of find()) found.push({ ...one, label, place: `label ${label}` });
  };
  const met = new Map<number, Map<LineGlyph, Set<LineGlyph | undefined>>>();
  for (const { label, line, size } of texts) {
    const drawn = line.glyphs.filter((g) => g.glyph.path.length > 0);
    // Labels share their letters: most pairs are dismissed before anything is made for them.
    const pairs = met.get(size) ?? new Map<LineGlyph, Set<LineGlyph | undefined>>();
    met.set(size, pairs);
    if (drawn.every((letter, k) => pairs.get(letter)?.has(drawn[k + 1]))) continue;
    for (const [k, letter] of drawn.entries()) {
      const after = pairs.get(letter) ?? new Set();
      pairs.set(letter, after.add(drawn[k + 1]));
    }
    const glyphs = centreGlyphs({ ...line, glyphs: drawn });
    for (const [k, one] of glyphs.entries()) {
      const parameters = parametersOf(of, cutter, one);
      const atOrigin = { ...one, x: 0, y: 0 };
      if (!areAllSpots(parameters, size))
        once(`${one.glyph.key} ${size}`, label, () =>
          findingsWithin(pieceOf(atOrigin, size), parameters, work).filter(
            (f) => !isSpot(f, parameters, size),
          ),
        );
      const next = glyphs[k + 1];
      // The two drawings of one motif lie over one another by design.
      if (!next || next.x === one.x) continue;
      const [dx, dy] = [next.x - one.x, next.y - one.y];
      const key = `${one.glyph.key} ${next.glyph.key} ${size} ${dx.toFixed(6)} ${dy.toFixed(6)}`;
      once(key, label, () => {
        const gap = findingBetween(
          pieceOf(atOrigin, size),
          pieceOf({ ...next, x: dx, y: dy }, size),
          parameters,
          work,
        );
        return gap ? [gap] : [];
      });
    }
  }
  return found;
}

/** Hollows of a traced font narrower than this part of the letter are dots, drawn to be cut solid. */
const SPOT = 0.06;

const isSpot = (
  { kind, widthAtMost }: MinFeatureFinding,
  { way }: MinFeatureParameters,
  size: number,
): boolean => way === 'trace' && kind !== 'thin' && widthAtMost !== undefined && widthAtMost < SPOT * size;

/**
 * Whether nothing within a letter can be a fault: where no land is asked for, lines are found too close only nearer than
 * the cut is wide, and none that meet.
 */
const areAllSpots = ({ way, land, cutWidth: width }: MinFeatureParameters, size: number): boolean =>
  way === 'trace' && land === 0 && width <= SPOT * size;

function parametersOf(
  { mark, font, cutWidth: width }: CheckedMark,
  cutter: Cutter,
  { glyph }: CentredGlyph,
): MinFeatureParameters {
  const outline = font.kind === 'outline' && !glyph.stroked;
  const way = mark.way === 'trace' || !outline ? (outline ? 'outline' : 'trace') : mark.way;
  // A groove starts at the tip; every other cut is as wide as it is deep at its full depth.
  const tip = way === 'groove' && cutter.shape === 'cone' ? cutter.tip : width;
  return { way, cutWidth: width, tip, land: mark.land ?? 0, readApart: mark.kind === 'number' };
}

function pieceOf({ glyph, character, x, y }: CentredGlyph, size: number): Piece {
  const paths = flatten(glyph.path, size, FLATTEN_TOLERANCE_MM).map(({ points, closed }) => ({
    closed,
    points: points.map((v, i) => v + (i % 2 === 0 ? x : y) * size),
  }));
  return { name: character, paths };
}
