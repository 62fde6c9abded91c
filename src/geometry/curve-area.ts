import type { PathCommand } from './path-command.js';

/** The area within closed curves, positive where they run anticlockwise: exact, by Green's theorem. */
export function signedArea(path: readonly PathCommand[]): number {
  let twice = 0;
  let [x, y, startX, startY] = [0, 0, 0, 0];
  const to = (px: number, py: number) => {
    [x, y] = [px, py];
  };
  for (const s of path) {
    switch (s[0]) {
      case 'M':
        to(s[1], s[2]);
        [startX, startY] = [x, y];
        break;
      case 'L':
        twice += x * s[2] - s[1] * y;
        to(s[1], s[2]);
        break;
      case 'Q':
        twice += x * s[4] - s[3] * y + (2 / 3) * bulge(x, y, s[1], s[2], s[3], s[4]);
        to(s[3], s[4]);
        break;
      case 'C':
        twice += cubic(x, y, s);
        to(s[5], s[6]);
        break;
      default:
        twice += x * startY - startX * y;
        to(startX, startY);
    }
  }
  return twice / 2;
}

/** Twice the area of the triangle of three points. */
const bulge = (ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number =>
  (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);

type Cubic = Extract<PathCommand, readonly ['C', ...number[]]>;

function cubic(x: number, y: number, [, px, py, qx, qy, ex, ey]: Cubic): number {
  const beside =
    3 * bulge(x, y, px, py, qx, qy) + 3 * bulge(x, y, px, py, ex, ey) + 6 * bulge(x, y, qx, qy, ex, ey);
  return x * ey - ex * y + beside / 10;
}
