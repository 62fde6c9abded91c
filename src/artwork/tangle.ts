import type { Polyline } from '../geometry/path.js';
import { segmentsTouch } from '../geometry/segment.js';

/** More crossings than any drawing has: beyond them its areas would take minutes to figure. */
const MOST_CROSSINGS = 30_000;
/** And more sides, far apart along their lines, that a pen's width brings together. */
const MOST_NEAR = 60_000;
/** A crossing of lines is this many of their outlines. */
const OF_OUTLINES = 4;
/** Sides count as far apart along a line beyond this many of the pen's half widths. */
const FAR = 4;
/** And more pairs of sides than can be looked at. */
const MOST_PAIRS = 50_000_000;

/** How often the lines of one drawing cross, counted over all that is asked. */
export class Tangle {
  #crossings = 0;
  #near = 0;
  #pairs = 0;

  /** Whether, with these rings, lines have crossed more often than any drawing's. */
  rings(rings: readonly Polyline[]): boolean {
    return this.#look(
      sidesOf(rings, 0),
      (a, b) => meet(a, b) && cross(a, b) && ++this.#crossings > MOST_CROSSINGS,
    );
  }

  /** Whether, with lines drawn by a pen of this half width, more has come to lie on itself than in any drawing. */
  strokes(lines: readonly Polyline[], half: number): boolean {
    return this.#look(sidesOf(lines, half), (a, b) => {
      if (!meet(a, b) || Math.abs(a.along - b.along) <= FAR * half) return false;
      if (cross(a, b)) this.#crossings += OF_OUTLINES;
      return ++this.#near > MOST_NEAR || this.#crossings > MOST_CROSSINGS;
    });
  }

  /** Whether, with so many more pairs of sides to look at, there are too many. */
  pairs(more: number): boolean {
    this.#pairs += more;
    return this.#pairs > MOST_PAIRS;
  }

  #look(sides: readonly Side[], tooMany: (a: Side, b: Side) => boolean): boolean {
    for (let i = 0; i < sides.length; i++) {
      const a = sides[i]!;
      for (let j = i + 1; j < sides.length && sides[j]!.left <= a.right; j++) {
        if (++this.#pairs > MOST_PAIRS || tooMany(a, sides[j]!)) return true;
      }
    }
    return false;
  }
}

/** A side with its box. */
interface Side {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
  /** The way to it along its line; lines lie end to end, far apart. */
  readonly along: number;
}

/** Farther than any line goes. */
const APART = 1e12;

/** The sides of rings by the left ends of their boxes, these grown by `by`. */
function sidesOf(rings: readonly Polyline[], by: number): Side[] {
  const sides: Side[] = [];
  let along = 0;
  for (const ring of rings) {
    along += APART;
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [x0, y0, x1, y1] = [ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!];
      const [left, right] = [Math.min(x0, x1) - by, Math.max(x0, x1) + by];
      const [bottom, top] = [Math.min(y0, y1) - by, Math.max(y0, y1) + by];
      along += Math.hypot(x1 - x0, y1 - y0);
      sides.push({ x0, y0, x1, y1, left, right, bottom, top, along });
    }
  }
  return sides.sort((a, b) => a.left - b.left);
}

const meet = (a: Side, b: Side): boolean => a.bottom <= b.top && b.bottom <= a.top;

/** Whether two sides have a point in common that is not an end of both. */
const cross = (a: Side, b: Side): boolean =>
  segmentsTouch(a.x0, a.y0, a.x1, a.y1, b.x0, b.y0, b.x1, b.y1) &&
  !(ends(a, b.x0, b.y0) || ends(a, b.x1, b.y1));

const ends = ({ x0, y0, x1, y1 }: Side, x: number, y: number): boolean =>
  (x0 === x && y0 === y) || (x1 === x && y1 === y);
