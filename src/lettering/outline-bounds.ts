import type { PathCommand } from '../geometry/path-command.js';

/** Two readers of one font may round a point differently, by less than this many font units. */
const TOLERANCE = 1;

/**
 * Whether two drawings of a glyph, in font units, are equally wide and reach equally high and low, control points
 * included. Readers begin contours at different points and may leave out those of a single point, so commands are not
 * compared; nor is the place from left to right, since HarfBuzz moves an outline to its left side bearing where the two
 * differ by a unit, and opentype.js does not.
 */
export function pathsAgree(a: readonly PathCommand[], b: readonly PathCommand[]): boolean {
  const [left, right] = [extentOf(a), extentOf(b)];
  // Blank glyphs have infinite extents, which are equal; a point that is not a number agrees with nothing.
  return left.every((v, i) => v === right[i] || Math.abs(v - right[i]!) < TOLERANCE);
}

function extentOf(path: readonly PathCommand[]): [width: number, bottom: number, top: number] {
  const [left, bottom, right, top] = boundsOfPoints(path);
  return [right - left, bottom, top];
}

/** The box of all points of all contours that have an extent. */
function boundsOfPoints(path: readonly PathCommand[]): [number, number, number, number] {
  const all: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  let contour: number[] = [];
  const close = (): void => {
    const xs = contour.filter((_, i) => i % 2 === 0);
    const ys = contour.filter((_, i) => i % 2 === 1);
    const box = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)] as const;
    contour = [];
    if (box[0] === box[2] && box[1] === box[3]) return;
    all[0] = Math.min(all[0], box[0]);
    all[1] = Math.min(all[1], box[1]);
    all[2] = Math.max(all[2], box[2]);
    all[3] = Math.max(all[3], box[3]);
  };
  for (const command of path) {
    if (command[0] === 'M') close();
    contour.push(...(command.slice(1) as number[]));
  }
  close();
  return all;
}
