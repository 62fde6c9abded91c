import { type Bounds, boundsMeet, boundsOf } from '../geometry/bounds.js';
import type { Point, Polyline } from '../geometry/path.js';
import { area, inset, intersection, type Polygons } from '../geometry/polygons.js';
import type { Segment } from '../geometry/segment.js';
import { nearestPoints } from './min-feature-near.js';
import { greatestWidth, middle, opening, type Residue, residues, SPECK_MM2 } from './min-feature-shape.js';
import { MinFeatureWork } from './min-feature-work.js';

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
export function thinStrokes(shape: Polygons, cut: number, work = new MinFeatureWork()): Thin[] {
  // The strokes of a drawing are much alike: what is lost at one width is asked for by many of them.
  const known = new Map<number, readonly Lost[]>();
  const lostAt = (width: number): readonly Lost[] => {
    let lost = known.get(width);
    if (!lost) {
      lost = lostResidues(shape, width, work).map(({ ring }) => ({ ring, bounds: boundsOf(ring) }));
      known.set(width, lost);
    }
    return lost;
  };
  return lostResidues(shape, cut, work).map((residue) => measuredThin(shape, residue, { cut, lostAt, work }));
}

/** What a cut of some width does not reach. */
interface Lost {
  readonly ring: Polyline;
  readonly bounds: Bounds;
}

interface ThinSearch {
  readonly cut: number;
  readonly lostAt: (width: number) => readonly Lost[];
  readonly work: MinFeatureWork;
}

const lostResidues = (shape: Polygons, cut: number, work: MinFeatureWork): Residue[] =>
  residues(
    { whole: shape, reached: opening(shape, cut, work), edges: shape },
    SHORT_OF_CUT * cut,
    work,
  ).filter(
    ({ contacts, reach }) => reach > (contacts > 1 ? LINK_OF_CUT : LIMB_OF_CUT) * cut || contacts === 0,
  );

function measuredThin(
  shape: Polygons,
  { ring, contacts, sides }: Residue,
  { cut, lostAt, work }: ThinSearch,
): Thin {
  if (contacts > 1) {
    work.takePairs((ring.length / 2) ** 2, [ring]);
    const link = narrowestBetween(sides, cut);
    if (link) return link;
  }
  const bounds = boundsOf(ring);
  const across = acrossLongestEdge(ring);
  const own = rangeAlong(ring, across);
  const mayMeet = (other: Lost) => {
    if (!boundsMeet(other.bounds, bounds)) return false;
    // The boxes of slanting strokes side by side meet, and they do not.
    work.takePairs(other.ring.length / 2, shape);
    const [low, high] = rangeAlong(other.ring, across);
    return low < own[1] && high > own[0];
  };
  const isLost = (width: number) => {
    const lost = lostAt(width);
    work.takePairs(lost.length, shape);
    return lost.some((other) => mayMeet(other) && overlaps(other.ring));
  };
  const overlaps = (other: Polyline) => {
    work.takeSweep([other, ring]);
    return area(intersection([other], [ring])) >= SPECK_MM2;
  };
  if (contacts === 0) work.takeSweep(shape, [ring]);
  const piece = contacts === 0 ? intersection(shape, [ring]) : [];
  const holds = (width: number) => {
    work.takeOffset(piece, -width / 2);
    return inset(piece, width / 2).length > 0;
  };
  const passes = (width: number) => (contacts === 0 ? holds(width) : !isLost(width));
  return { at: middle(ring), measured: greatestWidth(passes, cut) };
}

/** The direction square to the longest edge of a ring. */
function acrossLongestEdge(ring: Polyline): Point {
  let [x, y, longest] = [1, 0, 0];
  for (let i = 0, h = ring.length - 2; i < ring.length; h = i, i += 2) {
    const [dx, dy] = [ring[i]! - ring[h]!, ring[i + 1]! - ring[h + 1]!];
    const length = Math.hypot(dx, dy);
    if (length > longest) [x, y, longest] = [-dy / length, dx / length, length];
  }
  return [x, y];
}

/** How far a ring reaches along a direction, from and to. */
function rangeAlong(ring: Polyline, [x, y]: Point): readonly [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < ring.length; i += 2) {
    const at = ring[i]! * x + ring[i + 1]! * y;
    low = Math.min(low, at);
    high = Math.max(high, at);
  }
  return [low, high];
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
