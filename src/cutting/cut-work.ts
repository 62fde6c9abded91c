import { refuse } from './messages.js';

/**
 * Steps of working out lines that one edition may take, each about a tenth of a microsecond of work: its patterns, and
 * then its letters, on all pieces.
 */
const MOST_STEPS = 60_000_000;

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
} as const;

/** Counts the work of making lines out of drawings and letters. Throws a Refusal (exit 1) beyond the most. */
export class CutWork {
  #steps = 0;

  constructor(private readonly most = MOST_STEPS) {}

  get steps(): number {
    return this.#steps;
  }

  take(count: number, of: keyof typeof STEPS_OF): void {
    this.#steps += count * STEPS_OF[of];
    if (this.#steps > this.most) throw refuse('cutting.too-much-cutting', '', { most: this.most });
  }
}
