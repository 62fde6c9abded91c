import { lengthOf, type Path, type Polyline } from '../geometry/path.js';
import { difference, grow, intersection, type Polygons } from '../geometry/polygons.js';
import { type Edges, edgesOf, splitLine } from '../geometry/split.js';
import type { Phrase } from '../problem.js';
import type { Obstacle, PatchObstacle, RingObstacle } from '../surface/keepouts.js';
import { rotateLine, type Surface } from '../surface/surface.js';
import { nearDeg, SAFETY_MM, toDeg, toRad } from '../units.js';

/** An obstacle on the sheet turned to some angle, grown by half the cut's width: what a cutter's path stays out of. */
export interface Barrier extends Edges {
  readonly name: Phrase;
  /** As polygons, as far as these areas reach. */
  over(areas: Polygons): Polygons;
}

/**
 * What lines on the sheet turned to `turn` must keep clear of, where they reach over `least` to `most` degrees of it:
 * a patch stands wherever a whole turn brings it within reach. `half` is half the cut's width, mm. Many
 * calls for one surface share `known`.
 */
export function barriersOf(
  surface: Surface,
  obstacles: readonly Obstacle[],
  half: number,
  turn: number,
  [least, most]: readonly [number, number],
  known: GrownPatches = new Map(),
): Barrier[] {
  return obstacles.flatMap((obstacle): Barrier[] => {
    if (obstacle.shape === 'ring') return [ringBarrier(surface, obstacle, half)];
    const { polygons, angles } = grownPatch(surface, obstacle, half, known);
    const [from, to] = angles;
    const near = nearDeg(obstacle.turn - turn);
    return [near - 360, near, near + 360]
      .filter((by) => from + by <= most && to + by >= least)
      .map((by) =>
        patchBarrier(
          obstacle.name,
          polygons.map((ring) => rotateLine(surface, ring, by)),
        ),
      );
  });
}

/** The angles lines reach over, degrees from the sheet's y axis. */
export function anglesOf(surface: Surface, lines: readonly Polyline[]): [least: number, most: number] {
  return rangeOf(lines, (x, y) => surface.toSurfaceNear(x, y).angle);
}

function rangeOf(lines: readonly Polyline[], of: (x: number, y: number) => number): [number, number] {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const points of lines) {
    for (let i = 0; i < points.length; i += 2) {
      const value = of(points[i]!, points[i + 1]!);
      least = Math.min(least, value);
      most = Math.max(most, value);
    }
  }
  return [least, most];
}

/**
 * A ring is a range of distances along the generator. With k = 1 / (2 apex y), 0 on a cylinder, a sheet point at
 * slant s has y - k (x^2 + y^2) = s - k s^2, which grows with s as far as the apex: so where a segment comes to a
 * ring is the root of a quadratic, exact at any taper.
 */
function ringBarrier(surface: Surface, { name, from, to }: RingObstacle, half: number): Barrier {
  const apex = surface.apex?.[1];
  const k = apex === undefined ? 0 : 1 / (2 * apex);
  const level = (x: number, y: number) => y - k * (x * x + y * y);
  const low = shortOfApex(from - half - SAFETY_MM, apex);
  const high = shortOfApex(to + half + SAFETY_MM, apex);
  const [bottom, top] = [low, high].map((s) => (Number.isFinite(s) ? s - k * s * s : s)) as [number, number];
  const edges = [bottom, top].filter(Number.isFinite);
  return {
    name,
    crossings: (x0, y0, x1, y1) => {
      const [start, end] = [level(x0, y0), level(x1, y1)];
      const dx = x1 - x0;
      const dy = y1 - y0;
      const square = -k * (dx * dx + dy * dy);
      // Between its ends a segment's level strays from even by at most a quarter of the square term.
      const stray = Math.abs(square) / 4;
      const met = edges.filter(
        (edge) => Math.min(start, end) - stray <= edge && edge <= Math.max(start, end) + stray,
      );
      const linear = dy - 2 * k * (x0 * dx + y0 * dy);
      return met.flatMap((edge) => roots(square, linear, start - edge));
    },
    holds: (x, y) => level(x, y) > bottom && level(x, y) < top,
    over: (areas) => ringOver(surface, low, high, areas),
  };
}

/** A slant distance at or past a cone's apex counts as endless. */
function shortOfApex(slant: number, apex: number | undefined): number {
  if (apex === undefined) return slant;
  if (apex > 0) return slant >= apex ? Number.POSITIVE_INFINITY : slant;
  return slant <= apex ? Number.NEGATIVE_INFINITY : slant;
}

/** Roots between 0 and 1 of a t^2 + b t + c, without loss where a is slight. */
function roots(a: number, b: number, c: number): number[] {
  const under = b * b - 4 * a * c;
  if (under < 0) return [];
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(under)) / 2;
  return [q / a, c / q].filter((t) => t > 0 && t < 1);
}

