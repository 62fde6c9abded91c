import type { Mark } from '../documents/schema/design.js';
import type { Glyph } from '../lettering/font.js';
import type { SetLine } from '../lettering/shape.js';
import type { Place, Surface } from '../surface/surface.js';
import { toDeg } from '../units.js';

/**
 * One glyph set down on a surface by a rigid motion of its sheet, so that no letter is ever stretched. On a ring each
 * glyph lies on the sheet turned to its own middle; lengthwise all lie on the sheet turned to the mark's angle.
 */
export interface PlacedGlyph {
  readonly glyph: Glyph;
  readonly character: string;
  /** The angle on the y axis of this glyph's sheet, degrees; not brought into one turn. */
  readonly turn: number;
  /** Where the glyph's origin goes on that sheet, mm. */
  readonly x: number;
  readonly y: number;
  /** Quarter turns anticlockwise. */
  readonly quarters: 0 | 1 | 2 | 3;
}

export type Lie = Pick<Mark, 'baseline' | 'reading'>;

/** A glyph of a line, with the x of its origin counted from the line's middle, in letter heights. */
export interface CentredGlyph {
  readonly glyph: Glyph;
  readonly character: string;
  readonly x: number;
}

export const centred = (line: SetLine): CentredGlyph[] =>
  line.glyphs.map(({ glyph, character, x }) => ({ glyph, character, x: x - line.width / 2 }));

/**
 * A glyph laid on a surface as part of a line whose middle, at half the letter height, is at `at`. `size` is the
 * letter height, mm. Letters follow the ring at mid-height, where they are spaced as they are on the flat.
 */
export function placeGlyph(
  surface: Surface,
  one: CentredGlyph,
  size: number,
  lie: Lie,
  at: Place,
): PlacedGlyph {
  const { glyph, character, x } = one;
  const middle = surface.slant(at.z);
  const up = lie.reading === 'up';
  const way = up ? 1 : -1;
  if (lie.baseline === 'lengthwise') {
    const quarters = up ? 1 : 3;
    return { glyph, character, turn: at.angle, x: (way * size) / 2, y: middle + way * x * size, quarters };
  }
  const along = (x + glyph.advance / 2) * size;
  return {
    glyph,
    character,
    turn: at.angle + way * arcDeg(surface, at.z, along),
    x: (-way * glyph.advance * size) / 2,
    y: middle - (way * size) / 2,
    quarters: up ? 0 : 2,
  };
}

/** Turns by quarters, then moves: glyph points, mm from its origin, to the sheet. Returns a new array. */
export function setDown(points: Float64Array, quarters: number, dx: number, dy: number): Float64Array {
  const c = [1, 0, -1, 0][quarters]!;
  const s = [0, 1, 0, -1][quarters]!;
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 2) {
    out[i] = points[i]! * c - points[i + 1]! * s + dx;
    out[i + 1] = points[i]! * s + points[i + 1]! * c + dy;
  }
  return out;
}

/** Length of an arc of `mm` on the ring at z, as degrees of turn. */
export const arcDeg = (surface: Surface, z: number, mm: number): number => toDeg(mm / surface.radius(z));
