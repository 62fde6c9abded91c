import { refuse } from './messages.js';

/**
 * Steps that the fit of one edition may take. A step is about one point of a letter or one edge of a keep-out looked at,
 * ten to twenty-five nanoseconds of work; what a letter takes to be placed counts as several. Counting steps and not
 * seconds gives the same answer on every machine.
 */
export const MOST_FIT_STEPS = 250_000_000;

/** What of the limit may be taken besides it, to look for what would make a mark fit. */
const ADVICE_SHARE = 0.2;

/** The mark that steps are taken for. */
export interface SpentOn {
  /** For a person: `designs/cap-number.yaml: mark number`. */
  readonly where: string;
  /** It has one size and one place. */
  readonly fixed: boolean;
}

/** Counts work down from a limit, and refuses more. */
export class StepBudget {
  #left: number;
  #advice: StepBudget | undefined;
  readonly most: number;

  constructor(most: number = MOST_FIT_STEPS) {
    this.most = most;
    this.#left = most;
  }

  get spent(): number {
    return this.most - this.#left;
  }

  /** For the search of a change that would do, which must not take from the fit of other marks. */
  get advice(): StepBudget {
    this.#advice ??= new StepBudget(ADVICE_SHARE * this.most);
    return this.#advice;
  }

  /** Takes steps off. Throws a Refusal (exit 1) once there are none left. */
  spend(steps: number, { where, fixed }: SpentOn): void {
    this.#left -= steps;
    if (this.#left >= 0) return;
    throw refuse('layout.fit-too-long', where, { steps: this.most, fixed: fixed ? 'yes' : 'no' });
  }

  /** Refuses at once what is known to take more steps than are left. */
  require(steps: number, where: string): void {
    if (steps <= this.#left) return;
    throw refuse('layout.fit-too-large', where, { steps, most: this.most, left: this.#left });
  }
}
