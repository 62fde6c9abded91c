import type { Path, Polyline } from '../geometry/path.js';
import { mirror } from '../geometry/transform.js';
import type { Surface } from '../surface/surface.js';
import { FLATTEN_TOLERANCE_MM, toRad, wrapDeg } from '../units.js';
import { placeOnSheet } from './glyph-placement.js';

/** Lines on the sheet whose y axis is at the angle `turn`, degrees. */
export interface TurnedLine extends Path {
  readonly turn: number;
}

export interface Repeat {
  /** Round the ring. */
  readonly count: number;
  readonly rows: number;
  /** From row to row along the surface, mm. */
  readonly rise: number;
  /** Each row is turned by this part of a repeat. */
  readonly step: number;
  readonly mirror: 'none' | 'alternate';
}

/** Where one repeat stands: its middle's angle, degrees, and distance along the surface from the pattern's middle, mm. */
export interface RepeatPlace {
  readonly row: number;
  readonly index: number;
  readonly turn: number;
  readonly up: number;
  readonly mirrored: boolean;
}

/** A whole number of repeats round the ring, spaced by equal angles from `angle`, row by row upward. */
export function repeatPlaces({ count, rows, rise, step, mirror }: Repeat, angle: number): RepeatPlace[] {
  const places: RepeatPlace[] = [];
  for (let row = 0; row < rows; row++) {
    for (let index = 0; index < count; index++) {
      places.push({
        row,
        index,
        turn: wrapDeg(angle + (360 * (index + row * step)) / count),
        up: (row - (rows - 1) / 2) * rise,
        mirrored: mirror === 'alternate' && (index + row) % 2 === 1,
      });
    }
  }
  return places;
}

/**
 * A drawing about its own middle, mm, placed undistorted: a rigid motion of the sheet, mirrored left for right
 * where asked. `slant` is where its middle goes along the surface, mm; `rotation` turns it, degrees.
 */
export function placeRigid(
  paths: readonly Path[],
  slant: number,
  rotation: number,
  mirrored: boolean,
): Path[] {
  return paths.map(({ points, closed }) => ({
    closed,
    points: placeOnSheet(mirrored ? mirror(points) : points, rotation, 0, slant),
  }));
}

/**
 * The same drawn out with the ring: `width` mm of the drawing are its share of the ring, 360 / `count` degrees, at
 * every height. Straight lines bend on the sheet of a cone, and are followed.
 */
export function placeStretched(
  surface: Surface,
  paths: readonly Path[],
  slant: number,
  width: number,
  count: number,
  mirrored: boolean,
): Path[] {
  const share = (mirrored ? -360 : 360) / count / width;
  return paths.map(({ points, closed }) => {
    const polar = new Float64Array(points.length + (closed ? 2 : 0));
    for (let i = 0; i < polar.length; i += 2) {
      polar[i] = points[i % points.length]! * share;
      polar[i + 1] = slant + points[(i + 1) % points.length]!;
    }
    const bent = bentToSheet(surface, polar);
    return { points: closed ? bent.slice(0, -2) : bent, closed };
  });
}

/**
 * A line that goes once round, given as u in turns and v in mm along the surface about `slant`, on the sheet turned so
 * that it begins and ends at `angle`: one open line whose two ends are the same place of the part. Half a turn either
 * way lies on the sheet of any cone.
 */
export function wrapRound(surface: Surface, line: Float64Array, slant: number, angle: number): TurnedLine {
  const polar = line.map((value, i) => (i % 2 === 0 ? 360 * value - 180 : slant + value));
  return { turn: angle + 180, points: bentToSheet(surface, polar), closed: false };
}

/** How far a line straight in angle and slant may be followed astray, mm: little beside how it was flattened. */
const BEND_TOLERANCE_MM = FLATTEN_TOLERANCE_MM / 4;

/** Points (angle from the sheet's y axis in degrees, slant in mm) to the sheet, straight between them on the part. */
function bentToSheet(surface: Surface, polar: Float64Array): Polyline {
  const cos = Math.cos(toRad(surface.taper));
  const out: number[] = [];
  const put = (angle: number, slant: number) => {
    out.push(...surface.toSheet(surface.z0 + heldFromApex(surface, slant) * cos, angle));
  };
  for (let i = 0; i < polar.length; i += 2) {
    const [angle, slant] = [polar[i]!, polar[i + 1]!];
    if (i > 0) {
      const [a, s] = [polar[i - 2]!, polar[i - 1]!];
      const steps = stepsFor(surface, s, angle - a, slant - s);
      for (let k = 1; k < steps; k++) put(a + ((angle - a) * k) / steps, s + ((slant - s) * k) / steps);
    }
    put(angle, slant);
  }
  return Float64Array.from(out);
}

/** A cone ends at its apex: what would lie past it is held there, outside any surface. */
function heldFromApex({ apex }: Surface, slant: number): number {
  if (!apex) return slant;
  const last = apex[1] * (1 - 1e-9);
  return last > 0 ? Math.min(slant, last) : Math.max(slant, last);
}

/**
 * Steps in which a line straight in angle and slant is followed on the sheet. About the apex its distance p and angle
 * f run evenly, so its second derivative is df hypot(p df, 2 dp), with p df the way round.
 */
function stepsFor(surface: Surface, slant: number, degrees: number, along: number): number {
  const sin = Math.abs(Math.sin(toRad(surface.taper)));
  const turned = Math.abs(toRad(degrees));
  const radius = Math.abs(surface.radius(surface.z0 + slant * Math.cos(toRad(surface.taper))));
  const round = turned * (radius + sin * Math.abs(along));
  const stray = (sin * turned * Math.hypot(round, 2 * along)) / 8;
  return Math.max(1, Math.ceil(Math.sqrt(stray / BEND_TOLERANCE_MM)));
}
