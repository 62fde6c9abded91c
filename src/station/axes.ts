import type { Station } from '../documents/schema/station.js';
import type { Surface } from '../surface/surface.js';
import { toRad } from '../units.js';

/** Where a station's axes stand for a place on a surface. Lengths mm, angles degrees. docs/programs.md has the table. */
export interface StationAxes {
  /** X for z on the part. */
  x(z: number): number;
  /** z on the part for X. */
  zAt(x: number): number;
  /** A for an angle on the part. */
  a(angle: number): number;
  /** The angle on the part for A. */
  angleAt(a: number): number;
  /** Z of the surface at z on the part. */
  height(z: number): number;
  /** How far Z goes below the surface for a depth along the normal. */
  plunge(depth: number): number;
  /** The greatest Z of the surface. */
  readonly highest: number;
}

export function stationAxes(station: Station, surface: Surface): StationAxes {
  const { x, a, z } = station.axes;
  const level = station.setup === 'level';
  const cos = Math.cos(toRad(surface.taper));
  // Touched at the lower edge, the surface is at zero there; measured from the axis, it is at its radius.
  const base = z.zero === 'touch' ? surface.radius(surface.z0) : 0;
  const height = level ? (at: number) => z.offset + surface.radius(at) - base : () => z.offset;
  return {
    x: level ? (at) => x.offset + x.sign * at : (at) => x.offset + x.sign * surface.slant(at),
    zAt: level ? (at) => x.sign * (at - x.offset) : (at) => surface.z0 + x.sign * (at - x.offset) * cos,
    a: (angle) => a.offset + a.sign * angle,
    angleAt: (at) => a.sign * (at - a.offset),
    height,
    plunge: level ? (depth) => depth / cos : (depth) => depth,
    highest: Math.max(height(surface.z0), height(surface.z1)),
  };
}
