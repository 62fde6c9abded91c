import { Clipper, EndType, FillRule, JoinType, type PathsD } from 'clipper2-ts';
import { ARC_SAG_MM } from './arc-sag.js';
import type { Path, Polyline } from './path.js';
import { clustersToOffset, clustersToSweep } from './sweep-steps.js';

/**
 * Polygons on a sheet, each a closed ring x0, y0, x1, y1, ... in mm. Outer rings run anticlockwise, holes
 * clockwise. The work is Clipper2's; this file carries coordinates to and from it, and rings that have nothing to do with
 * one another apart where they are many: Clipper holds each point against every edge at its height.
 */
export type Polygons = readonly Polyline[];

/** Decimal places Clipper works to: a nanometre. */
const PRECISION = 6;
/** Clipper's limit of a miter, in half widths: no offset here has miters. */
const MITER_LIMIT = 2;

const inflate = (polygons: Polygons, by: number): Polyline[] =>
  clustersToOffset(polygons, by).flatMap((cluster) =>
    fromPaths(
      Clipper.inflatePathsD(
        toPaths(union(cluster)),
        by,
        JoinType.Round,
        EndType.Polygon,
        MITER_LIMIT,
        PRECISION,
        ARC_SAG_MM,
      ),
    ),
  );

/** Grown by `by` mm with round corners, so that every point within `by` of the polygons is inside. */
export const grow = (polygons: Polygons, by: number): Polygons =>
  by === 0 ? union(polygons) : inflate(polygons, by + ARC_SAG_MM);

/** Drawn in by `by` mm: the places a disc of that radius can have its middle without reaching outside. */
export const inset = (polygons: Polygons, by: number): Polygons => inflate(polygons, -by);

/** How the ends and corners of a line are drawn. */
export interface LineStyle {
  readonly ends: 'butt' | 'round' | 'square';
  readonly corners: 'round' | 'bevel';
  /** How far the chords of a round may lie inside the true arc, in the unit of the lines. */
  readonly sag: number;
  /** Decimal places of the result. */
  readonly precision: number;
}

const ENDS = { butt: EndType.Butt, round: EndType.Round, square: EndType.Square } as const;
const CORNERS = { round: JoinType.Round, bevel: JoinType.Bevel } as const;

/** The outlines of lines `width` wide, open lines first. They may overlap where lines come near one another. */
export const outlineLines = (paths: readonly Path[], width: number, style: LineStyle): Polyline[] =>
  outlinesByKind(paths, width, style).flat();

/** The outlines of each kind of line; no two of one kind overlap. */
function outlinesByKind(
  paths: readonly Path[],
  width: number,
  { ends, corners, sag, precision }: LineStyle,
): Polyline[][] {
  const outline = (lines: readonly Path[], end: EndType): Polyline[] => {
    if (lines.length === 0) return [];
    const flat = toPaths(lines.map((line) => line.points));
    return fromPaths(
      Clipper.inflatePathsD(flat, width / 2, CORNERS[corners], end, MITER_LIMIT, precision, sag),
    );
  };
  // Clipper fails at a closed line whose points all round to one place, and takes every line after one of two for open.
  const places = new Map(paths.map((path) => [path, path.closed ? countPlaces(path.points, precision) : 0]));
  const closed = (is: (count: number) => boolean) => paths.filter((p) => p.closed && is(places.get(p)!));
  // A line that goes nowhere has no side for a butt end, which Clipper draws as a square all the same.
  const isDrawn = ({ points }: Path) => ends !== 'butt' || countPlaces(points, precision) > 1;
  return [
    outline(
      paths.filter((path) => !path.closed && isDrawn(path)),
      ENDS[ends],
    ),
    outline(
      closed((count) => count > 2),
      EndType.Joined,
    ),
    outline(
      closed((count) => count === 2),
      corners === 'round' ? EndType.Round : EndType.Butt,
    ),
    // A dot, which a line with butt ends is not drawn as.
    ...(ends === 'butt' ? [] : closed((count) => count === 1)).map(({ points }) =>
      outline([{ points: points.subarray(0, 2), closed: false }], ENDS[ends]),
    ),
  ];
}

/** How many places the points of a ring come to when they are rounded, those equal to the one before left out. */
function countPlaces(points: Polyline, precision: number): number {
  const scale = 10 ** precision;
  const differs = (i: number, j: number) =>
    Math.round(points[i]! * scale) !== Math.round(points[j]! * scale) ||
    Math.round(points[i + 1]! * scale) !== Math.round(points[j + 1]! * scale);
  let count = 1;
  let last = 0;
  for (let i = 2; i < points.length; i += 2) {
    if (!differs(i, last)) continue;
    count++;
    last = i;
  }
  return count > 1 && !differs(0, last) ? count - 1 : count;
}

