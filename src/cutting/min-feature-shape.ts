import { Clipper, type PointD } from 'clipper2-ts';
import { boundsOf, boundsOfAll, centreOf, diagonalOf } from '../geometry/bounds.js';
import { containsPoint } from '../geometry/inside.js';
import { orientation } from '../geometry/orientation.js';
import { type Path, type Point, type Polyline, reversePolyline } from '../geometry/path.js';
import { area, difference, grow, inset, intersection, type Polygons } from '../geometry/polygons.js';
import { distanceToSegments, type Segment, segmentsOf } from '../geometry/segment.js';
import type { MinFeatureWork } from './min-feature-work.js';

/** Pieces smaller than this are no more than rounding, mm2. */
export const SPECK_MM2 = 1e-6;
/** Chords are not arcs: what is left over along them for that reason is thinner than this, mm. */
const HAIR_MM = 0.0006;
/** Stretches of a piece's edge shorter than this part of the piece's least length are the blur between two kinds. */
const SHORT_RUN = 0.05;
/** Widths are found to this, mm. */
const WIDTH_MM = 0.0005;
/** An edge farther than this from a shape's own edge is not its own, mm. */
const OWN_EDGE_MM = 0.001;

/** Points are left out of lines as long as no line moves by more than this, mm: widths are asked far less finely. */
const COARSE_MM = 0.002;
/** Points of a line that are thinned out at once: each is left out after a look back over those left out before it. */
const MOST_AT_ONCE = 1000;

export const coarsen = (paths: readonly Path[]): Path[] =>
  paths.map(({ points, closed }) => {
    const corners = Array.from({ length: points.length / 2 }, (_, i) => ({
      x: points[2 * i]!,
      y: points[2 * i + 1]!,
    }));
    const kept =
      corners.length > MOST_AT_ONCE
        ? thinnedInRuns(corners, closed)
        : Clipper.simplifyPathD(corners, COARSE_MM, closed);
    return { points: Float64Array.from(kept.flatMap(({ x, y }) => [x, y])), closed };
  });

/** A long line thinned out run by run. The ends of runs stay. */
function thinnedInRuns(corners: readonly PointD[], closed: boolean): PointD[] {
  const line = closed ? [...corners, corners[0]!] : corners;
  const kept: PointD[] = [];
  for (let from = 0; from < line.length - 1; from += MOST_AT_ONCE)
    kept.push(
      ...Clipper.simplifyPathD(line.slice(from, from + MOST_AT_ONCE + 1), COARSE_MM, false).slice(0, -1),
    );
  return closed ? kept : [...kept, line.at(-1)!];
}

/** One connected part of a shape: its outside and what it goes round. */
export interface Part {
  readonly outside: Polyline;
  readonly holes: readonly Polyline[];
}

/** The connected parts of polygons. */
export function partsOf(polygons: Polygons, work: MinFeatureWork): Part[] {
  const points = polygons.reduce((sum, ring) => sum + ring.length / 2, 0);
  work.takePairs(polygons.filter((ring) => area([ring]) < 0).length * points, polygons);
  const parts = polygons
    .filter((ring) => area([ring]) > 0)
    .map((outside) => ({ outside, holes: [] as Polyline[], size: area([outside]) }))
    .sort((a, b) => a.size - b.size);
  for (const ring of polygons)
    if (area([ring]) < 0) parts.find((p) => containsRing(p.outside, ring))?.holes.push(ring);
  return parts;
}

/** Whether the first point of one ring lies in another. */
export const containsRing = (ring: Polyline, other: Polyline): boolean =>
  containsPoint([ring], other[0]!, other[1]!);

/** Where a disc so wide, mm, can get to inside a shape. */
export function opening(shape: Polygons, width: number, work: MinFeatureWork): Polygons {
  work.takeOffset(shape, -width / 2);
  const middles = inset(shape, width / 2);
  work.takeOffset(middles, width / 2);
  return grow(middles, width / 2 + HAIR_MM);
}

/** A ring with all that a disc so wide, mm, rolled round it from outside cannot get to. */
export function rolledRound(ring: Polyline, width: number, work: MinFeatureWork): Polygons {
  work.takeOffset([ring], width / 2);
  const outside = grow([ring], width / 2).filter((r) => area([r]) > 0);
  work.takeOffset(outside, -width / 2);
  return inset(outside, width / 2 + HAIR_MM);
}

