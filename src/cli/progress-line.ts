import { noProgress, type Progress } from '../app/progress.js';
import type { Terminal } from './terminal.js';

/** A job that is done sooner needs no word of it. */
const QUIET_MS = 2000;
const BETWEEN_MS = 200;

export interface ProgressLine {
  readonly progress: Progress;
  /** Takes the line away, before anything else is written. */
  readonly clear: () => void;
}

/** One line on stderr that is written over, from two seconds on; nothing where nobody watches or JSON is asked for. */
export function progressLine({ watched, err, now }: Terminal, json: boolean, what: string): ProgressLine {
  if (!watched || json) return { progress: noProgress, clear: () => undefined };
  const start = now();
  let last = start + QUIET_MS - BETWEEN_MS;
  let width = 0;
  return {
    progress: (done, of) => {
      if (now() - last < BETWEEN_MS) return;
      last = now();
      const line = `${what}: ${done} of ${of}`;
      err(`\r${line.padEnd(width)}`);
      width = line.length;
    },
    clear: () => {
      if (width > 0) err(`\r${' '.repeat(width)}\r`);
      width = 0;
    },
  };
}
