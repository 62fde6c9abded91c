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
  const lines = applyDashes(flat, stroke, unitOf(flat, stroke, tolerance, points));
  return stroke.cap === 'butt' ? lines : [...lines, ...dots(stroke)];
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

/** Lines broken into dashes (SVG 2, 13.5.6). A dash of no length is a dot where the pen has caps. */
function applyDashes(lines: readonly Path[], stroke: DrawnStroke, unit: number): Path[] {
  const { width, cap } = stroke;
  if (stroke.dashes.length === 0) return [...lines];
  const dashes = stroke.dashes.map((d) => d * unit);
  const dashFrom = stroke.dashFrom * unit;
  const round = dashes.reduce((a, b) => a + b, 0);
  if (round === 0) return [...lines];
  const least = cap === 'butt' ? 0 : width * DOT;
  const drawn = dashes.map((d, k) => (k % 2 === 0 ? Math.max(d, least) : d));
  const whole = drawn.reduce((a, b) => a + b, 0);
  return lines.flatMap((line) => {
    if ((lengthOf(line) / whole) * drawn.length > MOST_DASHES) return [line];
    return dashLine(
      line,
      drawn.map((d) => (d * round) / whole),
      ((dashFrom % round) + round) % round,
    );
  });
}

/** A dash that runs through the start of a closed line is one with that which begins there. */
function dashLine({ points, closed }: Path, dashes: readonly number[], from: number): Path[] {
  let k = 0;
  let left = from;
  while (left >= dashes[k]!) {
    left -= dashes[k]!;
    k = (k + 1) % dashes.length;
  }
  let rest = dashes[k]! - left;
  const out: Path[] = [];
  const isDrawnAtStart = k % 2 === 0;
  let dash: number[] = isDrawnAtStart ? [points[0]!, points[1]!] : [];
  const end = () => {
    if (dash.length >= 4) out.push({ points: Float64Array.from(dash), closed: false });
    dash = [];
  };
  const n = points.length / 2;
  for (let i = 1; i < n + (closed ? 1 : 0); i++) {
    let [x, y] = [points[2 * i - 2]!, points[2 * i - 1]!];
    const [tx, ty] = [points[2 * (i % n)]!, points[2 * (i % n) + 1]!];
    for (let d = Math.hypot(tx - x, ty - y); d > 0; ) {
      const go = Math.min(d, rest);
      [x, y] = [x + ((tx - x) * go) / d, y + ((ty - y) * go) / d];
      d -= go;
      rest -= go;
      if (k % 2 === 0) dash.push(x, y);
      if (rest > 0) continue;
      if (k % 2 === 0) end();
      do k = (k + 1) % dashes.length;
      while (dashes[k] === 0);
      rest = dashes[k]!;
      if (k % 2 === 0) dash = [x, y];
    }
  }
  if (closed && isDrawnAtStart && k % 2 === 0 && out.length > 0)
    out[0] = { points: Float64Array.from([...dash, ...out[0]!.points.subarray(2)]), closed: false };
  else end();
  return out;
}
