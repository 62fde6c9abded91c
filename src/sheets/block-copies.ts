import type { CutBlock } from '../cutting/cuts.js';
import type { Polyline } from '../geometry/path.js';
import { rotateLine, type Surface } from '../surface/surface.js';
import { nearDeg } from '../units.js';

/** A block's lines moved onto a picture, and by how many degrees they were turned to get there. */
export interface BlockCopy {
  readonly turned: number;
  readonly lines: readonly { readonly points: Polyline; readonly closed: boolean }[];
}

/** What of a block is drawn: the area that is cut away where there is one, else its lines. */
export const drawnLines = ({ area, lines }: CutBlock): CutBlock['lines'] =>
  area ? area.map((points) => ({ points, closed: true })) : lines;

/** A block reaching over more degrees than this is cut off at the picture's ends, which it would overrun by far. */
const LONG_DEG = 120;

/** How far past the picture's ends a copy is still drawn, mm: half the widest line, and a little. */
const PAST_END_MM = 1;

/**
 * A block on the picture whose y axis is at the angle `viewAngle`, degrees. The seam cuts the picture and never a mark:
 * lines run on past its ends, and a block that comes within reach of the other end has a second copy there.
 */
export function copiesOnPicture(surface: Surface, block: CutBlock, viewAngle: number): BlockCopy[] {
  const near = nearDeg(block.turn - viewAngle);
  const [least, most] = anglesOf(surface, block);
  const reach = 180 + pastEndDeg(surface);
  return [near, near - 360, near + 360]
    .filter((turned, k) => k === 0 || (turned + most >= -reach && turned + least <= reach))
    .map((turned) => ({
      turned,
      lines: (most - least > LONG_DEG
        ? clipToAngles(surface, drawnLines(block), -reach - turned, reach - turned)
        : drawnLines(block)
      ).map(({ points, closed }) => ({
        points: rotateLine(surface, points, turned),
        closed,
      })),
    }));
}

/** The parts of lines between two angles, to the nearest point. */
function clipToAngles(
  surface: Surface,
  lines: CutBlock['lines'],
  least: number,
  most: number,
): { points: Polyline; closed: boolean }[] {
  const out: { points: Polyline; closed: boolean }[] = [];
  for (const { points, closed } of lines) {
    const parts: number[][] = [[]];
    const n = points.length / 2;
    for (let k = 0; k < n + (closed ? 1 : 0); k++) {
      const [x, y] = [points[2 * (k % n)]!, points[2 * (k % n) + 1]!];
      const { angle } = surface.toSurfaceNear(x, y);
      if (angle >= least && angle <= most) parts.at(-1)!.push(x, y);
      else if (parts.at(-1)!.length > 0) parts.push([]);
    }
    const whole = closed && parts.length === 1;
    for (const part of parts) {
      if (part.length < 4) continue;
      out.push({ points: Float64Array.from(whole ? part.slice(0, -2) : part), closed: whole });
    }
  }
  return out;
}

const pastEndDeg = (surface: Surface): number =>
  (PAST_END_MM * 180) / (Math.PI * Math.min(surface.radius(surface.z0), surface.radius(surface.z1)));

/** The angles that a block takes up, counted from its own turn, degrees. */
export function anglesOf(surface: Surface, block: CutBlock): [least: number, most: number] {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const { points } of block.lines)
    for (let i = 0; i < points.length; i += 2) {
      const { angle } = surface.toSurfaceNear(points[i]!, points[i + 1]!);
      least = Math.min(least, angle);
      most = Math.max(most, angle);
    }
  return [least, most];
}