/** Arcs are followed by chords this close, mm; this much is added for it. */
const SAG_MM = 0.0002;
/** How far past the areas a ring is drawn, mm and degrees. */
const PAST = 1;

function ringOver(surface: Surface, low: number, high: number, areas: Polygons): Polygons {
  const [least, most] = anglesOf(surface, areas);
  const [under, above] = rangeOf(areas, (x, y) => surface.slant(surface.toSurfaceNear(x, y).z));
  const from = Math.max(low - SAG_MM, under - PAST);
  const to = Math.min(high + SAG_MM, above + PAST);
  if (!(from < to)) return [];
  const cos = Math.cos(toRad(surface.taper));
  const at = (slant: number, angle: number) => surface.toSheet(surface.z0 + slant * cos, angle);
  const turned = toRad(most - least + 2 * PAST);
  const wide = Math.max(...[from, to].map((s) => Math.abs(surface.radius(surface.z0 + s * cos))));
  const sag = (Math.abs(Math.sin(toRad(surface.taper))) * wide * turned * turned) / 8;
  const steps = Math.max(1, Math.ceil(Math.sqrt(sag / SAG_MM)));
  const angles = Array.from({ length: steps + 1 }, (_, i) => least - PAST + (toDeg(turned) * i) / steps);
  const foot = angles.flatMap((angle) => at(from, angle));
  const head = angles.reverse().flatMap((angle) => at(to, angle));
  return [Float64Array.from([...foot, ...head])];
}

/** Patches grown by half a cut's width, kept for the many lines of one pattern: the same is grown once. */
export type GrownPatches = Map<PatchObstacle, Map<number, GrownPatch>>;

interface GrownPatch {
  readonly polygons: Polygons;
  /** The angles it reaches over on its own sheet, degrees. */
  readonly angles: readonly [least: number, most: number];
}

function grownPatch(surface: Surface, patch: PatchObstacle, half: number, known: GrownPatches): GrownPatch {
  let widths = known.get(patch);
  if (!widths) {
    widths = new Map();
    known.set(patch, widths);
  }
  let grown = widths.get(half);
  if (!grown) {
    const polygons = grow(patch.polygons, half + SAFETY_MM);
    grown = { polygons, angles: anglesOf(surface, polygons) };
    widths.set(half, grown);
  }
  return grown;
}

function patchBarrier(name: Phrase, polygons: Polygons): Barrier {
  const [left, right] = rangeOf(polygons, (x) => x);
  const [foot, head] = rangeOf(polygons, (_, y) => y);
  const edges = edgesOf(polygons);
  return {
    name,
    crossings: (x0, y0, x1, y1) => {
      if (Math.max(x0, x1) < left || Math.min(x0, x1) > right) return [];
      if (Math.max(y0, y1) < foot || Math.min(y0, y1) > head) return [];
      return edges.crossings(x0, y0, x1, y1);
    },
    holds: (x, y) => x >= left && x <= right && y >= foot && y <= head && edges.holds(x, y),
    over: () => polygons,
  };
}

/** The first barrier that lines, or edges that are followed, come to, by name; undefined when they stay clear. */
export const firstBarrierTouched = (
  paths: readonly Path[],
  barriers: readonly Barrier[],
): Phrase | undefined =>
  barriers.find((barrier) => paths.some((path) => splitLine(path, [barrier]).some((s) => s.inside)))?.name;

/** The first barrier that areas, their insides too, come to, by name; undefined when they stay clear. */
export const firstBarrierOverlapped = (areas: Polygons, barriers: readonly Barrier[]): Phrase | undefined =>
  barriers.find((barrier) => intersection(areas, barrier.over(areas)).length > 0)?.name;

/** Lines less what lies within barriers. Pieces shorter than `shortest` mm are left out. */
export function trimLines(paths: readonly Path[], barriers: readonly Barrier[], shortest: number): Path[] {
  return paths.flatMap((path) => {
    const parts = splitLine(path, barriers);
    if (parts.every((p) => !p.inside)) return [path];
    if (path.closed && parts.length > 1 && !parts[0]!.inside && !parts.at(-1)!.inside) {
      // What is left of a closed line before its first cut is the end of what is left after the last.
      const last = parts.pop()!;
      parts[0] = { inside: false, points: [...last.points, ...parts[0]!.points.slice(2)] };
    }
    return parts
      .filter((p) => !p.inside)
      .map((p) => ({ points: Float64Array.from(p.points), closed: false }))
      .filter((p) => lengthOf(p) >= shortest);
  });
}

/** Areas less what lies within barriers, closed anew along their edges. */
export const trimAreas = (areas: Polygons, barriers: readonly Barrier[]): Polygons =>
  difference(
    areas,
    barriers.flatMap((barrier) => [...barrier.over(areas)]),
  );
