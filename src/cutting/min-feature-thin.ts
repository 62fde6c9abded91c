import { type Bounds, boundsOf, boundsOfAll } from '../geometry/bounds.js';
import type { Point, Polyline } from '../geometry/path.js';
import { area, inset, intersection, type Polygons } from '../geometry/polygons.js';
import type { Segment } from '../geometry/segment.js';
import { refuse } from './messages.js';
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
export function thinStrokes(shape: Polygons, cut: number, mostSteps = MOST_STEPS): Thin[] {
  const stepsOfOne = openingSteps(shape);
  let steps = 0;
  const lostOnce = (width: number): Residue[] => {
    steps += stepsOfOne;
    if (steps > mostSteps)
      throw refuse('cutting.too-many-strokes', '', { points: pointsOf(shape), most: mostSteps });
    return lostResidues(shape, width);
  };
  // The strokes of a drawing are much alike: what is lost at one width is asked for by many of them.
  const known = new Map<number, readonly Lost[]>();
  const lostAt = (width: number): readonly Lost[] => {
    let lost = known.get(width);
    if (!lost) {
      lost = lostOnce(width).map(({ ring }) => ({ ring, bounds: boundsOf(ring) }));
      known.set(width, lost);
    }
    return lost;
  };
  return lostOnce(cut).map((residue) => measuredThin(shape, residue, cut, lostAt));
}

/** Steps of the search for thin strokes in one drawing, each about half a microsecond of work. */
const MOST_STEPS = 10_000_000;

const pointsOf = (shape: Polygons): number => shape.reduce((sum, ring) => sum + ring.length / 2, 0);

/** What it takes to draw a shape in and out again, in steps: each point is held against the edges that pass at its height. */
function openingSteps(shape: Polygons): number {
  const [, low, , high] = boundsOfAll(shape);
  let climbed = 0;
  for (const ring of shape) {
    for (let i = 1, j = ring.length - 1; i < ring.length; j = i, i += 2)
      climbed += Math.abs(ring[i]! - ring[j]!);
  }
  return pointsOf(shape) * (1 + (high > low ? climbed / (high - low) : 0));
}

/** What a cut of some width does not reach. */
interface Lost {
  readonly ring: Polyline;
  readonly bounds: Bounds;
}

const lostResidues = (shape: Polygons, cut: number): Residue[] =>
  residues(shape, opening(shape, cut), shape, SHORT_OF_CUT * cut).filter(
    ({ contacts, reach }) => reach > (contacts > 1 ? LINK_OF_CUT : LIMB_OF_CUT) * cut || contacts === 0,
  );

function measuredThin(
  shape: Polygons,
  { ring, contacts, sides }: Residue,
  cut: number,
  lostAt: (width: number) => readonly Lost[],
): Thin {
  if (contacts > 1) {
    const link = narrowestBetween(sides, cut);
    if (link) return link;
  }
  const bounds = boundsOf(ring);
  const isLost = (width: number) =>
    lostAt(width).some(
      (other) => boundsMeet(other.bounds, bounds) && area(intersection([other.ring], [ring])) >= SPECK_MM2,
    );
  const piece = contacts === 0 ? intersection(shape, [ring]) : [];
  const passes = (width: number) => (contacts === 0 ? inset(piece, width / 2).length > 0 : !isLost(width));
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

const boundsMeet = (a: Bounds, b: Bounds): boolean =>
  a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
