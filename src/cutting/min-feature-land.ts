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
export function narrowHollows(parts: readonly Part[], needed: number): NarrowHollow[] {
  const whole = extent(parts.map((p) => p.outside));
  const least = COUNTER_OF_SQUARE * whole ** 2;
  return parts.flatMap(({ outside, holes }) => [
    ...holes
      .filter((hole) => -area([hole]) > least)
      .flatMap((hole) => counter(landInside(hole, parts), needed)),
    ...closedBays(outside, needed, whole),
  ]);
}

const pieces = (shape: Polygons, width: number): Polyline[] =>
  inset(shape, width / 2).filter((ring) => area([ring]) > SPECK_MM2);

/** A counter must hold the disc, and not be parted by a passage too narrow for it. */
function counter(region: Polygons, needed: number): NarrowHollow[] {
  const island = region.length > 1;
  const stands = (width: number) => {
    const count = pieces(region, width).filter((ring) => area([ring]) > 0).length;
    return island ? count > 0 : count === 1;
  };
  if (stands(needed)) return [];
  const measured = greatestWidth(stands, needed);
  return [{ at: counterPlace(region, measured, needed), measured, ground: region[0]! }];
}

function counterPlace(region: Polygons, measured: number, needed: number): Point {
  const [first, second] = pieces(region, needed);
  if (first && second) {
    const path = (points: Polyline) => [{ points, closed: true }];
    return nearestPoints(path(first), path(second), Number.POSITIVE_INFINITY)!.at;
  }
  return middle(pieces(region, measured)[0] ?? region[0]!);
}

/** What lies round a ring that the disc, rolled in from outside, does not get to: bays, and rooms behind a passage. */
function closedBays(ring: Polyline, needed: number, whole: number): NarrowHollow[] {
  const filled = rolledRound(ring, needed);
  const narrow = (part: Polyline, ground: Polyline): NarrowHollow => {
    const measured = greatestWidth((width) => remainder(part, rolledRound(ring, width)).length > 0, needed);
    const at = middle(remainder(part, rolledRound(ring, measured))[0] ?? part);
    return { at, measured, ground };
  };
  const found = bays(ring)
    .filter(({ depth, mouth }) => depth > DEPTH_OF_MOUTH * mouth && depth > DEPTH_OF_WHOLE * whole)
    .flatMap((bay) => branches(bay).map((branch) => ({ bay, branch })))
    .filter(({ branch }) => remainder(branch, filled).length === 0)
    .map(({ bay, branch }) => narrow(branch, bay.ring));
  const grounds = found.map((f) => f.ground);
  const rooms = difference(filled, [ring])
    .filter((shut) => area([shut]) > needed ** 2 / 2 && area(intersection([shut], grounds)) < SPECK_MM2)
    .flatMap((shut) => pieces([shut], needed).map((disc) => narrow(disc, shut)));
  return [...found, ...rooms];
}

const branches = (bay: Bay): Polyline[] =>
  bay.deep().filter((branch) => farthest(branch, bay.depthAt) >= BRANCH_OF_DEPTH * bay.depth);

const remainder = (shape: Polyline, filled: Polygons): Polyline[] =>
  difference([shape], filled).filter((ring) => area([ring]) > SPECK_MM2);

/** Points of land that run out too far, but for those in hollows that are too narrow anyway. */
export function spurs(parts: readonly Part[], land: number, narrow: readonly NarrowHollow[]): Spur[] {
  const most = SPUR_OF_LAND * land;
  const grounds = narrow.map((n) => n.ground);
  const found = parts.flatMap(({ outside, holes }) => [
    ...residues(rolledRound(outside, land), [outside], [outside], most),
    ...holes.flatMap((hole) => {
      const region = landInside(hole, parts);
      return residues(region, opening(region, land), region, most);
    }),
  ]);
  return found
    .filter(({ reach, ring }) => reach > most && area(intersection([ring], grounds)) < SPECK_MM2)
    .map(({ reach, ring }) => ({ at: middle(ring), measured: reach }));
}
