import { type Bounds, boundsOf, boundsOfPaths, centreOf, joinBounds } from '../geometry/bounds.js';
import type { Path, Point, Polyline } from '../geometry/path.js';
import { type Polygons, union } from '../geometry/polygons.js';
import { sweep } from '../geometry/sweep.js';
import { narrowHollows, SPUR_OF_LAND, spurs } from './min-feature-land.js';
import { boxesApart, type Nearest, nearestPoints } from './min-feature-near.js';
import { coarsen, type Part, partsOf } from './min-feature-shape.js';
import { thinStrokes } from './min-feature-thin.js';
import { MinFeatureWork } from './min-feature-work.js';

/** How a drawing is cut, and what must be left standing, all mm. */
export interface MinFeatureParameters {
  /** Along lines, along the edges of areas, flat, or as deep as the area is wide. */
  readonly way: 'trace' | 'outline' | 'clear' | 'groove';
  /** Width of the cut at full depth. */
  readonly cutWidth: number;
  /** The narrowest the cutter cuts. */
  readonly tip: number;
  /** Least land that must be left standing between cuts. */
  readonly land: number;
  /** Pieces may not meet, since they are read one by one; else those that do are meant to. */
  readonly readApart?: boolean;
}

/** A letter or a piece of artwork. */
export interface Piece {
  readonly name: string;
  readonly paths: readonly Path[];
  /** Where a person finds it. */
  readonly place?: string;
}

export interface MinFeatureRequest extends MinFeatureParameters {
  readonly pieces: readonly Piece[];
}

export interface MinFeatureFinding {
  /** A stroke too thin for the cutter; land too narrow to stand; or land that runs out to a long point. */
  readonly kind: 'thin' | 'land' | 'spur';
  readonly name: string;
  readonly place?: string;
  /** The neighbour, where the land is between two pieces. */
  readonly second?: string;
  readonly at: Point;
  /** Width of the stroke or the land, mm, 0 where cuts run into one another; of a spur, its length. */
  readonly measured: number;
  /** What it must be at least, mm; of a spur, at most. */
  readonly needed: number;
  /** The size times this passes. */
  readonly sizeFactor?: number;
  /** So much more between the two pieces passes, mm. */
  readonly spacing?: number;
  /** A cut no wider than this passes, mm. */
  readonly widthAtMost?: number;
}

/** Lines that come within this part of the cut's width of one another meet by design. */
const MEET_OF_WIDTH = 0.25;
/** Areas that come nearer than this touch, mm. */
const TOUCH_MM = 1e-6;
/** Lines are given this width, mm, to become a shape whose hollows can be measured. */
const HAIR_MM = 0.002;

/**
 * Where strokes and the land between them are too narrow to cut, over pieces in one flat frame; `docs/min-feature.md` defines it.
 */
export function minFeatureFindings({ pieces, ...parameters }: MinFeatureRequest): MinFeatureFinding[] {
  const work = new MinFeatureWork();
  const found = pieces.flatMap((piece) => findingsWithin(piece, parameters, work));
  for (const [i, a] of pieces.entries())
    for (const b of pieces.slice(i + 1)) {
      const gap = findingBetween(a, b, parameters, work);
      if (gap) found.push(gap);
    }
  return found;
}

/** What is too narrow within one piece; the same wherever the piece lies. */
export function findingsWithin(
  piece: Piece,
  parameters: MinFeatureParameters,
  work = new MinFeatureWork(),
): MinFeatureFinding[] {
  const own = { name: piece.name, ...(piece.place === undefined ? {} : { place: piece.place }) };
  const lines = coarsen(linesOf(piece, parameters));
  work.beginDrawing(pointsOf(piece.paths));
  const traced = isTraced(parameters);
  const swept = (width: number): Part[] =>
    partsOf(
      sweep(lines, width, (steps) => work.takeSteps(steps)),
      work,
    );
  const filled = (): Part[] => {
    const rings = lines.map((l) => l.points);
    work.takeSweep(rings);
    return partsOf(union(rings), work);
  };
  const drawing = traced ? swept(HAIR_MM) : filled();
  const groups = traced
    ? strokes(lines, parameters.cutWidth, work)
    : drawing.map((p) => asPaths([p.outside, ...p.holes]));
  const hollows = narrowHollows(drawing, neededDistance(parameters) - (traced ? HAIR_MM : 0), work);
  const { land } = parameters;
  const cut = traced && land > 0 ? swept(parameters.cutWidth) : drawing;
  return [
    ...gaps(groups, parameters, work).map(({ distance, at }) => landFinding(own, at, distance, parameters)),
    ...hollows.map(({ measured, at }) => landFinding(own, at, measured + (traced ? HAIR_MM : 0), parameters)),
    ...spurs(cut, { land, narrow: hollows, work }).map(
      (spur): MinFeatureFinding => ({
        kind: 'spur',
        ...own,
        ...spur,
        needed: SPUR_OF_LAND * land,
      }),
    ),
    ...(traced ? [] : thinFindings(own, drawing, parameters, work)),
  ];
}

/** Whether the land between two pieces is too narrow. */
export function findingBetween(
  a: Piece,
  b: Piece,
  parameters: MinFeatureParameters,
  work = new MinFeatureWork(),
): MinFeatureFinding | undefined {
  const needed = neededDistance(parameters);
  const [p, q] = [linesOf(a, parameters), linesOf(b, parameters)];
  if (apart(p, q) >= Math.max(needed, TOUCH_MM)) return undefined;
  work.beginDrawing(pointsOf([...p, ...q]));
  takeNearest(work, p, q);
  const close = nearestPoints(p, q, Math.max(needed, TOUCH_MM));
  if (!close || (!parameters.readApart && meets(close, parameters))) return undefined;
  const own = { name: a.name, ...(a.place === undefined ? {} : { place: a.place }) };
  return {
    ...landFinding(own, close.at, close.distance, parameters),
    second: b.name,
    spacing: spacing(p, q, needed, work),
  };
}

