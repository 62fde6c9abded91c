import { rotateAndMove } from '../geometry/transform.js';
import type { Glyph } from '../lettering/font.js';
import type { ShapedLine } from '../lettering/shaped-line.js';
import type { Place, Surface } from '../surface/surface.js';
import { toDeg, toRad } from '../units.js';

/**
 * One glyph placed on a surface by a rigid motion of its sheet, so that no letter is ever stretched. On a ring or a
 * helix each glyph lies on the sheet turned to its own middle; lengthwise all lie on the sheet turned to the mark's
 * angle.
 */
export interface PlacedGlyph {
  readonly glyph: Glyph;
  readonly character: string;
  /** The angle on the y axis of this glyph's sheet, degrees; not brought into one turn. */
  readonly turn: number;
  /** Where the glyph's origin goes on that sheet, mm. */
  readonly x: number;
  readonly y: number;
  /** Rotation about its origin, degrees anticlockwise. */
  readonly rotation: number;
}

/** The direction of a text: what its lines follow, and which way they read. */
export interface TextDirection {
  readonly baseline: Baseline;
  readonly reading: 'up' | 'down';
  /** Of a helix: how far it climbs in a turn of the ring through the mark's middle, mm along the surface. */
  readonly pitch?: number;
}

export type Baseline = 'ring' | 'lengthwise' | 'helix';

/** A glyph of a text, its origin counted from the middle of the text in letter heights: along x, and y up from its row. */
export interface CentredGlyph {
  readonly glyph: Glyph;
  readonly character: string;
  readonly x: number;
  /** How far the baseline of its row stands above that of a single line, in letter heights. */
  readonly y: number;
}

export const centreGlyphs = (line: ShapedLine): CentredGlyph[] =>
  line.glyphs.map(({ glyph, character, x, y }) => ({ glyph, character, x: x - line.width / 2, y: y ?? 0 }));

/**
 * A glyph placed on a surface as part of a text whose middle is at `at`: for a single line, half the letter height up.
 * `size` is the letter height, mm. Letters follow their ring or helix at mid-height, where they are spaced as they are
 * on the flat.
 */
export function placeGlyph(
  surface: Surface,
  one: CentredGlyph,
  size: number,
  direction: TextDirection,
  at: Place,
): PlacedGlyph {
  const { glyph, character, x } = one;
  const middle = surface.slant(at.z);
  const sign = direction.reading === 'up' ? 1 : -1;
  const up = (one.y - 0.5) * size;
  if (direction.baseline === 'lengthwise') {
    const rotation = sign > 0 ? 90 : 270;
    return { glyph, character, turn: at.angle, x: -sign * up, y: middle + sign * x * size, rotation };
  }
  const along = sign * (x + glyph.advance / 2) * size;
  const back = -sign * (glyph.advance / 2) * size;
  if (direction.baseline === 'ring') {
    const row = at.z + sign * one.y * size * Math.cos(toRad(surface.taper));
    const turn = at.angle + arcDeg(surface, row, along);
    return { glyph, character, turn, x: back, y: middle + sign * up, rotation: sign > 0 ? 0 : 180 };
  }
  const slope = slopeOf(surface, direction, at.z);
  const [c, s] = [Math.cos(slope), Math.sin(slope)];
  return {
    glyph,
    character,
    turn: at.angle + helixTurn(surface, at.z, slope, along),
    x: back * c - sign * up * s,
    y: middle + along * s + back * s + sign * up * c,
    rotation: toDeg(slope) + (sign > 0 ? 0 : 180),
  };
}

/** The angle a helix keeps to every ring, radians. */
export const slopeOf = (surface: Surface, { pitch = 0 }: TextDirection, z: number): number =>
  Math.atan2(pitch, 2 * Math.PI * surface.radius(z));

/**
 * How far a line of constant slope has turned, degrees, after `along` mm from the ring at z. On a cone the ring's
 * radius r grows by sin(taper) a mm of climb, and the turn is the integral of cos(slope) / r over the way.
 */
function helixTurn(surface: Surface, z: number, slope: number, along: number): number {
  const r = surface.radius(z);
  const grown = (along * Math.sin(slope) * Math.sin(toRad(surface.taper))) / r;
  const share = Math.abs(grown) < 1e-9 ? 1 : Math.log1p(Math.max(grown, -1 + 1e-9)) / grown;
  return toDeg((along * Math.cos(slope) * share) / r);
}

/** Turns by `rotation` degrees, then moves: glyph points, mm from its origin, to the sheet. Returns a new array. */
export function placeOnSheet(points: Float64Array, rotation: number, dx: number, dy: number): Float64Array {
  const quarters = rotation / 90;
  const exact = Number.isInteger(quarters) ? ((quarters % 4) + 4) % 4 : undefined;
  const c = exact === undefined ? Math.cos(toRad(rotation)) : [1, 0, -1, 0][exact]!;
  const s = exact === undefined ? Math.sin(toRad(rotation)) : [0, 1, 0, -1][exact]!;
  return rotateAndMove(points, c, s, dx, dy);
}

/** Length of an arc of `mm` on the ring at z, as degrees of turn. */
export const arcDeg = (surface: Surface, z: number, mm: number): number => toDeg(mm / surface.radius(z));
