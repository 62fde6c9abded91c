import type { Polyline } from '../geometry/path.js';
import { offsetSteps, sweepSteps } from '../geometry/sweep-steps.js';
import { refuse } from './messages.js';

/** Steps that the marks of one edition may take together, each about a tenth of a microsecond of work. */
const MOST_STEPS = 60_000_000;
/** Two segments held against one another, or two boxes, as a part of a step. */
const STEPS_OF_PAIR = 0.05;

/** Counts the work of looking for narrow strokes and land, before it is done. Each count throws a Refusal (exit 1) beyond the most. */
export class MinFeatureWork {
  #steps = 0;
  #of: readonly Polyline[] | undefined;

  constructor(private readonly most = MOST_STEPS) {}

  get steps(): number {
    return this.#steps;
  }

  /** What is looked at from now on is part of this drawing, whose points a refusal names. */
  beginDrawing(lines: readonly Polyline[]): void {
    this.#of = lines;
  }

  /** A union, difference or intersection of all these rings together. */
  takeSweep(...shapes: readonly (readonly Polyline[])[]): void {
    const rings = shapes.flat();
    this.#take(sweepSteps(rings), rings);
  }

  /** Rings drawn in (`by` less than 0) or out by so many mm. */
  takeOffset(rings: readonly Polyline[], by: number): void {
    this.#take(offsetSteps(rings, by), rings);
  }

  /** Steps of other work on the drawing. */
  takeSteps(steps: number): void {
    this.#take(steps, []);
  }

  /** So many pairs of segments or boxes, of these lines, held against one another. */
  takePairs(pairs: number, lines: readonly Polyline[]): void {
    this.#take(pairs * STEPS_OF_PAIR, lines);
  }

  #take(steps: number, rings: readonly Polyline[]): void {
    this.#steps += steps;
    if (this.#steps <= this.most) return;
    const points = (this.#of ?? rings).reduce((sum, ring) => sum + ring.length / 2, 0);
    throw refuse('cutting.too-many-strokes', '', { points, most: this.most });
  }
}
