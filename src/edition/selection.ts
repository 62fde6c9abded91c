import { type Problem, problem } from '../problem.js';

/** As far as a series can run. */
const LAST = 99_999;
const LONGEST_TEXT = 10_000;
const CURE = 'Write numbers and ranges like 1-5,9.';

export interface Selection {
  /** Ascending, each once; empty when there are problems. */
  readonly numbers: readonly number[];
  readonly problems: readonly Problem[];
}

/** Reads `1-5,9`. */
export function parseNumbers(text: string, where = 'numbers'): Selection {
  const refused = (what: string, cure = CURE): Selection => ({
    numbers: [],
    problems: [problem(where, what, cure)],
  });
  if (text.trim() === '') return refused('No number is given.');
  if (text.length > LONGEST_TEXT)
    return refused('The selection is too long to be read.', 'Ask for less at once.');

  const ranges: [first: number, last: number][] = [];
  for (const piece of text.split(',')) {
    const shown = piece.trim().slice(0, 40);
    const match = /^\s*(\d{1,12})\s*(?:[-\u2013]\s*(\d{1,12})\s*)?$/.exec(piece);
    if (!match)
      return refused(shown === '' ? 'A comma has no number beside it.' : `"${shown}" is not a number.`);
    const first = Number(match[1]);
    const last = match[2] === undefined ? first : Number(match[2]);
    if (first < 1) return refused(`"${shown}" begins below 1.`, 'Numbers begin at 1.');
    if (last < first) return refused(`"${shown}" runs backwards.`, 'Give the lower number first.');
    if (last > LAST) return refused(`"${shown}" goes beyond ${LAST}.`, `No series runs beyond ${LAST}.`);
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
