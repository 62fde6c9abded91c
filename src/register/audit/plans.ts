import type { Edition, Series } from '../../documents/schema/edition.js';
import { excludedBy, labelOf, numbersOf } from '../../edition/labels.js';
import { Refusal } from '../../problem.js';
import type { Findings } from './finding.js';
import type { Lived, Lives, SeriesLived } from './lives.js';

/** Numbers below the highest issued that no piece bears, and why. */
export interface Gap {
  readonly edition: string;
  readonly series: string;
  /** Such as `4, 13-14`. */
  readonly numbers: string;
  readonly why: string;
}

/** The label that an event of the register gives. */
export type LabelIn = (seq: number) => Promise<string>;

/** Holds what the register says of an edition against its document. */
export async function comparePlan(
  lives: Lives,
  id: string,
  edition: Edition,
  labelIn: LabelIn,
  findings: Findings,
): Promise<Gap[]> {
  const gaps: Gap[] = [];
  for (const [name, numbers] of lives.of(id)) {
    const where = `edition ${id}: series ${name}`;
    const series = edition.series.find((s) => s.id === name);
    if (!series) {
      const what = `The document has no such series; ${numbers.count} of its numbers are in the register.`;
      findings.add({ kind: 'not-planned', grade: 'remark', where, what, cure: KEEP });
      continue;
    }
    gaps.push(...gapsOf(id, series, numbers, findings));
    await strays(where, series, numbers, labelIn, findings);
  }
  return gaps;
}

const KEEP = 'The register stands; bring the document back to what was issued, or explain the change.';

function gapsOf(id: string, series: Series, numbers: SeriesLived, findings: Findings): Gap[] {
  let highest = 0;
  for (const { number, pieces } of numbers.numbers()) if (pieces > 0) highest = Math.max(highest, number);
  const missing: number[] = [];
  const explained = new Map<string, number[]>();
  for (let n = series.from; n < highest; n++) {
    const lived = numbers.at(n);
    if (lived && lived.pieces > 0 && lived.state !== 'void') continue;
    // Withheld and released before it was issued, a number is planned again, and nothing is said of it.
    const why = lived && lived.state !== 'planned' ? lived.state : excludedBy(series, n)?.why;
    if (why === undefined) missing.push(n);
    else if (explained.has(why)) explained.get(why)!.push(n);
    else explained.set(why, [n]);
  }
  if (missing.length > 0) {
    findings.add({
      kind: 'number-missing',
      grade: 'fault',
      where: `edition ${id}: series ${series.id}`,
      what: `Nothing says why ${ranges(missing)} ${missing.length === 1 ? 'was' : 'were'} never issued.`,
      cure: 'Issue them next, or record them void with the reason.',
    });
  }
  return [...explained].map(([why, n]) => ({ edition: id, series: series.id, numbers: ranges(n), why }));
}

/** Numbers issued that the document does not plan, or labels otherwise. */
async function strays(
  where: string,
  series: Series,
  numbers: SeriesLived,
  labelIn: LabelIn,
  findings: Findings,
): Promise<void> {
  const plan = new Set(numbersOf(series));
  const unplanned: number[] = [];
  const changed: Lived[] = [];
  for (const lived of numbers.numbers()) {
    const { number, pieces } = lived;
    if (!plan.has(number) && pieces > 0) unplanned.push(number);
    const now = labelNow(series, number);
    if (now === undefined || !numbers.bears(number, now)) changed.push(lived);
  }
  if (unplanned.length > 0) {
    const why = new Set(unplanned.flatMap((n) => excludedBy(series, n)?.why ?? []));
    const reason = why.size > 0 ? ` It excludes: ${[...why].join('; ')}.` : '';
    const what = `${ranges(unplanned)} in the register, but not planned by the document.${reason}`;
    findings.add({ kind: 'not-planned', grade: 'remark', where, what, cure: KEEP });
  }
  if (changed.length > 0) {
    const shown: string[] = [];
    for (const { number, first } of changed.slice(0, 5)) {
      shown.push(`${await labelIn(first)} is now ${labelNow(series, number) ?? 'without figures'}`);
    }
    const more = changed.length > 5 ? ` and ${changed.length - 5} more` : '';
    const what = `The document labels otherwise than the register: ${shown.join(', ')}${more}.`;
    findings.add({ kind: 'label-changed', grade: 'remark', where, what, cure: KEEP });
  }
}

function labelNow(series: Series, number: number): string | undefined {
  try {
    return labelOf(series, number);
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}

/** Ascending numbers as `1-3, 7`; the rest counted when there are many stretches. */
export function ranges(numbers: readonly number[]): string {
  const stretches: [first: number, last: number][] = [];
  for (const n of [...numbers].sort((a, b) => a - b)) {
    const current = stretches.at(-1);
    if (current && n === current[1] + 1) current[1] = n;
    else stretches.push([n, n]);
  }
  const shown = stretches.slice(0, 20).map(([a, b]) => (a === b ? `${a}` : `${a}-${b}`));
  const rest = stretches.length - shown.length;
  return shown.join(', ') + (rest > 0 ? ` and ${rest} more stretches` : '');
}
