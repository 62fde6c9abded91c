import { boundsOfAll } from '../geometry/bounds.js';
import type { Path } from '../geometry/path.js';
import type { Phrase } from '../problem.js';
import type { PatchObstacle, RingObstacle } from '../surface/keepouts.js';
import { turnToObstacle } from '../surface/keepouts.js';
import { rotateLine, type Surface } from '../surface/surface.js';
import { clearanceToPolygons, indexPolygons, type PolygonIndex } from './polygon-clearance.js';

/**
 * How far a cut keeps from what it must stay clear of. Positive: mm to spare; negative: mm too far
 * in. Flat typed arrays and plain loops: the fit asks this a hundred thousand times.
 */
export interface Ink {
  /** The lines on their sheet, worked out only when something is near. */
  paths(): readonly Path[];
  /** A circle round all of them on that sheet, mm. */
  readonly circle: Circle;
  /** True when the paths bound areas (outline letters), so that nothing may hide inside one. */
  readonly filled: boolean;
}

/** A patch with its polygons prepared for many questions. */
export interface IndexedPatch extends PatchObstacle {
  readonly index: PolygonIndex;
}

export const indexPatch = (patch: PatchObstacle): IndexedPatch => ({
  ...patch,
  index: indexPolygons(patch.polygons),
});

