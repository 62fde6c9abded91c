import type { Progress, ProgressUnit } from '../app/progress.js';
import type { Terminal } from './terminal.js';

/** A job that is done sooner needs no word of it. */
const QUIET_MS = 2000;
const BETWEEN_MS = 200;

const WORDS: Readonly<Record<ProgressUnit, string>> = {
  marks: 'marks fitted',
  programs: 'programs written',
  pieces: 'pieces drawn',
  stations: 'stations tried',
  rows: 'rows compared',
  events: 'events gone through',
};

export interface ProgressLine {
  readonly progress: Progress;
  /** Takes the line away, before anything else is written. */
  readonly clear: () => void;
}

/** One line on stderr that is written over, from two seconds on; nothing where nobody watches or JSON is asked for. */
export function progressLine({ watched, err, now }: Terminal, json: boolean): ProgressLine {
  if (!watched || json) return { progress: () => undefined, clear: () => undefined };
  let next = now() + QUIET_MS;
  let width = 0;
  return {
    progress: (unit, done, of) => {
      const at = now();
      if (at < next) return;
      next = at + BETWEEN_MS;
      const line = `${done} of ${of} ${WORDS[unit]}`;
      err(`\r${line.padEnd(width)}`);
      width = line.length;
    },
    clear: () => {
      if (width > 0) err(`\r${' '.repeat(width)}\r`);
      width = 0;
    },
  };
}
