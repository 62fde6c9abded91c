/** What a long job counts. */
export type ProgressUnit = 'marks' | 'programs' | 'pieces' | 'stations' | 'rows' | 'events';

/** Gets how far a long job is: steps done, of all. The core calls it; the command line decides whether to show it. */
export type Progress = (unit: ProgressUnit, done: number, of: number) => void;

export const noProgress: Progress = () => undefined;

/** For a room that counts one thing only. */
export const progressOf =
  (progress: Progress, unit: ProgressUnit) =>
  (done: number, of: number): void =>
    progress(unit, done, of);