export interface Circle {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

/** The circle round the box of some lines, mm. */
export function circleRound(lines: readonly Float64Array[]): Circle {
  const [x0, y0, x1, y1] = boundsOfAll(lines);
  return { x: (x0 + x1) / 2, y: (y0 + y1) / 2, r: Math.hypot(x1 - x0, y1 - y0) / 2 };
}

/** The obstacle that leaves least clearance, and how much. */
export interface ObstacleClearance {
  readonly clearance: number;
  /** Undefined where nothing comes below the clearance that was known. */
  readonly obstacle: Phrase | undefined;
}

/**
 * The least clearance, mm, from ink to any of the patches, less half the cut's width; the ink is on the sheet turned to
 * `turn`. Patches that cannot come below `known` are not measured closely; the answer is then `known`.
 * `spend` counts the points and edges looked at.
 */
export function patchClearance(
  surface: Surface,
  ink: Ink,
  turn: number,
  patches: readonly IndexedPatch[],
  halfCut: number,
  known: number,
  spend: (steps: number) => void,
): ObstacleClearance {
  spend(STEPS_OF_PLACE * patches.length);
  let clearance = known;
  let name: Phrase | undefined;
  for (const patch of patches) {
    const here = distanceToPatch(surface, ink, turn, patch, clearance + halfCut, spend) - halfCut;
    if (here >= clearance) continue;
    clearance = here;
    name = patch.name;
  }
  return { clearance, obstacle: name };
}

/** What a letter takes to be placed, or its circle to be compared with a patch, in steps. */
export const STEPS_OF_PLACE = 16;

/** No more than `patchClearance`, quickly: the ink as a circle, the patches as their boxes. */
export function patchClearanceBound(
  surface: Surface,
  circle: Circle,
  turn: number,
  patches: readonly IndexedPatch[],
  halfCut: number,
): number {
  let clearance = Number.POSITIVE_INFINITY;
  for (const patch of patches)
    for (const angle of laps(surface, turn, patch))
      clearance = Math.min(clearance, circleApart(surface, circle, angle, patch));
  return clearance - halfCut;
}

/**
 * The least clearance, mm, from ink to any of the rings, less half the cut's width. Rings that cannot come below `known`
 * are not measured closely; the answer is then `known`.
 */
export function ringClearance(
  surface: Surface,
  ink: Ink,
  rings: readonly RingObstacle[],
  halfCut: number,
  known: number,
  spend: (steps: number) => void,
): ObstacleClearance {
  const { x, y, r } = ink.circle;
  const middle = slantAt(surface, x, y);
  let range: readonly [number, number] | undefined;
  let clearance = known;
  let name: Phrase | undefined;
  for (const ring of rings) {
    if (Math.max(middle - r - ring.to, ring.from - middle - r) - halfCut >= clearance) continue;
    range ??= slantRange(surface, ink, spend);
    const here = Math.max(range[0] - ring.to, ring.from - range[1]) - halfCut;
    if (here >= clearance) continue;
    clearance = here;
    name = ring.name;
  }
  return { clearance, obstacle: name };
}

/** No more than `ringClearance`, quickly: the ink as a circle. */
export function ringClearanceBound(
  surface: Surface,
  { x, y, r }: Circle,
  rings: readonly RingObstacle[],
  halfCut: number,
): number {
  const middle = slantAt(surface, x, y);
  let clearance = Number.POSITIVE_INFINITY;
  for (const { from, to } of rings)
    clearance = Math.min(clearance, Math.max(middle - r - to, from - middle - r));
  return clearance - halfCut;
}

const slantAt = (surface: Surface, x: number, y: number): number =>
  surface.slant(surface.toSurfaceNear(x, y).z);

/**
 * Least and greatest distance along the generator: on a developable surface of revolution the nearest point of a ring
 * is straight up or down. A straight line on a cone's sheet comes nearest the apex at the foot of the perpendicular.
 */
function slantRange(surface: Surface, ink: Ink, spend: (steps: number) => void): readonly [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const { apex } = surface;
  const take = (x: number, y: number) => {
    const s = slantAt(surface, x, y);
    if (s < low) low = s;
    if (s > high) high = s;
  };
  for (const { points, closed } of ink.paths()) {
    const n = points.length;
    spend(STEPS_OF_TURN * n);
    for (let i = 0; i < n; i += 2) {
      const x = points[i]!;
      const y = points[i + 1]!;
      take(x, y);
      if (!apex || (i === 0 && !closed)) continue;
      const h = i === 0 ? n - 2 : i - 2;
      const vx = points[h]! - x;
      const vy = points[h + 1]! - y;
      const t = ((apex[0] - x) * vx + (apex[1] - y) * vy) / (vx * vx + vy * vy);
      if (t > 0 && t < 1) take(x + t * vx, y + t * vy);
    }
  }
  return [low, high];
}

/** What a coordinate of a letter takes to be laid on a sheet and turned there, in steps. */
const STEPS_OF_TURN = 3;

function distanceToPatch(
  surface: Surface,
  ink: Ink,
  turn: number,
  patch: IndexedPatch,
  known: number,
  spend: (steps: number) => void,
): number {
  let least = known;
  for (const angle of laps(surface, turn, patch)) {
    if (circleApart(surface, ink.circle, angle, patch) >= least) continue;
    const lines = ink.paths();
    spend(STEPS_OF_TURN * lines.reduce((sum, { points }) => sum + points.length, 0));
    const paths = lines.map((p) => ({ closed: p.closed, points: rotateLine(surface, p.points, angle) }));
    least = Math.min(least, clearanceToPolygons(paths, ink.filled, patch.index, least, spend));
  }
  return least;
}

/** The turns, degrees, that bring ink onto a patch's sheet: the short way, and the other way round where it shows. */
function laps(surface: Surface, turn: number, patch: IndexedPatch): readonly number[] {
  const away = turnToObstacle(patch, turn);
  const other = away > 0 ? away - 360 : away + 360;
  return Math.abs(other) < Math.min(360, surface.sheetReach) ? [away, other] : [away];
}

function circleApart(surface: Surface, circle: Circle, angle: number, patch: IndexedPatch): number {
  const [x0, y0, x1, y1] = patch.index.bounds;
  const [x, y] = surface.rotate(circle.x, circle.y, angle);
  const dx = Math.max(0, x - x1, x0 - x);
  const dy = Math.max(0, y - y1, y0 - y);
  const away = Math.sqrt(dx * dx + dy * dy);
  return away === 0 ? Number.NEGATIVE_INFINITY : away - circle.r;
}
