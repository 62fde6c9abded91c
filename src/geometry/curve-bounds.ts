import type { PathCommand } from './path-command.js';

/** The box of a path: that of its lines and curves, these found where they turn. Infinite when nothing is drawn. */
export function boundsOfCurves(
  path: readonly PathCommand[],
): [left: number, bottom: number, right: number, top: number] {
  let [left, bottom, right, top] = [Infinity, Infinity, -Infinity, -Infinity];
  let [x, y] = [0, 0];
  const take = (px: number, py: number) => {
    left = Math.min(left, px);
    right = Math.max(right, px);
    bottom = Math.min(bottom, py);
    top = Math.max(top, py);
  };
  for (const segment of path) {
    const v = segment.slice(1) as number[];
    if (v.length === 0) continue;
    const points = [x, y, ...v];
    for (const t of extremaOf(points)) take(evaluateBezier(points, t, 0), evaluateBezier(points, t, 1));
    [x, y] = v.slice(-2) as [number, number];
    take(x, y);
  }
  return [left, bottom, right, top];
}

/** Where a curve's x or y turns back, as parts of the way along it. */
function extremaOf(points: readonly number[]): number[] {
  const n = points.length / 2 - 1;
  if (n < 2) return [];
  return [0, 1]
    .flatMap((axis) => {
      const p = points.filter((_, i) => i % 2 === axis);
      const d = p.slice(1).map((v, i) => v - p[i]!);
      if (n === 2) return [d[0]! / (d[0]! - d[1]!)];
      const [a, b, c] = [d[0]! - 2 * d[1]! + d[2]!, 2 * (d[1]! - d[0]!), d[0]!];
      // The two roots in the form that loses nothing where a is small beside b.
      const q = -(b + Math.sign(b || 1) * Math.sqrt(b * b - 4 * a * c)) / 2;
      return [q / a, c / q];
    })
    .filter((t) => t > 0 && t < 1);
}

/** A coordinate of a Bezier curve, by de Casteljau. */
function evaluateBezier(points: readonly number[], t: number, axis: number): number {
  let p = points.filter((_, i) => i % 2 === axis);
  while (p.length > 1) p = p.slice(1).map((v, i) => p[i]! + t * (v - p[i]!));
  return p[0]!;
}
