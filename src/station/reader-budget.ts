/**
 * The most bytes of one program: about a million moves, ten times those of the fullest template. Reading and proving a
 * move takes about six microseconds, so that a program is proved in a few seconds.
 */
export const MOST_PROGRAM_BYTES = 30_000_000;

/** The most pieces of line that the comparison of one program may look at. */
export const MOST_COMPARE_STEPS = 400_000_000;

/** Steps of work taken so far. */
export interface StepCounter {
  steps: number;
}
