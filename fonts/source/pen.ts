/**
 * The pen: a small vocabulary for drawing letters as centre lines.
 *
 * A stroke is one unbroken cut. It is drawn from straight lines and curves; a curve is given only by where it
 * ends and which way it is heading there, so that a smooth joint is smooth by construction: the pen remembers
 * its heading and every curve sets off along it. A sharp turn has to be asked for with `corner`, except between
 * two straight lines, where it can only be meant. y points up; headings are in degrees, anticlockwise from east.
 */

export type Point = readonly [x: number, y: number];

export type Piece =
  | { readonly kind: 'line'; readonly to: Point }
  | { readonly kind: 'cubic'; readonly leave: Point; readonly arrive: Point; readonly to: Point };

export interface Stroke {
  readonly start: Point;
  readonly pieces: readonly Piece[];
  readonly closed: boolean;
  /** Which joints turn sharply: the joint before piece i; 0 is where a closed stroke meets its own start. */
  readonly corners: readonly number[];
}

export const east = 0;
export const north = 90;
export const west = 180;
export const south = 270;

/** The heading of a straight line from one point to another. */
export function aim(x1: number, y1: number, x2: number, y2: number): number {
  return (Math.atan2(y2 - y1, x2 - x1) * 180) / Math.PI;
}

/** Headings are compared within this many degrees when the pen decides whether a line carries on smoothly. */
const SAME_HEADING = 0.5;

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

function turnBetween(from: number, to: number): number {
  const turn = (((to - from) % 360) + 540) % 360;
  return turn - 180;
}

/** Where two headed lines cross, as distances along each; undefined where they are parallel. */
function crossing(
  p: Point,
  headingP: number,
  q: Point,
  headingQ: number,
): readonly [number, number] | undefined {
  const [ux, uy] = [Math.cos(radians(headingP)), Math.sin(radians(headingP))];
  const [vx, vy] = [Math.cos(radians(headingQ)), Math.sin(radians(headingQ))];
  const determinant = ux * vy - uy * vx;
  if (Math.abs(determinant) < 1e-9) return undefined;
  const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
  return [(dx * vy - dy * vx) / determinant, (dx * uy - dy * ux) / determinant];
}

export class Pen {
  readonly #start: Point;
  #at: Point;
  #heading: number | undefined;
  #asked = false;
  readonly #pieces: Piece[] = [];
  readonly #corners: number[] = [];

  constructor(x: number, y: number, heading?: number) {
    this.#start = [x, y];
    this.#at = [x, y];
    this.#heading = heading;
  }

  /** A sharp turn here; the next curve sets off along the heading given. */
  corner(heading: number): this {
    this.#heading = heading;
    this.#asked = true;
    return this;
  }

