import type { Path } from './path.js';
import type { PathCommand } from './path-command.js';

/**
 * A drawn path as flat lines, scaled by `size` (mm per unit of the path), never farther than `tolerance` mm from the
 * curve. Chord count by the second-difference bound: a curve's distance from its chord is at most |B''| / 8 over the
 * square of the number of equal steps.
 */
export function flatten(path: readonly PathCommand[], size: number, tolerance: number): Path[] {
  const lines: Path[] = [];
  let points: number[] = [];
  let x = 0;
  let y = 0;
  let start: readonly [number, number] = [0, 0];
  const end = (closed: boolean) => {
    const n = points.length;
    if (closed && n > 4 && points[0] === points[n - 2] && points[1] === points[n - 1]) points.length = n - 2;
    if (points.length >= 4) lines.push({ points: Float64Array.from(points), closed });
    points = [];
  };
  const to = (px: number, py: number) => {
    const n = points.length;
    if (n >= 2 && points[n - 2] === px && points[n - 1] === py) return;
    points.push(px, py);
  };
  for (const s of path) {
    if (s[0] === 'Z') {
      end(true);
      [x, y] = start;
      continue;
    }
    const v = s.slice(1).map((coordinate) => (coordinate as number) * size);
    const ex = v[v.length - 2]!;
    const ey = v[v.length - 1]!;
    if (s[0] === 'M') {
      end(false);
      start = [ex, ey];
    } else {
      if (points.length === 0) points.push(x, y);
      if (s[0] === 'Q') quadratic(to, [x, y, ...v], tolerance);
      else if (s[0] === 'C') cubic(to, [x, y, ...v], tolerance);
    }
    to(ex, ey);
    x = ex;
    y = ey;
  }
  end(false);
  return lines;
}

type To = (x: number, y: number) => void;

function quadratic(to: To, p: number[], tolerance: number): void {
  const [x0, y0, x1, y1, x2, y2] = p as [number, number, number, number, number, number];
  const bend = 2 * Math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2);
  const n = Math.max(1, Math.ceil(Math.sqrt(bend / (8 * tolerance))));
  for (let k = 1; k < n; k++) {
    const t = k / n;
    const u = 1 - t;
    to(u * u * x0 + 2 * u * t * x1 + t * t * x2, u * u * y0 + 2 * u * t * y1 + t * t * y2);
  }
}

function cubic(to: To, p: number[], tolerance: number): void {
  const [x0, y0, x1, y1, x2, y2, x3, y3] = p as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const bend =
    6 *
    Math.max(Math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), Math.hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3));
  const n = Math.max(1, Math.ceil(Math.sqrt(bend / (8 * tolerance))));
  for (let k = 1; k < n; k++) {
    const t = k / n;
    const u = 1 - t;
    const a = u * u * u;
    const b = 3 * u * u * t;
    const c = 3 * u * t * t;
    const d = t * t * t;
    to(a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3);
  }
}
