import { type Bounds, boundsOfAll } from '../geometry/bounds.js';
import { containsPoint, pointLocator } from '../geometry/inside.js';
import type { Path } from '../geometry/path.js';
import { distanceBetweenPaths, indexPath, type PathIndex, STRETCH } from '../geometry/path-index.js';
import type { Polygons } from '../geometry/polygons.js';
import { squaredDistanceToSegment } from '../geometry/segment.js';

/** Polygons prepared for many questions: the fit asks a hundred thousand times about the same keep-outs. */
export interface PolygonIndex {
  readonly polygons: Polygons;
  readonly bounds: Bounds;
  contains(x: number, y: number): boolean;
  readonly rings: readonly PathIndex[];
  /** Edges of all rings. */
  readonly edges: number;
}

export const indexPolygons = (polygons: Polygons): PolygonIndex => ({
  polygons,
  bounds: boundsOfAll(polygons),
  contains: pointLocator(polygons),
  rings: polygons.map((points) => indexPath({ points, closed: true })),
  edges: polygons.reduce((sum, ring) => sum + ring.length / 2, 0),
});

/**
 * The clearance, mm, from lines to polygons: positive is to spare, negative how far a line is in. `filled` says that the
 * lines bound areas in which no polygon may hide. An answer not below `known` says no more than that.
 * `spend` counts the points and edges looked at.
 */
export function clearanceToPolygons(
  paths: readonly Path[],
  filled: boolean,
  polygons: PolygonIndex,
  known: number,
  spend: (steps: number) => void,
): number {
  let deepest = -1;
  for (const path of paths) deepest = Math.max(deepest, deepestIn(path, polygons, spend));
  if (deepest >= 0) return -deepest;
  spend(polygons.edges);
  if (filled && hidesIn(paths, polygons.polygons)) {
    const least = distanceBetween(paths, polygons, Number.POSITIVE_INFINITY);
    // Lines that cross are no worse than touching here: the points inside have been measured.
    if (least > 0) return -least;
  }
  return known <= 0 ? known : distanceBetween(paths, polygons, known);
}

/** Points looked at along one segment at the most, and the least distance between two, mm. */
const MOST_SAMPLES = 16;
const SAMPLE_MM = 0.25;

/**
 * How deep a line runs into polygons, by points along it; -1 where none lies inside. Points between the ends of a long
 * segment count too: one that runs right through must not pass for one that only touches.
 */
function deepestIn({ points, closed }: Path, polygons: PolygonIndex, spend: (steps: number) => void): number {
  let deepest = -1;
  const n = points.length;
  // The edge nearest to one point is near to the next.
  const near = { ring: 0, edge: 0, steps: 0 };
  for (let i = 0; i < n; i += 2) {
    const [x, y] = [points[i]!, points[i + 1]!];
    const k = i + 2 < n ? i + 2 : closed ? 0 : i;
    const [dx, dy] = [points[k]! - x, points[k + 1]! - y];
    near.steps = 1;
    const samples = Math.min(MOST_SAMPLES, 1 + Math.floor(Math.sqrt(dx * dx + dy * dy) / SAMPLE_MM));
    for (let j = 0; j < samples; j++) {
      const u = x + (dx * j) / samples;
      const v = y + (dy * j) / samples;
      near.steps++;
      if (!polygons.contains(u, v)) continue;
      // Most points lie nearer to some edge than the deepest yet: the first such edge settles them.
      deepest = Math.max(deepest, distanceToRings(u, v, polygons.rings, deepest, near));
    }
    spend(near.steps);
  }
  return deepest;
}

/** Whether a point of the polygons lies within the area that the lines bound. */
function hidesIn(paths: readonly Path[], polygons: Polygons): boolean {
  const rings = paths.map((p) => p.points);
  const [left, bottom, right, top] = boundsOfAll(rings);
  return polygons.some((ring) => {
    for (let i = 0; i < ring.length; i += 2) {
      const [x, y] = [ring[i]!, ring[i + 1]!];
      if (x < left || x > right || y < bottom || y > top) continue;
      if (containsPoint(rings, x, y)) return true;
    }
    return false;
  });
}

/** The least distance between lines and the edges of polygons, or `below` when they are no nearer than that. */
function distanceBetween(paths: readonly Path[], { rings }: PolygonIndex, below: number): number {
  let least = below;
  for (const path of paths) {
    const line = indexPath(path);
    for (const ring of rings) least = distanceBetweenPaths(line, ring, least);
  }
  return least;
}

/** An edge by its ring and its place in it, and how many edges and stretches of edges were looked at. */
interface NearEdge {
  ring: number;
  edge: number;
  steps: number;
}

/**
 * The distance from a point to the nearest edge, or to the first edge found that is no farther than `enough`. Begins at an
 * edge that was near to another point, and keeps the one it ends at.
 */
function distanceToRings(
  x: number,
  y: number,
  rings: readonly PathIndex[],
  enough: number,
  near: NearEdge,
): number {
  const settled = enough > 0 ? enough * enough : -1;
  let least = squaredDistanceToEdge(x, y, rings[near.ring]!, near.edge);
  near.steps++;
  for (let r = 0; r < rings.length && least > settled; r++) {
    const ring = rings[r]!;
    const { boxes, count } = ring;
    for (let s = 0; s < boxes.length && least > settled; s += 4) {
      near.steps++;
      const dx = Math.max(0, boxes[s]! - x, x - boxes[s + 2]!);
      const dy = Math.max(0, boxes[s + 1]! - y, y - boxes[s + 3]!);
      if (dx * dx + dy * dy >= least) continue;
      const first = (s / 4) * STRETCH;
      const end = Math.min(count, first + STRETCH);
      near.steps += end - first;
      for (let edge = first; edge < end; edge++) {
        const square = squaredDistanceToEdge(x, y, ring, edge);
        if (square >= least) continue;
        least = square;
        near.ring = r;
        near.edge = edge;
      }
    }
  }
  return Math.sqrt(least);
}

function squaredDistanceToEdge(x: number, y: number, { path: { points } }: PathIndex, edge: number): number {
  const j = 2 * edge;
  const k = j + 2 < points.length ? j + 2 : 0;
  return squaredDistanceToSegment(x, y, points[j]!, points[j + 1]!, points[k]!, points[k + 1]!);
}
