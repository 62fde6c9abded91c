import { type Problem, Refusal } from '../problem.js';
import { findLabel, type LabelIndex } from './label-index.js';
import type { Numbered } from './labels.js';
import { listLabels } from './list-labels.js';
import { problem } from './messages.js';
import { parseNumbers } from './selection.js';

/** Which pieces of an edition are asked for. */
export interface PieceSelection {
  readonly labels?: readonly string[];
  readonly series?: string;
  /** Such as `1-5,9`. */
  readonly numbers?: string;
}

/** The pieces selected, in the edition's order. Throws a Refusal (exit 2) for what the edition does not have. */
export function selectPieces(
  index: LabelIndex,
  { labels = [], series, numbers }: PieceSelection,
): Numbered[] {
  const where = `edition ${index.editionId}`;
  const problems: Problem[] = [];
  const selected = new Set<Numbered>();
  for (const label of labels) {
    const found = findLabel(index, label);
    if (found.ok) selected.add(found.numbered);
    else problems.push(found.problem);
  }
  if (series !== undefined) {
    const inSeries = index.planned.filter((n) => n.series === series);
    if (inSeries.length === 0) {
      const known = index.edition.series.map((s) => s.id);
      problems.push(problem('edition.series-unknown', where, { series: series.slice(0, 60), known }));
    } else if (numbers === undefined) for (const n of inSeries) selected.add(n);
    else problems.push(...addNumbers(inSeries, series, numbers, selected));
  } else if (numbers !== undefined) problems.push(problem('edition.series-not-named', '--numbers', {}));
  else if (labels.length === 0) problems.push(problem('edition.no-piece-named', where, {}));
  if (problems.length > 0) throw new Refusal(problems);
  return index.planned.filter((n) => selected.has(n));
}

function addNumbers(
  inSeries: readonly Numbered[],
  series: string,
  text: string,
  selected: Set<Numbered>,
): Problem[] {
  const { numbers, problems } = parseNumbers(text, '--numbers');
  const byNumber = new Map(inSeries.map((n) => [n.number, n]));
  const absent: string[] = [];
  for (const n of numbers) {
    const numbered = byNumber.get(n);
    if (numbered) selected.add(numbered);
    else absent.push(String(n));
  }
  if (absent.length === 0) return [...problems];
  const values = { numbers: listLabels(absent), n: absent.length, series };
  return [...problems, problem('edition.numbers-not-in-series', '--numbers', values)];
}