  line(x: number, y: number): this {
    const heading = aim(this.#at[0], this.#at[1], x, y);
    const last = this.#pieces.at(-1);
    if (last && !this.#asked) {
      const smooth = Math.abs(turnBetween(this.#heading ?? heading, heading)) < SAME_HEADING;
      if (!smooth && last.kind === 'cubic') {
        throw new Error(
          `The line to ${x}, ${y} breaks off a curve; ask for a corner or aim the curve at it.`,
        );
      }
      if (!smooth) this.#asked = true;
    }
    this.#push({ kind: 'line', to: [x, y] }, heading);
    return this;
  }

  /**
   * A curve that turns one way only, like an arc of an ellipse fitted in the wedge of its two tangents. With
   * fullness 1 and a right angle it is the usual near-exact quarter ellipse; above 1 it grows squarer.
   */
  curve(x: number, y: number, heading: number, fullness = 1): this {
    const from = this.#needHeading();
    const reach = crossing(this.#at, from, [x, y], heading);
    // The second distance is measured forward along the arriving tangent; the wedge's tip lies behind the end.
    if (!reach || reach[0] <= 0 || reach[1] >= 0) {
      throw new Error(`A one-way curve cannot reach ${x}, ${y} heading ${heading} from heading ${from}.`);
    }
    const turn = radians(Math.abs(turnBetween(from, heading)));
    const share = Math.min(0.95, ((4 / 3) * Math.tan(turn / 4) * fullness) / Math.tan(turn / 2));
    return this.sway(x, y, heading, reach[0] * share, -reach[1] * share);
  }

  /** A curve with its two handles' lengths given outright: for the spines of S and the like. */
  sway(x: number, y: number, heading: number, leaving: number, arriving: number): this {
    const from = radians(this.#needHeading());
    const to = radians(heading);
    this.#push(
      {
        kind: 'cubic',
        leave: [this.#at[0] + leaving * Math.cos(from), this.#at[1] + leaving * Math.sin(from)],
        arrive: [x - arriving * Math.cos(to), y - arriving * Math.sin(to)],
        to: [x, y],
      },
      heading,
    );
    return this;
  }

  /** Lift the cutter. */
  end(): Stroke {
    return { start: this.#start, pieces: this.#pieces, closed: false, corners: this.#corners };
  }

  /** Run back to the start and close; `sharp` when the stroke meets its own start at an angle. */
  close(sharp: 'smooth' | 'sharp' = 'smooth'): Stroke {
    const home = this.#at[0] === this.#start[0] && this.#at[1] === this.#start[1];
    if (!home) this.line(this.#start[0], this.#start[1]);
    const corners = sharp === 'sharp' ? [0, ...this.#corners] : this.#corners;
    return { start: this.#start, pieces: this.#pieces, closed: true, corners };
  }

  #needHeading(): number {
    if (this.#heading === undefined) throw new Error('A curve needs a heading to set off along.');
    return this.#heading;
  }

  #push(piece: Piece, heading: number): void {
    if (this.#asked) this.#corners.push(this.#pieces.length);
    this.#asked = false;
    this.#pieces.push(piece);
    this.#at = piece.to;
    this.#heading = heading;
  }
}

/** Set the cutter down. A heading is needed when the stroke opens with a curve. */
export function pen(x: number, y: number, heading?: number): Pen {
  return new Pen(x, y, heading);
}

/** One straight cut. */
export function bar(x1: number, y1: number, x2: number, y2: number): Stroke {
  return pen(x1, y1).line(x2, y2).end();
}

/** A closed oval about a centre, cut anticlockwise from its top. */
export function oval(cx: number, cy: number, rx: number, ry: number, fullness = 1): Stroke {
  return pen(cx, cy + ry, west)
    .curve(cx - rx, cy, south, fullness)
    .curve(cx, cy - ry, east, fullness)
    .curve(cx + rx, cy, north, fullness)
    .curve(cx, cy + ry, west, fullness)
    .close();
}

/**
 * A dot: down in the middle, out to the rim, once round. A fine cutter clears the spot instead of leaving a ring,
 * and a path stroked at the design width has no pinhole.
 */
export function spot(cx: number, cy: number, r: number): Stroke {
  return pen(cx, cy)
    .line(cx, cy + r)
    .corner(west)
    .curve(cx - r, cy, south)
    .curve(cx, cy - r, east)
    .curve(cx + r, cy, north)
    .curve(cx, cy + r, west)
    .end();
}

export function mapped(stroke: Stroke, f: (p: Point) => Point): Stroke {
  return {
    ...stroke,
    start: f(stroke.start),
    pieces: stroke.pieces.map((piece) =>
      piece.kind === 'line'
        ? { kind: 'line', to: f(piece.to) }
        : { kind: 'cubic', leave: f(piece.leave), arrive: f(piece.arrive), to: f(piece.to) },
    ),
  };
}

export function translate(strokes: readonly Stroke[], dx: number, dy: number): Stroke[] {
  return strokes.map((stroke) => mapped(stroke, ([x, y]) => [x + dx, y + dy]));
}

/** Half a turn about a point: 9 from 6, the opening quote from the closing one. */
export function halfTurned(strokes: readonly Stroke[], cx: number, cy: number): Stroke[] {
  return strokes.map((stroke) => mapped(stroke, ([x, y]) => [2 * cx - x, 2 * cy - y]));
}

/** Left for right about an upright line: d from b. */
export function mirror(strokes: readonly Stroke[], cx: number): Stroke[] {
  return strokes.map((stroke) => mapped(stroke, ([x, y]) => [2 * cx - x, y]));
}

/** The horizontal reach of the centre lines themselves: curves are measured at their extremes, not their handles. */
export function reach(strokes: readonly Stroke[]): readonly [left: number, right: number] {
  const xs: number[] = [];
  for (const stroke of strokes) {
    let at = stroke.start;
    xs.push(at[0]);
    for (const piece of stroke.pieces) {
      if (piece.kind === 'cubic')
        xs.push(...turningValues(at[0], piece.leave[0], piece.arrive[0], piece.to[0]));
      xs.push(piece.to[0]);
      at = piece.to;
    }
  }
  return [Math.min(...xs), Math.max(...xs)];
}

function turningValues(p0: number, p1: number, p2: number, p3: number): number[] {
  const a = 3 * (p3 - 3 * p2 + 3 * p1 - p0);
  const b = 6 * (p2 - 2 * p1 + p0);
  const c = 3 * (p1 - p0);
  const times: number[] = [];
  if (Math.abs(a) < 1e-9) {
    if (Math.abs(b) > 1e-9) times.push(-c / b);
  } else {
    const under = b * b - 4 * a * c;
    if (under >= 0) times.push((-b + Math.sqrt(under)) / (2 * a), (-b - Math.sqrt(under)) / (2 * a));
  }
  return times
    .filter((t) => t > 0 && t < 1)
    .map((t) => (1 - t) ** 3 * p0 + 3 * (1 - t) ** 2 * t * p1 + 3 * (1 - t) * t * t * p2 + t ** 3 * p3);
}

/** Points along a stroke, `steps` to a piece. */
export function along(stroke: Stroke, steps: number): Point[] {
  const points: Point[] = [stroke.start];
  let at = stroke.start;
  for (const piece of stroke.pieces) {
    const [p, q] = piece.kind === 'cubic' ? [piece.leave, piece.arrive] : [at, piece.to];
    for (let k = 1; k <= steps; k++) {
      const t = k / steps;
      const u = 1 - t;
      const mix = (i: 0 | 1): number =>
        piece.kind === 'line'
          ? at[i] + t * (piece.to[i] - at[i])
          : u ** 3 * at[i] + 3 * u * u * t * p[i] + 3 * u * t * t * q[i] + t ** 3 * piece.to[i];
      points.push([mix(0), mix(1)]);
    }
    at = piece.to;
  }
  return points;
}
