import Delaunator from 'delaunator';
import { pointLocator } from '../geometry/inside.js';
import { lengthOf, type Polyline } from '../geometry/path.js';
import { distanceToSegment } from '../geometry/segment.js';
import { CutWork } from './cut-work.js';
import { refuse } from './messages.js';

/**
 * The medial axis of an area, as far as a cutter follows it: the middles of the circles that touch its edge at two
 * places. Found as the Voronoi diagram of points set close along the edge, its circumcentres joined across.
 */
export interface MedialAxis {
  /** x, y and distance to the edge of each node, mm. */
  readonly nodes: readonly MedialNode[];
  /** Pairs of nodes joined by a stretch of the axis. */
  readonly joints: readonly (readonly [number, number])[];
}

export interface MedialNode {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

/** Points are set along the edge this closely, mm. */
const FINEST_MM = 0.002;
const COARSEST_MM = 0.02;
const POINTS = 4000;
/**
 * A stretch belongs to the axis where its circles touch the edge at places at least so far round from one another,
 * radians: corners sharper than that are run into, and the noise of a curve's chords is not.
 */
const LEAST_ANGLE = (20 * Math.PI) / 180;

interface Edge {
  readonly points: Float64Array;
  /** Ring of each point, and the points before and after it. */
  readonly before: Int32Array;
  readonly after: Int32Array;
  /** 1 where the edge turns at a convex corner. */
  readonly corner: Uint8Array;
}

/** The medial axis of an area whose outer rings run anticlockwise and holes clockwise, none crossing another. */
export function medialAxis(rings: readonly Polyline[], work = new CutWork()): MedialAxis {
  const edge = sampleRings(rings);
  const { points } = edge;
  work.take(points.length / 2, 'edgePoint');
  if (points.length < 6) return { nodes: [], joints: [] };
  const { triangles, halfedges } = new Delaunator(points);
  const inside = pointLocator(rings);
  const nodes: MedialNode[] = [];
  const nodeOf = new Int32Array(triangles.length / 3).fill(-1);
  for (let t = 0; t < nodeOf.length; t++) {
    const centre = circumcentre(points, triangles[3 * t]!, triangles[3 * t + 1]!, triangles[3 * t + 2]!);
    if (!centre || !inside(centre[0], centre[1])) continue;
    nodeOf[t] = nodes.length;
    nodes.push({ x: centre[0], y: centre[1], r: distance(edge, triangles, t, centre) });
  }
  const joints: [number, number][] = [];
  for (let e = 0; e < halfedges.length; e++) {
    const other = halfedges[e]!;
    if (other < e) continue;
    const [a, b] = [nodeOf[Math.floor(e / 3)]!, nodeOf[Math.floor(other / 3)]!];
    if (a < 0 || b < 0) continue;
    const p = triangles[e]!;
    const q = triangles[e % 3 === 2 ? e - 2 : e + 1]!;
    const spacing = Math.hypot(points[2 * p]! - points[2 * q]!, points[2 * p + 1]! - points[2 * q + 1]!);
    const r = Math.max(nodes[a]!.r, nodes[b]!.r);
    if (spacing < 2 * r * Math.sin(LEAST_ANGLE / 2)) continue;
    // Between two corners that stand inward the way to them is a curve: measured in steps, not end to end.
    joinInSteps(nodes, joints, a, b, (x, y) => distanceBeside(edge, [p, q], x, y));
  }
  extendIntoCorners(edge, { triangles, nodeOf, nodes, joints }, work);
  return { nodes, joints };
}

/** The triangle that holds a corner between its two neighbours is the last before it: from there on to the corner. */
function extendIntoCorners(
  edge: Edge,
  {
    triangles,
    nodeOf,
    nodes,
    joints,
  }: { triangles: Uint32Array; nodeOf: Int32Array; nodes: MedialNode[]; joints: [number, number][] },
  work: CutWork,
): void {
  const { points, before, after, corner } = edge;
  const last = new Map<number, number>();
  for (let t = 0; t < nodeOf.length; t++) {
    if (nodeOf[t]! < 0) continue;
    for (let k = 0; k < 3; k++) {
      const v = triangles[3 * t + k]!;
      if (corner[v] === 0) continue;
      const others = [triangles[3 * t + ((k + 1) % 3)]!, triangles[3 * t + ((k + 2) % 3)]!];
      const known = last.get(v);
      const between = others.includes(before[v]!) && others.includes(after[v]!);
      if (between || known === undefined || nodes[nodeOf[t]!]!.r < nodes[known]!.r) last.set(v, nodeOf[t]!);
    }
  }
  let steps = 0;
  const take = (looks: number): void => {
    steps += looks;
    if (steps > MOST_CORNER_WORK)
      throw refuse('cutting.too-many-corners', '', {
        corners: last.size,
        points: points.length / 2,
        most: MOST_CORNER_WORK,
      });
    work.take(looks, 'cornerDistance');
  };
  const boxes = boxesOfRuns(edge);
  for (const [v, node] of last) {
    nodes.push({ x: points[2 * v]!, y: points[2 * v + 1]!, r: 0 });
    // Sides may bend before they come to their corner.
    joinInSteps(nodes, joints, node, nodes.length - 1, (x, y) =>
      toWholeEdge(edge, boxes, x, y, distanceBeside(edge, [v], x, y), take),
    );
  }
}

/** Stretches of the axis longer than this are measured on their way, mm. */
const STEP_MM = 0.01;

function joinInSteps(
  nodes: MedialNode[],
  joints: [number, number][],
  a: number,
  b: number,
  measure: (x: number, y: number) => number,
): void {
  const [p, q] = [nodes[a]!, nodes[b]!];
  const steps = Math.max(1, Math.ceil(Math.hypot(q.x - p.x, q.y - p.y) / STEP_MM));
  let prior = a;
  for (let k = 1; k < steps; k++) {
    const t = k / steps;
    const at = { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) };
    joints.push([prior, nodes.length]);
    prior = nodes.length;
    nodes.push({ ...at, r: measure(at.x, at.y) });
  }
  joints.push([prior, b]);
}