/** The greatest width, mm, up to `needed` at which something holds that holds of no width at all. */
export function greatestWidth(holdsAt: (width: number) => boolean, needed: number): number {
  let [low, high] = [0, needed];
  while (high - low > WIDTH_MM) {
    const mid = (low + high) / 2;
    if (holdsAt(mid)) low = mid;
    else high = mid;
  }
  return low;
}

/** The land a ring of cut goes round, less what is cut inside it. */
export function landInside(hole: Polyline, parts: readonly Part[]): Polygons {
  const islands = parts
    .filter((p) => containsRing(reversePolyline(hole), p.outside))
    .map((p) => reversePolyline(p.outside));
  return [reversePolyline(hole), ...islands];
}

/** A hollow in the outside of a shape, as far as the straight line across its mouth. */
export interface Bay {
  readonly ring: Polyline;
  /** From the mouth to the deepest point, mm. */
  readonly depth: number;
  /** Across its mouth, mm. */
  readonly mouth: number;
  /** How far a point lies in from the mouth, mm. */
  readonly depthAt: (x: number, y: number) => number;
  /** What lies deeper than half the depth, in one or several branches. */
  readonly deep: () => Polyline[];
}

/** The bays of a ring that runs anticlockwise. */
export function bays(ring: Polyline): Bay[] {
  const tops = hull(ring);
  return tops.flatMap((from, k) => {
    const to = tops[(k + 1) % tops.length]!;
    const steps = (to - from + ring.length / 2) % (ring.length / 2);
    return steps < 2 ? [] : [bay(ring, from, steps)];
  });
}

function bay(ring: Polyline, from: number, steps: number): Bay {
  const n = ring.length / 2;
  const chain = Float64Array.from(
    { length: 2 * (steps + 1) },
    (_, i) => ring[2 * ((from + (i >> 1)) % n) + (i % 2)]!,
  );
  const [ax, ay, bx, by] = [chain[0]!, chain[1]!, chain[2 * steps]!, chain[2 * steps + 1]!];
  const l = Math.hypot(bx - ax, by - ay);
  const [ux, uy] = [(bx - ax) / l, (by - ay) / l];
  const depthAt = (x: number, y: number) => ux * (y - ay) - uy * (x - ax);
  const depth = farthest(chain, depthAt);
  const inside = reversePolyline(chain);
  const deep = () => {
    const at = (along: number, inward: number) => [
      ax + along * ux - inward * uy,
      ay + along * uy + inward * ux,
    ];
    const far = 2 * (l + depth) + ring.length;
    const half = [...at(-far, depth / 2), ...at(far, depth / 2), ...at(far, far), ...at(-far, far)];
    return intersection([inside], [Float64Array.from(half)]).filter((r) => area([r]) > 0);
  };
  return { ring: inside, depth, mouth: l, depthAt, deep };
}

export function farthest(points: Polyline, distanceAt: (x: number, y: number) => number): number {
  let most = 0;
  for (let i = 0; i < points.length; i += 2) most = Math.max(most, distanceAt(points[i]!, points[i + 1]!));
  return most;
}

/** Which points of a ring are corners of its convex hull, in the ring's own order (the monotone chain). */
function hull(ring: Polyline): number[] {
  const x = (i: number) => ring[2 * i]!;
  const y = (i: number) => ring[2 * i + 1]!;
  const order = Array.from({ length: ring.length / 2 }, (_, i) => i).sort(
    (a, b) => x(a) - x(b) || y(a) - y(b),
  );
  const side = (points: readonly number[]) => {
    const kept: number[] = [];
    for (const p of points) {
      while (kept.length > 1) {
        const [a, b] = [kept[kept.length - 2]!, kept[kept.length - 1]!];
        if (orientation(x(a), y(a), x(b), y(b), x(p), y(p)) > 0) break;
        kept.pop();
      }
      kept.push(p);
    }
    return kept;
  };
  return [...new Set([...side(order), ...side(order.reverse())])].sort((a, b) => a - b);
}

