import type { Point } from '../geometry/path.js';
import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';
import type { StationAxes } from './axes.js';
import { formatFixed } from './program-numbers.js';

/** A sheet line laid on the surface in straight moves: z in mm, angle in degrees on the block's sheet, running on. */
export interface SurfaceLine {
  readonly z: readonly number[];
  readonly angle: readonly number[];
  /** Depth at each point along the normal, mm, where it changes along the line. */
  readonly depth?: readonly number[];
}

/** More moves than this for one straight line means it runs behind the apex, where the sheet has no surface. */
const MOST_MOVES = 4096;

/**
 * How far a move straight in z and angle can stray from the straight sheet line between its ends, mm, at most.
 * With p the distance from the apex and f the sheet's angle, both linear in the move, |C''| of p e^(if) is at most
 * |df| sqrt(4 dp^2 + p^2 df^2); a chord is off by at most an eighth of it. f = angle * sin t and p = r / sin t.
 */
function strayBound(surface: Surface, z: number, angle: number, toZ: number, toAngle: number): number {
  const turned = toRad(Math.abs(toAngle - angle));
  const along = surface.slant(toZ) - surface.slant(z);
  const around = Math.max(surface.radius(z), surface.radius(toZ)) * turned;
  return (Math.abs(Math.sin(toRad(surface.taper))) * turned * Math.hypot(2 * along, around)) / 8;
}

/**
 * Lays a flat sheet line (x, y pairs, mm) on a surface so that no straight move strays more than `stray` mm from it.
 * A closed line ends where it began. Depths change evenly along each straight piece. Undefined when a piece of it cannot be followed: it runs behind a cone's apex.
 */
export function toSurfaceLine(
  surface: Surface,
  points: Float64Array,
  closed: boolean,
  stray: number,
  depths?: Float64Array,
): SurfaceLine | undefined {
  const z: number[] = [];
  const angle: number[] = [];
  const depth: number[] = depths ? [depths[0]!] : [];
  const count = points.length / 2;
  const first = surface.toSurfaceNear(points[0]!, points[1]!);
  z.push(first.z);
  angle.push(first.angle);
  for (let k = 1; k < count + (closed ? 1 : 0); k++) {
    const from = 2 * (k - 1);
    const to = 2 * (k % count);
    const x0 = points[from]!;
    const y0 = points[from + 1]!;
    const piece = layStraight(surface, x0, y0, points[to]!, points[to + 1]!, stray);
    if (!piece) return undefined;
    z.push(...piece.z);
    angle.push(...piece.angle);
    if (!depths) continue;
    const [d0, d1] = [depths[k - 1]!, depths[k % count]!];
    const moves = piece.z.length;
    for (let i = 1; i <= moves; i++) depth.push(i === moves ? d1 : d0 + ((d1 - d0) * i) / moves);
  }
  return depths ? { z, angle, depth } : { z, angle };
}

/** The points of one straight line after its first. */
function layStraight(
  surface: Surface,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  stray: number,
): SurfaceLine | undefined {
  const first = surface.toSurfaceNear(x0, y0);
  const last = surface.toSurfaceNear(x1, y1);
  const whole = strayBound(surface, first.z, first.angle, last.z, last.angle);
  let moves = Math.max(1, Math.ceil(Math.sqrt(whole / stray)));
  while (moves <= MOST_MOVES) {
    const z: number[] = [];
    const angle: number[] = [];
    let here = first;
    let within = true;
    for (let k = 1; k <= moves && within; k++) {
      const t = k / moves;
      const next = k === moves ? last : surface.toSurfaceNear(x0 + t * (x1 - x0), y0 + t * (y1 - y0));
      within = strayBound(surface, here.z, here.angle, next.z, next.angle) <= stray;
      z.push(next.z);
      angle.push(next.angle);
      here = next;
    }
    if (within) return { z, angle };
    moves += Math.ceil(moves / 4);
  }
  return undefined;
}

/** A surface line as the station's words say it, rounded. Points of one depth that round alike are one. */
export interface AxisLine {
  readonly xWords: readonly string[];
  readonly aWords: readonly string[];
  readonly x: readonly number[];
  readonly a: readonly number[];
  /** Z of the surface under each point, mm. */
  readonly surfaceZ: readonly number[];
  /** Depth at each point, mm, where it changes along the line. */
  readonly depth?: readonly number[];
  /** Distance on the sheet from the point before, between the rounded points, mm; 0 for the first. */
  readonly length: readonly number[];
}

