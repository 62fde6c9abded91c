import { Clipper, EndType, FillRule, JoinType, type PathsD } from 'clipper2-ts';
import type { Polyline } from './path.js';

/**
 * Polygons on a sheet, each a closed ring x0, y0, x1, y1, ... in mm. Outer rings run anticlockwise, holes
 * clockwise. The work is Clipper2's; this file only carries figures to and from it.
 */
export type Polygons = readonly Polyline[];

/** Decimal places Clipper works to: a nanometre. */
const PRECISION = 6;
/** How far a rounded corner's chords may lie inside the true arc, mm. */
export const ARC_SAG_MM = 0.0002;

/** Grown by `by` mm with round corners, so that every point within `by` of the polygons is inside. */
export function grow(polygons: Polygons, by: number): Polygons {
  if (by === 0) return union(polygons);
  return fromPaths(
    Clipper.inflatePathsD(
      toPaths(union(polygons)),
      by + ARC_SAG_MM,
      JoinType.Round,
      EndType.Polygon,
      2,
      PRECISION,
      ARC_SAG_MM,
    ),
  );
}

/** Drawn in by `by` mm: the places a disc of that radius can have its middle without reaching outside. */
export const inset = (polygons: Polygons, by: number): Polygons =>
  fromPaths(
    Clipper.inflatePathsD(
      toPaths(union(polygons)),
      -by,
      JoinType.Round,
      EndType.Polygon,
      2,
      PRECISION,
      ARC_SAG_MM,
    ),
  );

export const union = (polygons: Polygons): Polygons =>
  fromPaths(Clipper.unionD(toPaths(polygons), [], FillRule.NonZero, PRECISION));

export const difference = (from: Polygons, less: Polygons): Polygons =>
  fromPaths(Clipper.differenceD(toPaths(from), toPaths(less), FillRule.NonZero, PRECISION));

export const intersection = (a: Polygons, b: Polygons): Polygons =>
  fromPaths(Clipper.intersectD(toPaths(a), toPaths(b), FillRule.NonZero, PRECISION));

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