const isTraced = ({ way }: MinFeatureParameters): boolean => way === 'trace' || way === 'outline';
const asPaths = (rings: Polygons): Path[] => rings.map((points) => ({ points, closed: true }));

/** The lines between which land is measured: those the cutter follows, or the edges of areas. */
const linesOf = (piece: Piece, { way }: MinFeatureParameters): readonly Path[] =>
  way === 'trace' ? piece.paths : piece.paths.filter((p) => p.closed);

/** How far apart such lines must be, mm. */
const neededDistance = (parameters: MinFeatureParameters): number =>
  parameters.land + (isTraced(parameters) ? parameters.cutWidth : 0);

const meets = ({ distance }: Nearest, parameters: MinFeatureParameters): boolean =>
  distance <= (isTraced(parameters) ? MEET_OF_WIDTH * parameters.cutWidth : 0);

type Own = Pick<MinFeatureFinding, 'name' | 'place'>;

/** Land that is too narrow, where drawn lines are `distance` mm apart. It grows with the size; the cut beside it does not. */
function landFinding(
  own: Own,
  at: Point,
  distance: number,
  parameters: MinFeatureParameters,
): MinFeatureFinding {
  const cut = isTraced(parameters) ? parameters.cutWidth : 0;
  return {
    kind: 'land',
    ...own,
    at,
    measured: Math.max(0, distance - cut),
    needed: parameters.land,
    ...(distance > 0 ? { sizeFactor: neededDistance(parameters) / distance } : {}),
    ...(cut > 0 && distance > parameters.land ? { widthAtMost: distance - parameters.land } : {}),
  };
}

function thinFindings(
  own: Own,
  drawing: readonly Part[],
  { way, cutWidth, tip }: MinFeatureParameters,
  work: MinFeatureWork,
): MinFeatureFinding[] {
  const needed = way === 'clear' ? cutWidth : tip;
  if (needed === 0) return [];
  const shape = drawing.flatMap((p) => [p.outside, ...p.holes]);
  return thinStrokes(shape, needed, work).map(({ at, measured }) => ({
    kind: 'thin',
    ...own,
    at,
    measured,
    needed,
    ...(measured > 0 ? { sizeFactor: needed / measured, widthAtMost: measured } : {}),
  }));
}

/** Where groups of lines that do not meet come too near. */
function gaps(
  groups: readonly (readonly Path[])[],
  parameters: MinFeatureParameters,
  work: MinFeatureWork,
): Nearest[] {
  const needed = neededDistance(parameters);
  const boxes = groups.map(boundsOfPaths);
  return groups.flatMap((a, i) => {
    work.takePairs(groups.length - i, pointsOf(a));
    return groups.slice(i + 1).flatMap((b, k) => {
      if (boxesApart(boxes[i]!, boxes[i + 1 + k]!) >= needed) return [];
      takeNearest(work, a, b);
      return nearestPoints(a, b, needed) ?? [];
    });
  });
}

/** Lines that meet, together. */
function strokes(paths: readonly Path[], width: number, work: MinFeatureWork): Path[][] {
  const below = MEET_OF_WIDTH * width;
  let groups: { readonly paths: Path[]; readonly box: Bounds }[] = [];
  for (const path of paths) {
    const box = boundsOf(path.points);
    work.takePairs(groups.length, [path.points]);
    const met = groups.filter((g) => {
      if (boxesApart(g.box, box) >= below) return false;
      takeNearest(work, g.paths, [path]);
      return nearestPoints(g.paths, [path], below);
    });
    if (met.length > 0) groups = groups.filter((g) => !met.includes(g));
    groups.push({
      paths: [...met.flatMap((g) => g.paths), path],
      box: met.map((g) => g.box).reduce(joinBounds, box),
    });
  }
  return groups.map((g) => g.paths);
}

const pointsOf = (paths: readonly Path[]): Polyline[] => paths.map((p) => p.points);

/** Counts what looking for the nearest points of two groups takes at the most. */
function takeNearest(work: MinFeatureWork, a: readonly Path[], b: readonly Path[]): void {
  const count = (paths: readonly Path[]) => paths.reduce((sum, p) => sum + p.points.length / 2, 0);
  work.takePairs(count(a) * count(b), pointsOf([...a, ...b]));
}

/** How far the second must move away from the first, from middle to middle, mm: no step can go too far. */
function spacing(a: readonly Path[], b: readonly Path[], needed: number, work: MinFeatureWork): number {
  const [p, q] = [middleOf(a), middleOf(b)];
  const l = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const [ux, uy] = l === 0 ? [1, 0] : [(q[0] - p[0]) / l, (q[1] - p[1]) / l];
  let by = 0;
  for (;;) {
    const moved = b.map(({ points, closed }) => ({
      points: points.map((v, i) => v + by * (i % 2 ? uy : ux)),
      closed,
    }));
    takeNearest(work, a, moved);
    const close = nearestPoints(a, moved, needed);
    if (!close) return by;
    by += Math.max(needed - close.distance, SPACING_STEP_MM);
  }
}

const SPACING_STEP_MM = 0.001;

const middleOf = (paths: readonly Path[]): Point => centreOf(boundsOfPaths(paths));

const apart = (a: readonly Path[], b: readonly Path[]): number =>
  boxesApart(boundsOfPaths(a), boundsOfPaths(b));
