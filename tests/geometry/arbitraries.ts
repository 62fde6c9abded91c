import fc from 'fast-check';
import type { Polyline } from '../../src/geometry/path.js';

/** Coordinates of a coarse grid: many points coincide, many lie on one line, so that the rare cases are common. */
export const gridCoordinate = fc.integer({ min: -4, max: 4 });
export const gridPoint = fc.tuple(gridCoordinate, gridCoordinate);

/** Any coordinate that a workshop can have to a nanometre, mm. */
export const coordinate = fc.integer({ min: -1e9, max: 1e9 }).map((nanometres) => nanometres / 1e6);
export const point = fc.tuple(coordinate, coordinate);

export const polyline = (points: readonly (readonly [number, number])[]): Polyline =>
  Float64Array.from(points.flat());

/** Rings on the grid; they cross and touch themselves. */
export const gridRing = fc.array(gridPoint, { minLength: 3, maxLength: 9 }).map(polyline);