/** Where a disc cannot get to: a piece of a shape, and how it hangs on the rest. */
export interface Residue {
  readonly ring: Polyline;
  /** Stretches of its edge beyond which the disc gets to. */
  readonly contacts: number;
  /** Stretches of its edge that are the shape's own. */
  readonly sides: readonly (readonly Segment[])[];
  /** The farthest it reaches from where the disc gets to, mm. */
  readonly reach: number;
}

/** The pieces of `whole` outside `reached` that are at least so long, mm; `edges` is the shape's own edge. */
export function residues(
  {
    whole,
    reached,
    edges,
  }: { readonly whole: Polygons; readonly reached: Polygons; readonly edges: Polygons },
  long: number,
  work: MinFeatureWork,
): Residue[] {
  work.takeSweep(whole, reached);
  const left = difference(whole, reached).filter((ring) => area([ring]) > SPECK_MM2 && extent([ring]) > long);
  if (left.length === 0) return [];
  const own = edges.flatMap((points) => segmentsOf({ points, closed: true }));
  return left.map((ring) => {
    const near = nearBox(own, ring);
    work.takePairs(own.length + ring.length * near.length, edges);
    return residue(ring, near, long);
  });
}

function residue(ring: Polyline, own: readonly Segment[], long: number): Residue {
  const isOwn = ([ax, ay, bx, by]: Segment) =>
    distanceToSegments((ax + bx) / 2, (ay + by) / 2, own) < OWN_EDGE_MM;
  const all = runs(segmentsOf({ points: ring, closed: true }), isOwn).filter(
    (run) => lengthOf(run.segments) > SHORT_RUN * long,
  );
  const joined = joinedRuns(all);
  const contacts = joined.filter((run) => !run.own);
  const beyond = contacts.flatMap((run) => run.segments);
  return {
    ring,
    contacts: contacts.length,
    sides: joined.filter((run) => run.own).map((run) => run.segments),
    reach:
      beyond.length === 0
        ? extent([ring])
        : farthest(withMiddles(ring), (x, y) => distanceToSegments(x, y, beyond)),
  };
}

/** A ring's points and the middles of its edges: the side of a straight link has no point but its ends. */
const withMiddles = (points: Polyline): Polyline =>
  Float64Array.from(
    segmentsOf({ points, closed: true }).flatMap(([ax, ay, bx, by]) => [
      ax,
      ay,
      (ax + bx) / 2,
      (ay + by) / 2,
    ]),
  );

interface OwnedRun {
  readonly own: boolean;
  readonly segments: readonly Segment[];
}

const lengthOf = (segments: readonly Segment[]): number =>
  segments.reduce((sum, [ax, ay, bx, by]) => sum + Math.hypot(bx - ax, by - ay), 0);

const runs = (segments: readonly Segment[], isOwn: (s: Segment) => boolean): OwnedRun[] =>
  joinedRuns(segments.map((s) => ({ own: isOwn(s), segments: [s] })));

/** Neighbours of one kind become one, the last and the first of a ring among them. */
function joinedRuns(all: readonly OwnedRun[]): OwnedRun[] {
  const out: { own: boolean; segments: Segment[] }[] = [];
  for (const { own, segments } of all) {
    if (out.at(-1)?.own === own) out.at(-1)!.segments.push(...segments);
    else out.push({ own, segments: [...segments] });
  }
  if (out.length > 1 && out[0]!.own === out.at(-1)!.own) out[0]!.segments.unshift(...out.pop()!.segments);
  return out;
}

function nearBox(segments: readonly Segment[], ring: Polyline): Segment[] {
  const [x0, y0, x1, y1] = boundsOf(ring);
  const e = OWN_EDGE_MM;
  return segments.filter(
    ([ax, ay, bx, by]) =>
      Math.max(ax, bx) > x0 - e &&
      Math.min(ax, bx) < x1 + e &&
      Math.max(ay, by) > y0 - e &&
      Math.min(ay, by) < y1 + e,
  );
}

/** From corner to corner of the box round some rings, mm. */
export const extent = (rings: readonly Polyline[]): number => diagonalOf(boundsOfAll(rings));

/** The middle of a ring's points: a place to show, not a centre of gravity. */
export const middle = (ring: Polyline): Point => centreOf(boundsOf(ring));
