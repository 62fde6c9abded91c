import type { PathCommand } from '../../geometry/path-command.js';

/** Numbers of the command A with absolute coordinates (SVG 2, 9.3.8). */
export type ArcNumbers = readonly [
  rx: number,
  ry: number,
  turn: number,
  large: number,
  sweep: number,
  x: number,
  y: number,
];

/** An arc is drawn by cubics over this much of its turn at the most, which stray less than 1e-7 of its radius. */
const ARC_STEP = Math.PI / 8;

/** An elliptical arc as cubics: centre and angles as in SVG 2, B.2.4, radii grown where they do not reach, B.2.5. */
export function arcToCubics(
  [x0, y0]: readonly [number, number],
  [rxGiven, ryGiven, turn, large, sweep]: ArcNumbers,
  [x1, y1]: readonly [number, number],
): PathCommand[] {
  if (x0 === x1 && y0 === y1) return [];
  let [rx, ry] = [Math.abs(rxGiven), Math.abs(ryGiven)];
  if (rx === 0 || ry === 0) return [['L', x1, y1]];
  const phi = (turn * Math.PI) / 180;
  const [c, s] = [Math.cos(phi), Math.sin(phi)];
  const [hx, hy] = [(x0 - x1) / 2, (y0 - y1) / 2];
  const [u, v] = [c * hx + s * hy, c * hy - s * hx];
  const over = (u / rx) ** 2 + (v / ry) ** 2;
  if (over > 1) [rx, ry] = [rx * Math.sqrt(over), ry * Math.sqrt(over)];
  const [p, q] = [u / rx, v / ry];
  const k = (large === sweep ? -1 : 1) * Math.sqrt(Math.max(0, 1 / (p * p + q * q) - 1));
  // On the unit circle the ends are p, q and -p, -q, seen from the middle between them.
  const [mx, my] = [k * q, -k * p];
  const from = Math.atan2(q - my, p - mx);
  let by = Math.atan2(-q - my, -p - mx) - from;
  if (sweep === 1 && by < 0) by += 2 * Math.PI;
  if (sweep === 0 && by > 0) by -= 2 * Math.PI;
  const at = (ux: number, uy: number): [number, number] => {
    const [ex, ey] = [(ux + mx) * rx, (uy + my) * ry];
    return [c * ex - s * ey + (x0 + x1) / 2, s * ex + c * ey + (y0 + y1) / 2];
  };
  const steps = Math.max(1, Math.ceil(Math.abs(by) / ARC_STEP - 1e-9));
  const step = by / steps;
  const lever = (4 / 3) * Math.tan(step / 4);
  const out: PathCommand[] = [];
  for (let i = 0; i < steps; i++) {
    const [a, b] = [from + i * step, from + (i + 1) * step];
    const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)];
    const end = i === steps - 1 ? ([x1, y1] as const) : at(cb, sb);
    out.push(['C', ...at(ca - lever * sa, sa + lever * ca), ...at(cb + lever * sb, sb - lever * cb), ...end]);
  }
  return out;
}
