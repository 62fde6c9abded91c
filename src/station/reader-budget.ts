/** The most bytes of one program. */
export const MOST_PROGRAM_BYTES = 100_000_000;

/** The most pieces of line that the comparison of one program may look at. */
export const MOST_COMPARE_STEPS = 400_000_000;

/** Steps of work taken so far. */
export interface StepCounter {
  steps: number;
}
