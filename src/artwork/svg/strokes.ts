import { boundsOf } from '../../geometry/bounds.js';
import { flatten } from '../../geometry/flatten.js';
import { lengthOf, type Path } from '../../geometry/path.js';
import type { PathCommand } from '../../geometry/path-command.js';
import { outlineLines } from '../../geometry/polygons.js';
import { ringPath } from '../boolean.js';
import type { Budget } from '../budget.js';
import { chordsIn } from '../chords.js';
import type { DrawnStroke } from './drawing.js';
import { determinant, transformPath } from './matrix.js';

/** More dashes than any line of a drawing has; a line with more is taken whole. */
const MOST_DASHES = 50_000;

/**
 * The lines a stroke follows in the shape's own units, flat within `tolerance` mm and broken into its dashes. Each point
 * is a step of `points`, counted before it is made.
 */
export function strokeLines(stroke: DrawnStroke, tolerance: number, points: Budget): Path[] {
  const scale = Math.sqrt(Math.abs(determinant(stroke.map)));
  if (!(scale > 0)) return [];
  points.take(chordsIn(stroke.own, tolerance / scale));
  const flat = flatten(stroke.own, 1, tolerance / scale);
  const pattern = patternOf(stroke, unitOf(flat, stroke, tolerance, points));
  const lines = pattern ? applyDashes(flat, stroke, pattern) : flat;
  const hasDots = stroke.cap !== 'butt' && (!pattern || isDotOfLine(stroke, pattern));
  return hasDots ? [...lines, ...dots(stroke)] : lines;
}

/**
 * The outline of a stroke, mm, as polygons within `tolerance` mm: the pen goes round in the shape's own units, so that
 * a map that stretches the shape stretches the stroke with it.
 */
export function strokeOutline(
  { width, join, cap, miter, map }: DrawnStroke,
  lines: readonly Path[],
  tolerance: number,
  points: Budget,
): PathCommand[] {
  if (lines.length === 0) return [];
  const fine = tolerance / Math.sqrt(Math.abs(determinant(map)));
  const halfTurn = Math.PI * Math.sqrt(width / (4 * fine));
  for (const line of lines) {
    const halfTurns = (cap === 'round' ? 2 : 0) + (join === 'round' ? turnsOf(line.points) : 0);
    points.take(2 * line.points.length + halfTurn * halfTurns);
  }
  const precision = Math.min(8, Math.max(0, Math.ceil(-Math.log10(fine)) + 2));
  // SVG bevels a corner whose miter is too long: here all are bevelled, and `miters` adds the points.
  const corners = join === 'round' ? 'round' : 'bevel';
  const flat: ArrayLike<number>[] = outlineLines(lines, width, { ends: cap, corners, sag: fine, precision });
  if (join === 'miter')
    for (const line of lines) for (const kite of miters(line, width / 2, miter)) flat.push(kite);
  return flat.flatMap((ring) => transformPath(ringPath(ring), map));
}

/** What the corners of a line turn by in all, in half turns. */
function turnsOf(points: Float64Array): number {
  let turned = 0;
  for (let k = 1; k < points.length / 2 - 1; k++) {
    const [ux, uy] = unitVector(points, k - 1, k);
    const [vx, vy] = unitVector(points, k, k + 1);
    turned += Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
  }
  return turned / Math.PI;
}

/** Turns of less than this, as the sine, are a curve's; the point of a miter there is finer than the outline. */
const STRAIGHT = 0.01;

/** The points of a line's corners (SVG 2, 13.5.5), each an anticlockwise kite over the corner. */
function miters({ points, closed }: Path, half: number, limit: number): number[][] {
  const n = points.length / 2;
  const kites: number[][] = [];
  for (let k = closed ? 0 : 1; k < n - (closed ? 0 : 1); k++) {
    const [x, y] = [points[2 * k]!, points[2 * k + 1]!];
    const [ux, uy] = unitVector(points, (k + n - 1) % n, k);
    const [vx, vy] = unitVector(points, k, (k + 1) % n);
    const sine = ux * vy - uy * vx;
    const reach = Math.sqrt((1 + ux * vx + uy * vy) / 2);
    if (Math.abs(sine) < STRAIGHT || reach * limit < 1) continue;
    // The outer side is to the right of a turn to the left.
    const h = sine > 0 ? half : -half;
    const [ax, ay, bx, by] = [h * uy, -h * ux, h * vy, -h * vx];
    const farCorner = 1 / (2 * reach * reach);
    const kite = [x, y, x + ax, y + ay, x + (ax + bx) * farCorner, y + (ay + by) * farCorner, x + bx, y + by];
    kites.push(sine > 0 ? kite : [x, y, ...kite.slice(6), ...kite.slice(4, 6), ...kite.slice(2, 4)]);
  }
  return kites;
}

