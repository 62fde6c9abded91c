import type { Polyline } from '../geometry/path.js';
import { segmentsTouch } from '../geometry/segment.js';
import { Budget } from './budget.js';

/** Crossings of edges: beyond them, the areas of a drawing take minutes to find. */
const MOST_CROSSINGS = 30_000;
/** Pairs of sides of one stroke, far apart along its line, that the width of the stroke brings together. */
const MOST_NEAR = 60_000;
/** A crossing of two strokes is this many crossings of their outlines. */
const OF_OUTLINES = 4;
/** Sides count as far apart along a line beyond this many half widths of the stroke. */
const FAR = 4;
/** Pairs of sides compared. */
const MOST_PAIRS = 50_000_000;

/** Counts how often the lines of one drawing cross, and the comparisons that takes. Throws `LimitExceeded`. */
export class IntersectionBudget {
  readonly crossings = new Budget('artwork.too-many-crossings', MOST_CROSSINGS);
  readonly near = new Budget('artwork.stroke-too-dense', MOST_NEAR);
  readonly pairs = new Budget('artwork.too-many-comparisons', MOST_PAIRS);

  /** Counts the crossings of rings. */
  takeRings(rings: readonly Polyline[]): void {
    this.#comparePairs(sidesOf(rings, 0), (a, b) => {
      if (meet(a, b) && cross(a, b)) this.crossings.take();
    });
  }

  /** Counts where strokes of this half width lie on themselves. */
  takeStrokes(lines: readonly Polyline[], half: number): void {
    this.#comparePairs(sidesOf(lines, half), (a, b) => {
      if (!meet(a, b) || Math.abs(a.along - b.along) <= FAR * half) return;
      if (cross(a, b)) this.crossings.take(OF_OUTLINES);
      this.near.take();
    });
  }

  #comparePairs(sides: readonly Side[], compare: (a: Side, b: Side) => void): void {
    for (let i = 0; i < sides.length; i++) {
      const a = sides[i]!;
      for (let j = i + 1; j < sides.length && sides[j]!.left <= a.right; j++) {
        this.pairs.take();
        compare(a, sides[j]!);
      }
    }
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
  /** Distance of its end from the start of its line; lines follow one another far apart. */
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
