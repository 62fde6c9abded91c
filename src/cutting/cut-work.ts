import { refuse } from './messages.js';

/**
 * Steps of working out lines, each about a tenth of a microsecond of work: about four hundred grooved letters of which no
 * two are equal, on one piece; on each further piece, forty of its own; and never more than some twenty minutes.
 */
const FIRST_PIECE_STEPS = 120_000_000;
const FURTHER_PIECE_STEPS = 12_000_000;
const MOST_STEPS = 12_000_000_000;

/** The steps that the patterns, and then the letters, of an edition of so many pieces may take. */
export const mostSteps = (pieces: number): number =>
  Math.min(FIRST_PIECE_STEPS + FURTHER_PIECE_STEPS * Math.max(0, pieces - 1), MOST_STEPS);

/** What other counts are in steps. */
export const STEPS_OF = {
  /** A point of a level of an inset, with what is looked for beside it. */
  levelPoint: 60,
  /** A step of a sweep over lines. */
  sweep: 1,
  /** An edge looked at on the way between lines of a hatch. */
  lookedAt: 0.01,
  /** An edge crossed with a level of a hatch. */
  crossed: 0.05,
  /** A point along the edge of a groove. */
  edgePoint: 60,
  /** A distance from the way into a corner of a groove. */
  cornerDistance: 0.03,
  /** A distance asked for by the search for an order. */
  distance: 0.3,
  /** A cell held against a cutter on its way, and a cell of what is seen held against the drawing. */
  sweptCell: 3,
  seenCell: 6,
} as const;

/** Counts the work of making lines out of drawings and letters. Throws a Refusal (exit 1) beyond the most. */
export class CutWork {
  readonly #most: number;
  #steps = 0;

  /** For an edition of so many pieces. */
  constructor(pieces = 1, most?: number) {
    this.#most = most ?? mostSteps(pieces);
  }

  get steps(): number {
    return this.#steps;
  }

  take(count: number, of: keyof typeof STEPS_OF): void {
    this.#steps += count * STEPS_OF[of];
    if (this.#steps > this.#most) throw refuse('cutting.too-much-cutting', '', { most: this.#most });
  }
}