function unitVector(points: Float64Array, from: number, to: number): [number, number] {
  const [x, y] = [points[2 * to]! - points[2 * from]!, points[2 * to + 1]! - points[2 * from + 1]!];
  const length = Math.hypot(x, y) || 1;
  return [x / length, y / length];
}

/** A dot of a pen is drawn as a line of this part of its width. */
const DOT = 1e-4;

/** Lines of no length, which a pen with caps draws as dots (SVG 2, 13.5.2). */
function dots({ own, width }: DrawnStroke): Path[] {
  const found: Path[] = [];
  let [x, y, still, drawn] = [0, 0, false, false];
  const end = () => {
    const e = (width * DOT) / 2;
    if (still && drawn) found.push({ points: Float64Array.of(x - e, y, x + e, y), closed: false });
    drawn = false;
  };
  for (const s of own) {
    if (s[0] === 'M') {
      end();
      [x, y, still] = [s[1], s[2], true];
    } else {
      drawn = true;
      for (let k = 1; k + 1 < s.length; k += 2) if (s[k] !== x || s[k + 1] !== y) still = false;
    }
  }
  end();
  return found;
}

/** What one unit of a dash is long: more or less than 1 where the path says how long it counts as (SVG 2, 9.6.1). */
function unitOf(
  lines: readonly Path[],
  { pathLength, measured }: DrawnStroke,
  tolerance: number,
  points: Budget,
): number {
  if (pathLength === undefined) return 1;
  if (!measured) return lengthOfAll(lines) / pathLength;
  const fine = tolerance / Math.sqrt(Math.abs(determinant(measured.map)));
  points.take(chordsIn(measured.path, fine));
  return lengthOfAll(flatten(measured.path, 1, fine)) / pathLength;
}

const lengthOfAll = (lines: readonly Path[]): number => lines.reduce((sum, line) => sum + lengthOf(line), 0);

/** Lengths of dashes and gaps in turn, in the units of a path, and how far into them its lines begin. */
interface DashPattern {
  readonly dashes: readonly number[];
  readonly round: number;
  readonly from: number;
}

/** The dashes of a stroke, one unit of them being so long; undefined where they break no line. */
function patternOf(stroke: DrawnStroke, unit: number): DashPattern | undefined {
  const dashes = stroke.dashes.map((d) => d * unit);
  const dashFrom = stroke.dashFrom * unit;
  const round = dashes.reduce((a, b) => a + b, 0);
  if (!(round > 0 && Number.isFinite(round) && Number.isFinite(dashFrom))) return undefined;
  return { dashes, round, from: ((dashFrom % round) + round) % round };
}

/** Browsers draw no dot of a path with dashes, but for one that is a single line and begins with a dash. */
const isDotOfLine = ({ own }: DrawnStroke, { dashes, from }: DashPattern): boolean =>
  own.length === 2 && own[1]![0] === 'L' && stretchesDrawn(dashes, from, 0, 0).length > 0;

/** Lines broken into dashes (SVG 2, 13.5.6). A dash of no length is a dot where the pen has caps. */
function applyDashes(lines: readonly Path[], { cap, width }: DrawnStroke, pattern: DashPattern): Path[] {
  const dot = cap === 'butt' ? 0 : width * DOT;
  return lines.flatMap((line) => {
    if ((lengthOf(line) / pattern.round) * pattern.dashes.length > MOST_DASHES) return [line];
    return dashLine(line, pattern, dot, lines.length === 1);
  });
}

/** What is less than this part of a line is the rounding of its length. */
const ROUNDING = 1e-9;

/**
 * One line broken into dashes. A dash that runs through the start of a closed line is one with that which begins there.
 * `dot` is how long a dash of no length is drawn; `isAlone` says that the stroke has no other line.
 */
