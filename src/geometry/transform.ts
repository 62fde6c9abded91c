import type { Polyline } from './path.js';

/** Points turned about the origin by the angle of that cosine and sine, then moved by (dx, dy) mm. A new array. */
export function rotateAndMove(
  points: Polyline,
  cosine: number,
  sine: number,
  dx: number,
  dy: number,
): Polyline {
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 2) {
    out[i] = points[i]! * cosine - points[i + 1]! * sine + dx;
    out[i + 1] = points[i]! * sine + points[i + 1]! * cosine + dy;
  }
  return out;
}

/** Points mirrored left for right about the y axis. A new array. */
export function mirror(points: Polyline): Polyline {
  const out = Float64Array.from(points);
  for (let i = 0; i < out.length; i += 2) out[i] = -out[i]!;
  return out;
}