/** Stretches of the edge are looked at in runs of so many, those whose bounds are nearer than the nearest so far. */
const RUN = 32;
/** A square worked out in floating point may be this part too great. */
const ROUNDING = 1e-9;

/** Left, bottom, right and top of each run. */
function boxesOfRuns({ points, after }: Edge): Float64Array {
  const boxes = new Float64Array(4 * Math.ceil(after.length / RUN));
  for (let at = 0; at < boxes.length; at += 4) {
    let [left, bottom] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    let [right, top] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let p = (at / 4) * RUN; p < Math.min(after.length, (at / 4 + 1) * RUN); p++) {
      for (const q of [p, after[p]!]) {
        left = Math.min(left, points[2 * q]!);
        right = Math.max(right, points[2 * q]!);
        bottom = Math.min(bottom, points[2 * q + 1]!);
        top = Math.max(top, points[2 * q + 1]!);
      }
    }
    boxes.set([left, bottom, right, top], at);
  }
  return boxes;
}

/** Distance from a point to the edge, known to be no more than `most` mm; `take` is told how much was looked at. */
function toWholeEdge(
  { points, after }: Edge,
  boxes: Float64Array,
  x: number,
  y: number,
  most: number,
  take: (looks: number) => void,
): number {
  let least = most;
  let looks = boxes.length / 4;
  for (let at = 0; at < boxes.length; at += 4) {
    const dx = Math.max(0, boxes[at]! - x, x - boxes[at + 2]!);
    const dy = Math.max(0, boxes[at + 1]! - y, y - boxes[at + 3]!);
    if (dx * dx + dy * dy > least * least * (1 + ROUNDING)) continue;
    looks += RUN;
    for (let p = (at / 4) * RUN; p < Math.min(after.length, (at / 4 + 1) * RUN); p++) {
      const q = after[p]!;
      const d = distanceToSegment(
        x,
        y,
        points[2 * p]!,
        points[2 * p + 1]!,
        points[2 * q]!,
        points[2 * q + 1]!,
      );
      if (d < least) least = d;
    }
  }
  take(looks);
  return least;
}