function dashLine(line: Path, { dashes, from }: DashPattern, dot: number, isAlone: boolean): Path[] {
  const along = lengthsAlong(line);
  const length = along[along.length - 1]!;
  const least = length * ROUNDING;
  const drawn = stretchesDrawn(dashes, from, length, least);
  if (drawn.length === 0) return [];
  const [first, last] = [drawn[0]!, drawn[drawn.length - 1]!];
  const runsThrough = line.closed && first[0] === 0 && last[1] === length;
  // Browsers join the ends of a dash that goes all the way round where it makes an upright rectangle, and no other shape.
  if (runsThrough && drawn.length === 1 && isAlone && isUprightRectangle(line.points)) return [line];
  const cut = cutter(line, along, least);
  const pieces = drawn.map(([start, end]) => cut(start, end - start > least ? end : start + dot));
  if (runsThrough && drawn.length > 1) {
    const end = pieces.pop()!;
    pieces[0] = first[1] > least ? joined(end, pieces[0]!.subarray(2)) : end;
  }
  return pieces.flatMap((points) => (points.length > 2 ? [{ points, closed: false }] : []));
}

function joined(a: Float64Array, b: Float64Array): Float64Array {
  const both = new Float64Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}

/**
 * Where a line of a length is drawn, by the lengths along it. A dash that would begin or end within `least` of an end of
 * the line does so at that end.
 */
function stretchesDrawn(
  dashes: readonly number[],
  from: number,
  length: number,
  least: number,
): (readonly [start: number, end: number])[] {
  const drawn: (readonly [number, number])[] = [];
  let k = 0;
  let left = from;
  // At its very start, a dash of no length is not over yet.
  while (left >= dashes[k]! - least && (left > least || dashes[k]! > least)) {
    left = Math.max(0, left - dashes[k]!);
    k = (k + 1) % dashes.length;
  }
  let start = 0;
  let end = dashes[k]! - left;
  for (;;) {
    const isLast = end >= length - least;
    if (k % 2 === 0) drawn.push([start, isLast ? length : end]);
    if (isLast) return drawn;
    k = (k + 1) % dashes.length;
    start = end;
    end += dashes[k]!;
  }
}

/** How far along a line each of its points is; of a closed one, its start again at its end. */
function lengthsAlong({ points, closed }: Path): number[] {
  const n = points.length / 2;
  const along = [0];
  for (let k = 1; k < n + (closed ? 1 : 0); k++) {
    const i = 2 * (k % n);
    along.push(
      along[k - 1]! + Math.hypot(points[i]! - points[2 * k - 2]!, points[i + 1]! - points[2 * k - 1]!),
    );
  }
  return along;
}

/**
 * Cuts stretches out of a line, in their order. An end within `least` of a point of the line is at that point; a
 * stretch of no length is one point.
 */
function cutter({ points }: Path, along: readonly number[], least: number) {
  const last = along.length - 1;
  const placeOf = (k: number): [number, number] => {
    const i = (2 * k) % points.length;
    return [points[i]!, points[i + 1]!];
  };
  /** The place at a length on the side that ends in point k. */
  const placeAt = (k: number, s: number): [number, number] => {
    const [before, after] = [along[k - 1]!, along[k]!];
    if (s <= before + least) return placeOf(k - 1);
    if (Math.abs(after - s) <= least) return placeOf(k);
    const [[x, y], [toX, toY]] = [placeOf(k - 1), placeOf(k)];
    const part = (s - before) / (after - before);
    return [x + (toX - x) * part, y + (toY - y) * part];
  };
  let k = 1;
  return (from: number, to: number): Float64Array => {
    while (k < last && along[k]! <= from + least) k++;
    const drawn: number[] = placeAt(k, from);
    for (; k < last && along[k]! < to - least; k++) drawn.push(...placeOf(k));
    if (to > from) drawn.push(...placeAt(k, to));
    return Float64Array.from(drawn);
  };
}

/** Whether a ring goes once round an upright rectangle. */
function isUprightRectangle(points: Float64Array): boolean {
  const [left, bottom, right, top] = boundsOf(points);
  const n = points.length / 2;
  const corners = new Set<string>();
  let length = 0;
  for (let k = 0; k < n; k++) {
    const [x, y] = [points[2 * k]!, points[2 * k + 1]!];
    const j = (2 * (k + 1)) % points.length;
    const [w, h] = [Math.abs(points[j]! - x), Math.abs(points[j + 1]! - y)];
    const [isAtSide, isAtEnd] = [x === left || x === right, y === bottom || y === top];
    if (!(isAtSide || isAtEnd) || (w > 0 && h > 0)) return false;
    if (isAtSide && isAtEnd) corners.add(`${x} ${y}`);
    length += w + h;
  }
  const round = 2 * (right - left + top - bottom);
  return corners.size === 4 && Math.abs(length - round) <= round * ROUNDING;
}
