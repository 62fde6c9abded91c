import type { Point, Polyline } from '../geometry/path.js';

/** A place on a part: z along the axis from the datum end, mm; angle from the index line, degrees. */
export interface Place {
  readonly z: number;
  readonly angle: number;
}

/**
 * A developable surface of revolution and its sheet. Distances along the surface are distances on the sheet.
 * See docs/geometry.md for the frames and the derivation.
 */
export interface Surface {
  readonly id: string;
  readonly kind: 'cylinder' | 'cone';
  /** z of the lower edge; the sheet's origin is (z0, angle 0). */
  readonly z0: number;
  readonly z1: number;
  /** Angle from the axis to the generator, degrees: 0 on a cylinder, positive where the surface widens with z. */
  readonly taper: number;
  /** Radius at z, mm. */
  radius(z: number): number;
  /** Distance along the generator from the lower edge to z, mm. */
  slant(z: number): number;
  /** Where the apex of a cone lies on the sheet, mm: every ring is an arc about it. */
  readonly apex?: Point;
  /** Half the range of angle, degrees, that the flat sheet shows without overlapping itself. */
  readonly sheetReach: number;
  /** Any z of the surface (or beyond its edges) and any real angle to x, y in mm. */
  toSheet(z: number, angle: number): Point;
  /** x, y in mm to z and an angle in [0, 360). The inverse of `toSheet`. */
  toSurface(x: number, y: number): Place;
  /** The rigid motion of the sheet that turns the part by `angle` degrees: where (x, y) goes, mm. */
  rotate(x: number, y: number, angle: number): Point;
  /** As `toSurface`, but the angle runs on through the seam: the one nearest 0 within (-reach, reach). */
  toSurfaceNear(x: number, y: number): Place;
}

/** A line of the sheet carried along as the part turns by `angle` degrees. A new array. */
export function rotateLine(surface: Surface, line: Polyline, angle: number): Polyline {
  const out = new Float64Array(line.length);
  for (let i = 0; i < line.length; i += 2) {
    const [x, y] = surface.rotate(line[i]!, line[i + 1]!, angle);
    out[i] = x;
    out[i + 1] = y;
  }
  return out;
}
