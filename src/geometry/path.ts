/** A point on a sheet: x right (growing angle), y up (growing z), mm. */
export type Point = readonly [x: number, y: number];

/** Points of a line on a sheet: x0, y0, x1, y1, ... in mm. Of a ring, the first point is not repeated at the end. */
export type Polyline = Float64Array;

/** A line on a sheet, open or closed. A closed one does not repeat its first point. */
export interface Path {
  readonly points: Polyline;
  readonly closed: boolean;
}

/** The same points from last to first. */
export function reversePolyline(line: Polyline): Polyline {
  const out = new Float64Array(line.length);
  for (let i = 0; i < line.length; i += 2) {
    out[i] = line[line.length - 2 - i]!;
    out[i + 1] = line[line.length - 1 - i]!;
  }
  return out;
}

/** Length of a path, mm; of a closed one, its closing side counts. */
export function lengthOf({ points, closed }: Path): number {
  let length = 0;
  for (let i = 2; i < points.length; i += 2)
    length += Math.hypot(points[i]! - points[i - 2]!, points[i + 1]! - points[i - 1]!);
  const n = points.length;
  return closed && n > 2
    ? length + Math.hypot(points[0]! - points[n - 2]!, points[1]! - points[n - 1]!)
    : length;
}