/** The way between two points so far apart on the sheet and in depth, mm. */
export const wayOf = (length: number, sunk: number): number =>
  sunk === 0 ? length : Math.hypot(length, sunk);

/** Depths, mm, that hardly differ in a program's digits. */
export const nearlyEqual = (a: number, b: number, decimals: number): boolean =>
  Math.abs(a - b) < 10 ** -decimals;

/** A point of it as its words place it. */
interface WordPoint {
  readonly xWord: string;
  readonly aWord: string;
  /** z on the part, mm, and the angle on the block's sheet, degrees. */
  readonly z: number;
  readonly angle: number;
  readonly sheet: Point;
  readonly depth: number | undefined;
}

/** How short moves may be: those under `step` mm are merged where the path strays no more than `stray` mm for it. */
export interface MergeLimits {
  readonly step: number;
  readonly stray: number;
}

/** Writes a surface line in X and A. `turn` is the part angle, degrees with any whole turns, of the sheet's y axis. */
export function axisLine(
  axes: StationAxes,
  surface: Surface,
  line: SurfaceLine,
  turn: number,
  decimals: number,
  limits: MergeLimits,
): AxisLine {
  const all: WordPoint[] = [];
  line.z.forEach((z, k) => {
    const xWord = formatFixed(axes.x(z), decimals);
    const aWord = formatFixed(axes.a(turn + line.angle[k]!), decimals);
    const before = all.at(-1);
    const depth = line.depth?.[k];
    const still = before && xWord === before.xWord && aWord === before.aWord;
    if (still && (depth === undefined || nearlyEqual(depth, before.depth!, decimals))) return;
    const at = axes.zAt(Number(xWord));
    const angle = axes.angleAt(Number(aWord)) - turn;
    all.push({ xWord, aWord, z: at, angle, sheet: surface.toSheet(at, angle), depth });
  });
  // A groove's points carry a depth each, and the length of its moves counts the change of depth as it is written.
  const points = line.depth ? all : mergeShortMoves(surface, all, limits);
  return {
    xWords: points.map((p) => p.xWord),
    aWords: points.map((p) => p.aWord),
    x: points.map((p) => Number(p.xWord)),
    a: points.map((p) => Number(p.aWord)),
    surfaceZ: points.map((p) => axes.height(p.z)),
    length: points.map((p, k) => (k === 0 ? 0 : sheetDistance(points[k - 1]!, p))),
    ...(line.depth ? { depth: points.map((p) => p.depth!) } : {}),
  };
}

const sheetDistance = ({ sheet: [x0, y0] }: WordPoint, { sheet: [x1, y1] }: WordPoint): number =>
  Math.hypot(x1 - x0, y1 - y0);

/**
 * Leaves out points that make a move shorter than the useful step, as far as the path allows. A short move first takes
 * in what follows; where that would stray, the point that it starts from is left out instead.
 */
function mergeShortMoves(
  surface: Surface,
  points: readonly WordPoint[],
  { step, stray }: MergeLimits,
): readonly WordPoint[] {
  const isMergeable = (from: number, to: number): boolean => {
    const [a, b] = [points[from]!, points[to]!];
    // A line that comes back to where it was is no move at all.
    if (a.xWord === b.xWord && a.aWord === b.aWord) return false;
    const left = stray - strayBound(surface, a.z, a.angle, b.z, b.angle);
    for (let k = from + 1; k < to; k++)
      if (distanceToSegment(points[k]!.sheet, a.sheet, b.sheet) > left) return false;
    return true;
  };
  const kept = [0];
  const last = points.length - 1;
  for (let at = 0; at < last; at = kept.at(-1)!) {
    let next = at + 1;
    while (next < last && sheetDistance(points[at]!, points[next]!) < step && isMergeable(at, next + 1))
      next++;
    const isShort = sheetDistance(points[at]!, points[next]!) < step;
    if (isShort && kept.length > 1 && isMergeable(kept.at(-2)!, next)) kept.pop();
    kept.push(next);
  }
  return kept.length === points.length ? points : kept.map((k) => points[k]!);
}

function distanceToSegment([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const [dx, dy] = [bx - ax, by - ay];
  const square = dx * dx + dy * dy;
  const t = square > 0 ? Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square)) : 0;
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}
