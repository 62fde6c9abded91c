import type { Problem } from '../problem.js';
import { problem } from './messages.js';

/** As far as a series can run. */
const LAST = 99_999;
const LONGEST_TEXT = 10_000;

export interface Selection {
  /** Ascending, each once; empty when there are problems. */
  readonly numbers: readonly number[];
  readonly problems: readonly Problem[];
}

/** Reads `1-5,9`. */
export function parseNumbers(text: string, where = 'numbers'): Selection {
  const failed = (found: Problem): Selection => ({ numbers: [], problems: [found] });
  if (text.trim() === '') return failed(problem('edition.selection-empty', where, {}));
  if (text.length > LONGEST_TEXT) return failed(problem('edition.selection-too-long', where, {}));

  const ranges: [first: number, last: number][] = [];
  for (const piece of text.split(',')) {
    const part = { text: piece.trim().slice(0, 40) };
    const match = /^\s*(\d{1,12})\s*(?:[-\u2013]\s*(\d{1,12})\s*)?$/.exec(piece);
    if (!match)
      return failed(
        part.text === ''
          ? problem('edition.selection-comma', where, {})
          : problem('edition.selection-not-number', where, part),
      );
    const first = Number(match[1]);
    const last = match[2] === undefined ? first : Number(match[2]);
    if (first < 1) return failed(problem('edition.selection-below-one', where, part));
    if (last < first) return failed(problem('edition.selection-backwards', where, part));
    if (last > LAST) return failed(problem('edition.selection-too-high', where, { ...part, most: LAST }));
    ranges.push([first, last]);
  }

  // Sorted first, so that a thousand ranges over the same numbers cost no more than one.
  ranges.sort((a, b) => a[0] - b[0]);
  const numbers: number[] = [];
  let done = 0;
  for (const [first, last] of ranges) {
    for (let n = Math.max(first, done + 1); n <= last; n++) numbers.push(n);
    done = Math.max(done, last);
  }
  return { numbers, problems: [] };
}