/** The most points that are set along the edges of one area. */
const MOST_POINTS = 500_000;
/** The most distances measured from the way into a corner to the whole edge. */
const MOST_CORNER_WORK = 200_000_000;

/** Points along every ring: its corners, and more between them where they stand far apart. */
function sampleRings(rings: readonly Polyline[]): Edge {
  const round = rings.reduce((sum, ring) => sum + lengthOf({ points: ring, closed: true }), 0);
  const step = Math.min(COARSEST_MM, Math.max(FINEST_MM, round / POINTS));
  const most = Math.ceil(round / step) + rings.reduce((sum, ring) => sum + ring.length / 2, 0);
  if (most > MOST_POINTS)
    throw refuse('cutting.edge-too-long', '', { length: round, points: most, most: MOST_POINTS });
  const points: number[] = [];
  const before: number[] = [];
  const after: number[] = [];
  const corner: number[] = [];
  for (const ring of rings) {
    const first = points.length / 2;
    const n = ring.length / 2;
    for (let k = 0; k < n; k++) {
      const [x0, y0] = [ring[2 * k]!, ring[2 * k + 1]!];
      const [x1, y1] = [ring[2 * ((k + 1) % n)]!, ring[2 * ((k + 1) % n) + 1]!];
      const [xp, yp] = [ring[2 * ((k + n - 1) % n)]!, ring[2 * ((k + n - 1) % n) + 1]!];
      const turn = Math.atan2(
        (x0 - xp) * (y1 - y0) - (y0 - yp) * (x1 - x0),
        (x0 - xp) * (x1 - x0) + (y0 - yp) * (y1 - y0),
      );
      const steps = Math.max(1, Math.ceil(Math.hypot(x1 - x0, y1 - y0) / step));
      for (let i = 0; i < steps; i++) {
        points.push(x0 + ((x1 - x0) * i) / steps, y0 + ((y1 - y0) * i) / steps);
        corner.push(i === 0 && turn > LEAST_ANGLE ? 1 : 0);
      }
    }
    const count = points.length / 2 - first;
    for (let k = 0; k < count; k++) {
      before.push(first + ((k + count - 1) % count));
      after.push(first + ((k + 1) % count));
    }
  }
  return {
    points: Float64Array.from(points),
    before: Int32Array.from(before),
    after: Int32Array.from(after),
    corner: Uint8Array.from(corner),
  };
}

function circumcentre(p: Float64Array, i: number, j: number, k: number): [number, number] | undefined {
  const [ax, ay] = [p[2 * i]!, p[2 * i + 1]!];
  const [bx, by] = [p[2 * j]! - ax, p[2 * j + 1]! - ay];
  const [cx, cy] = [p[2 * k]! - ax, p[2 * k + 1]! - ay];
  const d = 2 * (bx * cy - by * cx);
  if (Math.abs(d) < 1e-18) return undefined;
  const [b, c] = [bx * bx + by * by, cx * cx + cy * cy];
  return [ax + (cy * b - by * c) / d, ay + (bx * c - cx * b) / d];
}

/** Distance from a triangle's circumcentre to the edge: to the stretches beside its three points, which lie nearest. */
const distance = (edge: Edge, triangles: Uint32Array, t: number, [x, y]: readonly [number, number]): number =>
  distanceBeside(edge, [triangles[3 * t]!, triangles[3 * t + 1]!, triangles[3 * t + 2]!], x, y);

/** Distance from a place to the nearest of the stretches beside some points of the edge. */
function distanceBeside(
  { points, before, after }: Edge,
  some: readonly number[],
  x: number,
  y: number,
): number {
  let least = Number.POSITIVE_INFINITY;
  for (const v of some) {
    for (const [p, q] of [
      [before[v]!, v],
      [v, after[v]!],
    ] as const)
      least = Math.min(
        least,
        distanceToSegment(x, y, points[2 * p]!, points[2 * p + 1]!, points[2 * q]!, points[2 * q + 1]!),
      );
  }
  return least;
}