/** What lies within half a width, mm, of lines: the ground that a round cutter passes over. */
export function sweepAtOnce(paths: readonly Path[], width: number): Polygons {
  const style = { ends: 'round', corners: 'round', sag: ARC_SAG_MM, precision: PRECISION } as const;
  const drawn = outlinesByKind(paths, width, style).filter((outlines) => outlines.length > 0);
  return drawn.length > 1 ? union(drawn.flat()) : (drawn[0] ?? []);
}

/** What lies within rings by the non-zero rule, as outer rings and holes that neither cross nor overlap. */
export const union = (rings: Polygons): Polygons => unite(rings, FillRule.NonZero);

/** As `union`, by the even-odd rule. */
export const unionEvenOdd = (rings: Polygons): Polygons => unite(rings, FillRule.EvenOdd);

const unite = (rings: Polygons, rule: FillRule): Polygons =>
  clustersToSweep(rings).flatMap((cluster) =>
    fromPaths(Clipper.unionD(toAreas(cluster), [], rule, PRECISION)),
  );

export const difference = (from: Polygons, less: Polygons): Polygons =>
  combine(from, less, (a, b) => Clipper.differenceD(a, b, FillRule.NonZero, PRECISION));

export const intersection = (a: Polygons, b: Polygons): Polygons =>
  combine(a, b, (p, q) => Clipper.intersectD(p, q, FillRule.NonZero, PRECISION));

function combine(a: Polygons, b: Polygons, operation: (p: PathsD, q: PathsD) => PathsD): Polygons {
  // A ring may be on both sides: a view of its own makes it another.
  const first = new Set(a.map((ring) => ring.subarray()));
  const clusters = clustersToSweep([...first, ...b]);
  if (clusters.length === 1) return fromPaths(operation(toAreas(a), toAreas(b)));
  return clusters.flatMap((cluster) => {
    const own = cluster.filter((ring) => first.has(ring));
    const other = cluster.filter((ring) => !first.has(ring));
    return own.length === 0 ? [] : fromPaths(operation(toAreas(own), toAreas(other)));
  });
}

/** Signed area, mm2: holes count against. */
export function area(polygons: Polygons): number {
  let twice = 0;
  for (const ring of polygons) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2)
      twice += ring[j]! * ring[i + 1]! - ring[i]! * ring[j + 1]!;
  }
  return twice / 2;
}

function toPaths(polygons: Polygons): PathsD {
  return polygons.map((ring) => {
    const path = [];
    for (let i = 0; i < ring.length; i += 2) path.push({ x: ring[i]!, y: ring[i + 1]! });
    return path;
  });
}

/** Rings that bound areas, for Clipper to unite or cut. */
const toAreas = (polygons: Polygons): PathsD => toPaths(polygons).map(withoutLevelSpikes);

/**
 * A ring without the points at which it turns straight back along a level line. They bound no area; but clipper2-ts 2.0.1
 * does not end where such a spike lies over another level edge of its ring.
 */
function withoutLevelSpikes(path: PathsD[number]): PathsD[number] {
  const level = path.map(({ y }) => Math.round(y * 10 ** PRECISION));
  const turnsBack = (before: number, at: number, after: number): boolean =>
    level[before] === level[at] &&
    level[at] === level[after] &&
    (path[at]!.x - path[before]!.x) * (path[after]!.x - path[at]!.x) <= 0;
  const left: number[] = [];
  for (let i = 0; i < path.length; i++) {
    while (left.length > 1 && turnsBack(left.at(-2)!, left.at(-1)!, i)) left.pop();
    left.push(i);
  }
  // The ring has no first point: where it is closed, both ends may turn back.
  let first = 0;
  for (let ended = false; !ended && left.length - first > 2; ) {
    if (turnsBack(left.at(-2)!, left.at(-1)!, left[first]!)) left.pop();
    else if (turnsBack(left.at(-1)!, left[first]!, left[first + 1]!)) first++;
    else ended = true;
  }
  return left.length - first === path.length ? path : left.slice(first).map((i) => path[i]!);
}

function fromPaths(paths: PathsD): Polyline[] {
  return paths.map((path) => {
    const ring = new Float64Array(path.length * 2);
    path.forEach((p, i) => {
      ring[2 * i] = p.x;
      ring[2 * i + 1] = p.y;
    });
    return ring;
  });
}
