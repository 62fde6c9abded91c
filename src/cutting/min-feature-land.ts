import type { Point, Polyline } from '../geometry/path.js';
import { area, difference, inset, intersection, type Polygons } from '../geometry/polygons.js';
import { nearestPoints } from './min-feature-near.js';
import {
  type Bay,
  bays,
  extent,
  farthest,
  greatestWidth,
  landInside,
  middle,
  opening,
  type Part,
  residues,
  rolledRound,
  SPECK_MM2,
} from './min-feature-shape.js';
import type { MinFeatureWork } from './min-feature-work.js';

/** A hollow of a drawing that is too narrow: the widest disc that gets into it, mm, and all its ground. */
export interface NarrowHollow {
  readonly at: Point;
  readonly measured: number;
  readonly ground: Polyline;
}

/** A point of land that runs out so far, mm. */
export interface Spur {
  readonly at: Point;
  readonly measured: number;
}

/** A point of land may run out so many times the land's width beyond where it is wide enough. */
export const SPUR_OF_LAND = 2;
/** Hollows less deep than these parts of their mouth, and of the whole drawing, are no bays. */
const DEPTH_OF_MOUTH = 0.4;
const DEPTH_OF_WHOLE = 0.24;
/** A bay is open when a disc comes more than half-way in, into every branch that is at least so deep, as parts of it. */
const BRANCH_OF_DEPTH = 0.75;
/** Counters smaller than this part of the square of the drawing's extent are dots, or lines that cross by design. */
const COUNTER_OF_SQUARE = 0.001;

/** The counters and bays of a drawing into which a disc `needed` mm wide does not get. */
export function narrowHollows(parts: readonly Part[], needed: number, work: MinFeatureWork): NarrowHollow[] {
  const whole = extent(parts.map((p) => p.outside));
  const least = COUNTER_OF_SQUARE * whole ** 2;
  return parts.flatMap(({ outside, holes }) => [
    ...holes
      .filter((hole) => -area([hole]) > least)
      .flatMap((hole) => counter(landInside(hole, parts), needed, work)),
    ...closedBays(outside, { needed, whole, work }),
  ]);
}

function pieces(shape: Polygons, width: number, work: MinFeatureWork): Polyline[] {
  work.takeOffset(shape, -width / 2);
  return inset(shape, width / 2).filter((ring) => area([ring]) > SPECK_MM2);
}

/** A counter must hold the disc, and not be parted by a passage too narrow for it. */
function counter(region: Polygons, needed: number, work: MinFeatureWork): NarrowHollow[] {
  const island = region.length > 1;
  const stands = (width: number) => {
    const count = pieces(region, width, work).filter((ring) => area([ring]) > 0).length;
    return island ? count > 0 : count === 1;
  };
  if (stands(needed)) return [];
  const measured = greatestWidth(stands, needed);
  return [{ at: counterPlace(region, { measured, needed, work }), measured, ground: region[0]! }];
}

function counterPlace(
  region: Polygons,
  { measured, needed, work }: { measured: number; needed: number; work: MinFeatureWork },
): Point {
  const [first, second] = pieces(region, needed, work);
  if (first && second) {
    work.takePairs((first.length * second.length) / 4, region);
    const path = (points: Polyline) => [{ points, closed: true }];
    return nearestPoints(path(first), path(second), Number.POSITIVE_INFINITY)!.at;
  }
  return middle(pieces(region, measured, work)[0] ?? region[0]!);
}

/** What lies round a ring that the disc, rolled in from outside, does not get to: bays, and rooms behind a passage. */
function closedBays(
  ring: Polyline,
  { needed, whole, work }: { needed: number; whole: number; work: MinFeatureWork },
): NarrowHollow[] {
  const all = bays(ring);
  const deep = all
    .filter(({ depth, mouth }) => depth > DEPTH_OF_MOUTH * mouth && depth > DEPTH_OF_WHOLE * whole)
    .flatMap((bay) => branches(bay, work).map((branch) => ({ bay, branch })));
  // A room lies within a bay.
  const leastRoom = needed ** 2 / 2;
  if (deep.length === 0 && all.every((bay) => area([bay.ring]) <= leastRoom)) return [];
  // Bays ask for the same widths.
  const known = new Map<number, Polygons>();
  const rolled = (width: number): Polygons => {
    const filled = known.get(width) ?? rolledRound(ring, width, work);
    known.set(width, filled);
    return filled;
  };
  const remainder = (shape: Polyline, filled: Polygons): Polyline[] => {
    work.takeSweep([shape], filled);
    return difference([shape], filled).filter((left) => area([left]) > SPECK_MM2);
  };
  const narrow = (part: Polyline, ground: Polyline): NarrowHollow => {
    const measured = greatestWidth((width) => remainder(part, rolled(width)).length > 0, needed);
    const at = middle(remainder(part, rolled(measured))[0] ?? part);
    return { at, measured, ground };
  };
  const filled = rolled(needed);
  const found = deep
    .filter(({ branch }) => remainder(branch, filled).length === 0)
    .map(({ bay, branch }) => narrow(branch, bay.ring));
  const grounds = found.map((f) => f.ground);
  work.takeSweep(filled, [ring]);
  const rooms = difference(filled, [ring])
    .filter((shut) => area([shut]) > leastRoom && !meetsAny(shut, grounds, work))
    .flatMap((shut) => pieces([shut], needed, work).map((disc) => narrow(disc, shut)));
  return [...found, ...rooms];
}

function branches(bay: Bay, work: MinFeatureWork): Polyline[] {
  work.takeSweep([bay.ring]);
  return bay.deep().filter((branch) => farthest(branch, bay.depthAt) >= BRANCH_OF_DEPTH * bay.depth);
}

function meetsAny(ring: Polyline, grounds: Polygons, work: MinFeatureWork): boolean {
  if (grounds.length === 0) return false;
  work.takeSweep([ring], grounds);
  return area(intersection([ring], grounds)) >= SPECK_MM2;
}

/** Points of land that run out too far, but for those in hollows that are too narrow anyway. */
export function spurs(
  parts: readonly Part[],
  { land, narrow, work }: { land: number; narrow: readonly NarrowHollow[]; work: MinFeatureWork },
): Spur[] {
  // Where no land is asked for, none runs out too far.
  if (land === 0) return [];
  const most = SPUR_OF_LAND * land;
  const grounds = narrow.map((n) => n.ground);
  const found = parts.flatMap(({ outside, holes }) => [
    ...residues(
      { whole: rolledRound(outside, land, work), reached: [outside], edges: [outside] },
      most,
      work,
    ),
    ...holes.flatMap((hole) => {
      const region = landInside(hole, parts);
      return residues({ whole: region, reached: opening(region, land, work), edges: region }, most, work);
    }),
  ]);
  return found
    .filter(({ reach, ring }) => reach > most && !meetsAny(ring, grounds, work))
    .map(({ reach, ring }) => ({ at: middle(ring), measured: reach }));
}
