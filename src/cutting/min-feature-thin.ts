import type { Point, Polyline } from '../geometry/path.js';
import { area, inset, intersection, type Polygons } from '../geometry/polygons.js';
import type { Segment } from '../geometry/segment.js';
import { nearestPoints } from './min-feature-near.js';
import { greatestWidth, middle, opening, type Residue, residues, SPECK_MM2 } from './min-feature-shape.js';

/** A stroke too thin to cut: where, and how wide it is, mm. */
export interface Thin {
  readonly at: Point;
  readonly measured: number;
}

/** A corner or a serif may run out so many times the narrowest cut beyond where the cutter gets to. */
const LIMB_OF_CUT = 2;
/** A link is longer than this part of the cut. */
const LINK_OF_CUT = 0.2;
/** What is left in a corner is shorter than this part of the cut; no stroke is. */
const SHORT_OF_CUT = 0.7;

/** Strokes of an area that are narrower than a cut, mm: links between wider places, limbs, and whole parts. */
export const thinStrokes = (shape: Polygons, cut: number): Thin[] =>
  lostResidues(shape, cut).map((residue) => measuredThin(shape, residue, cut));

const lostResidues = (shape: Polygons, cut: number): Residue[] =>
  residues(shape, opening(shape, cut), shape, SHORT_OF_CUT * cut).filter(
    ({ contacts, reach }) => reach > (contacts > 1 ? LINK_OF_CUT : LIMB_OF_CUT) * cut || contacts === 0,
  );

function measuredThin(shape: Polygons, { ring, contacts, sides }: Residue, cut: number): Thin {
  if (contacts > 1) {
    const link = narrowestBetween(sides, cut);
    if (link) return link;
  }
  const piece = intersection(shape, [ring]);
  const passes = (width: number) =>
    contacts === 0
      ? inset(piece, width / 2).length > 0
      : lostResidues(shape, width).every((other) => area(intersection([other.ring], [ring])) < SPECK_MM2);
  return { at: middle(ring), measured: greatestWidth(passes, cut) };
}

/** Where the sides of a link come nearest. */
function narrowestBetween(sides: readonly (readonly Segment[])[], cut: number): Thin | undefined {
  const paths = sides.map((side) =>
    side.map((s) => ({ points: Float64Array.from(s) as Polyline, closed: false })),
  );
  let best: Thin | undefined;
  for (const [i, a] of paths.entries())
    for (const b of paths.slice(i + 1)) {
      const found = nearestPoints(a, b, best?.measured ?? cut);
      if (found) best = { at: found.at, measured: found.distance };
    }
  return best;
}
