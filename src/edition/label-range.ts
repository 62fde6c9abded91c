import type { Problem } from '../problem.js';
import type { LabelIndex } from './label-index.js';
import type { Numbered } from './labels.js';
import { problem } from './messages.js';
import { findNumber } from './ticket.js';

/** Stands between the first and the last label of a range. */
const TO = '..';

/** The numbers that a text names, or what is wrong with it. */
export type FoundNumbers =
  | { readonly ok: true; readonly numbered: readonly Numbered[] }
  | { readonly ok: false; readonly problem: Problem };

/**
 * The numbers that someone names by a label, a ticket, or a range such as `12/90..20/90`. A range skips what the edition
 * excludes. A text that is a label is no range, whatever it holds.
 */
export function findNumbers(index: LabelIndex, text: string): FoundNumbers {
  if (index.byLabel.has(text) || !text.includes(TO)) {
    const found = findNumber(index, text);
    return found.ok ? { ok: true, numbered: [found.numbered] } : found;
  }
  let fault: Problem | undefined;
  // A label may end with a dot: the ends are where both sides are labels.
  for (let at = text.indexOf(TO); at >= 0; at = text.indexOf(TO, at + 1)) {
    const first = findNumber(index, text.slice(0, at).trim());
    const last = findNumber(index, text.slice(at + TO.length).trim());
    if (first.ok && last.ok) return between(index, text, first.numbered, last.numbered);
    fault ??= first.ok ? (last as { readonly problem: Problem }).problem : first.problem;
  }
  return { ok: false, problem: fault! };
}

function between(index: LabelIndex, text: string, first: Numbered, last: Numbered): FoundNumbers {
  const where = `edition ${index.editionId}`;
  const range = { text: text.slice(0, 120) };
  if (first.series !== last.series) {
    const values = { ...range, first: first.series, last: last.series };
    return { ok: false, problem: problem('edition.range-two-series', where, values) };
  }
  if (last.number < first.number)
    return { ok: false, problem: problem('edition.range-backwards', where, range) };
  const numbered = index.planned.filter(
    ({ series, number }) => series === first.series && number >= first.number && number <= last.number,
  );
  return { ok: true, numbered };
}
