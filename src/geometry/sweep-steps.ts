import { ARC_SAG_MM } from './arc-sag.js';
import { boundsOfAll } from './bounds.js';
import { clusterRings } from './clusters.js';
import type { Path, Polyline } from './path.js';

/**
 * How much work the polygons of `polygons.ts` are, estimated before it is done. A step is about 0.05 microseconds: one
 * height at which a point stands, held against one edge that passes there, as a sweep over the plane does.
 */

/** Work of more steps than this is done by clusters of rings that have nothing to do with one another. */
const STEPS_AT_ONCE = 1_000_000;
/** So few points take no more steps than that, whatever they bound. */
const FEW_POINTS = 400;

/** What a point costs beside the edges that it is held against. */
const STEPS_OF_POINT = 20;
/** What it costs where the edges of an offset cross. */
const STEPS_OF_CROSSING = 600;
/** Heights that differ by less, mm, are one, as in Clipper. */
const HEIGHT_MM = 1e-6;
/** The mean of the sine of an angle, without its sign. */
const MEAN_SINE = 2 / Math.PI;

/** Rings by the clusters in which they are united, or cut with one another: mostly all together. */
export const clustersToSweep = (rings: readonly Polyline[]): Polyline[][] =>
  clustersFor(rings, 0, sweepStepsAtOnce);

/** Rings by the clusters in which they are drawn in (`by` less than 0) or out by so many mm. */
export const clustersToOffset = (rings: readonly Polyline[], by: number): Polyline[][] =>
  clustersFor(rings, 2 * Math.max(0, by), (all) => offsetStepsAtOnce(all, by));

function clustersFor(
  rings: readonly Polyline[],
  apart: number,
  stepsAtOnce: (rings: readonly Polyline[]) => number,
): Polyline[][] {
  const points = rings.reduce((sum, ring) => sum + ring.length / 2, 0);
  if (points <= FEW_POINTS || stepsAtOnce(rings) <= STEPS_AT_ONCE) return [[...rings]];
  return clusterRings(rings, apart + APART_MM).map((cluster) => cluster.map((i) => rings[i]!));
}

/** Bounds nearer than this may touch when they are rounded, mm. */
const APART_MM = 1e-5;

/** Steps that a union, a difference or an intersection of rings takes; more where their edges cross. */
export const sweepSteps = (rings: readonly Polyline[]): number =>
  clustersToSweep(rings).reduce((sum, cluster) => sum + sweepStepsAtOnce(cluster), 0);

function sweepStepsAtOnce(rings: readonly Polyline[]): number {
  const { points, heights, abreast } = measureSweep(rings);
  return points * STEPS_OF_POINT + heights * abreast;
}

/**
 * Steps that drawing rings in (`by` less than 0) or out by so many mm takes. Clipper goes back to a corner that the
 * offset cuts short, so that each adds two edges as long as the offset; and edges nearer than twice the offset may cross.
 */
export const offsetSteps = (rings: readonly Polyline[], by: number): number =>
  clustersToOffset(rings, by).reduce((sum, cluster) => sum + offsetStepsAtOnce(cluster, by), 0);

function offsetStepsAtOnce(rings: readonly Polyline[], by: number): number {
  const { points, heights, abreast, width, height } = measureSweep(rings);
  if (points === 0) return 0;
  const short = rings.reduce((sum, ring) => sum + countCorners(ring, by < 0), 0);
  const spikes = height > 0 ? (short * 2 * Math.abs(by) * MEAN_SINE) / height : 0;
  const crossed = width > 0 ? Math.min(abreast, (abreast / width) * 2 * Math.abs(by)) : 0;
  return (
    // The union that goes before, then the sweep over the offset itself.
    (2 * points + 2 * short) * STEPS_OF_POINT +
    heights * abreast +
    (heights + 2 * short) * (abreast + spikes) +
    points * crossed * STEPS_OF_CROSSING
  );
}

/**
 * Steps that sweeping over lines, `width` mm wide and round at corners and ends, takes. Each line becomes an edge on either
 * side, with an arc round the outside of a corner and three points at its inside; where it turns back there is an arc on both.
 */
export function outlineSteps(lines: readonly Path[], width: number): number {
  const rings = lines.map((line) => line.points);
  const { points, heights, abreast, width: across } = measureSweep(rings);
  if (points === 0) return 0;
  const perRadian = 1 / (2 * Math.acos(1 - Math.min(1, ARC_SAG_MM / (width / 2))));
  let drawn = 0;
  for (const line of lines) drawn += outlinePoints(line, perRadian);
  const beside = 2 * abreast;
  const crossed = across > 0 ? Math.min(beside, (beside / across) * width) : 0;
  // The edges of one line cross where it has points; those of lines side by side lie beside one another.
  return drawn * STEPS_OF_POINT + Math.max(heights, drawn) * beside + points * crossed * STEPS_OF_CROSSING;
}

/** Points that the outline of a line has before it is made a polygon, with so many chords of an arc per radian. */
function outlinePoints({ points, closed }: Path, perRadian: number): number {
  const n = points.length;
  let count = closed ? 0 : 2 * Math.ceil(perRadian * Math.PI + 1);
  for (let i = closed ? 0 : 2; i < (closed ? n : n - 2); i += 2) {
    const [g, h] = [(i + n - 2) % n, (i + 2) % n];
    const [ux, uy] = [points[i]! - points[g]!, points[i + 1]! - points[g + 1]!];
    const [vx, vy] = [points[h]! - points[i]!, points[h + 1]! - points[i + 1]!];
    const dot = ux * vx + uy * vy;
    const arc = Math.ceil(perRadian * Math.abs(Math.atan2(ux * vy - uy * vx, dot))) + 1;
    const back = dot < COSINE_OF_TURNING_BACK * Math.hypot(ux, uy) * Math.hypot(vx, vy);
    count += arc + (back ? arc : 3);
  }
  return count;
}

/** Beyond this a line turns back, as Clipper has it. */
const COSINE_OF_TURNING_BACK = -0.999;

interface SweepSize {
  readonly points: number;
  /** Different heights at which points stand. */
  readonly heights: number;
  /** Edges that pass at one height, on the average. */
  readonly abreast: number;
  readonly width: number;
  readonly height: number;
}

function measureSweep(rings: readonly Polyline[]): SweepSize {
  const [left, low, right, high] = boundsOfAll(rings);
  const heights = new Set<number>();
  let points = 0;
  let climbed = 0;
  for (const ring of rings) {
    points += ring.length / 2;
    for (let i = 1, j = ring.length - 1; i < ring.length; j = i, i += 2) {
      climbed += Math.abs(ring[i]! - ring[j]!);
      heights.add(Math.round(ring[i]! / HEIGHT_MM));
    }
  }
  const height = high - low;
  return {
    points,
    heights: heights.size,
    abreast: height > 0 ? climbed / height : 0,
    width: right - left,
    height,
  };
}

/** Corners of a ring that turn to the left, or to the right. */
function countCorners(ring: Polyline, left: boolean): number {
  let count = 0;
  const n = ring.length;
  for (let i = 0, h = n - 2, g = n - 4; i < n; g = h, h = i, i += 2) {
    const [ux, uy] = [ring[h]! - ring[g]!, ring[h + 1]! - ring[g + 1]!];
    const [vx, vy] = [ring[i]! - ring[h]!, ring[i + 1]! - ring[h + 1]!];
    const turn = ux * vy - uy * vx;
    if (left ? turn > 0 : turn < 0) count++;
  }
  return count;
}
