import type { Series } from '../documents/schema/edition.js';
import { type Problem, Refusal } from '../problem.js';
import { findLabel, type LabelIndex } from './label-index.js';
import { excludedBy, type Numbered } from './labels.js';
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
    const document = index.edition.series.find(({ id }) => id === series);
    const inSeries = index.planned.filter((n) => n.series === series);
    if (!document) {
      const known = index.edition.series.map((s) => s.id);
      problems.push(problem('edition.series-unknown', where, { series: series.slice(0, 60), known }));
    } else if (numbers === undefined && inSeries.length > 0) for (const n of inSeries) selected.add(n);
    else
      problems.push(
        ...addNumbers(document, inSeries, numbers ?? `${document.from}-${document.to}`, selected),
      );
  } else if (numbers !== undefined) problems.push(problem('edition.series-not-named', '--numbers', {}));
  else if (labels.length === 0) problems.push(problem('edition.no-piece-named', where, {}));
  if (problems.length > 0) throw new Refusal(problems);
  return index.planned.filter((n) => selected.has(n));
}

function addNumbers(
  document: Series,
  inSeries: readonly Numbered[],
  text: string,
  selected: Set<Numbered>,
): Problem[] {
  const { numbers, problems } = parseNumbers(text, '--numbers');
  const byNumber = new Map(inSeries.map((n) => [n.number, n]));
  const absent: string[] = [];
  /** By the reason. */
  const excluded = new Map<string, string[]>();
  for (const n of numbers) {
    const numbered = byNumber.get(n);
    if (numbered) {
      selected.add(numbered);
      continue;
    }
    const why = n < document.from || n > document.to ? undefined : excludedBy(document, n)?.why;
    const same = why === undefined ? absent : excluded.get(why);
    if (same) same.push(String(n));
    else excluded.set(why!, [String(n)]);
  }
  const valuesOf = (of: readonly string[]) => ({
    numbers: listLabels(of),
    n: of.length,
    series: document.id,
  });
  return [
    ...problems,
    ...[...excluded].map(([why, of]) =>
      problem('edition.numbers-excluded', '--numbers', { ...valuesOf(of), why }),
    ),
    ...(absent.length > 0 ? [problem('edition.numbers-not-in-series', '--numbers', valuesOf(absent))] : []),
  ];
}
