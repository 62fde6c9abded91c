import type { PathCommand } from '../geometry/path-command.js';

/** What turns of a whole round may come to over 360 degrees, for rounding alone, rad. */
const ROUNDING = 1e-6;

/**
 * Whether a path is one closed curve whose control points go once round without turning back: the curve is then convex
 * and does not cross itself, as a Bezier curve turns no more than its control points do.
 */
export function isConvex(path: readonly PathCommand[]): boolean {
  const points = controls(path);
  const n = (points?.length ?? 0) / 2;
  if (!points || n < 3) return false;
  let [turned, round] = [0, 0];
  for (let k = 0; k < n; k++) {
    const [a, b, c] = [2 * ((k + n - 1) % n), 2 * k, 2 * ((k + 1) % n)];
    const [ux, uy] = [points[b]! - points[a]!, points[b + 1]! - points[a + 1]!];
    const [vx, vy] = [points[c]! - points[b]!, points[c + 1]! - points[b + 1]!];
    const turn = Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
    turned += Math.abs(turn);
    round += turn;
  }
  return turned <= 2 * Math.PI + ROUNDING && Math.abs(round) >= 2 * Math.PI - ROUNDING;
}

/** The points and control points of a path of one ring, none twice running; undefined for several rings. */
function controls(path: readonly PathCommand[]): number[] | undefined {
  const points: number[] = [];
  for (const [k, s] of path.entries()) {
    if ((s[0] === 'M') !== (k === 0) || (s[0] === 'Z' && k !== path.length - 1)) return undefined;
    for (let i = 1; i + 1 < s.length; i += 2) {
      const [x, y] = [s[i] as number, s[i + 1] as number];
      if (x !== points.at(-2) || y !== points.at(-1)) points.push(x, y);
    }
  }
  while (points.length > 2 && points[0] === points.at(-2) && points[1] === points.at(-1)) points.length -= 2;
  return points;
}
