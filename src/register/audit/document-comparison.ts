import type { Series } from '../../documents/schema/edition.js';
import { excludedBy, labelOf, numbersOf } from '../../edition/labels.js';
import { formatRanges } from '../../edition/number-ranges.js';
import { Refusal } from '../../problem.js';
import type { Findings } from './finding.js';
import type { LifecycleReplay, ReplayedNumber, ReplayedSeries } from './lifecycle-replay.js';
import { problem } from './messages.js';

/** Numbers below the highest issued that no piece bears, and why. */
export interface Gap {
  readonly edition: string;
  readonly series: string;
  /** Such as `4, 13-14`. */
  readonly numbers: string;
  readonly why: string;
}

/** Reads the label that an event of the register gives. */
export type ReadLabel = (seq: number) => Promise<string>;

/** As many changed labels are listed. */
const MOST_CHANGES = 5;

/**
 * Compares what the register says of an edition with its document. Where the register has terms of the edition
 * (`hasTerms`), a document that differs from them is a fault that `TermsAudit` reports: only gaps are looked for here.
 */
export async function compareWithDocument(
  replay: LifecycleReplay,
  editionId: string,
  planned: readonly Series[],
  hasTerms: boolean,
  readLabel: ReadLabel,
  findings: Findings,
): Promise<Gap[]> {
  const gaps: Gap[] = [];
  for (const [name, numbers] of replay.seriesOf(editionId)) {
    const where = `edition ${editionId}: series ${name}`;
    const series = planned.find((s) => s.id === name);
    if (!series) {
      if (!hasTerms) findings.remark(problem('audit.series-not-planned', where, { n: numbers.count }));
      continue;
    }
    gaps.push(...gapsOf(editionId, series, numbers, findings));
    if (hasTerms) continue;
    compareNumbers(where, series, numbers, findings);
    await compareLabels(where, series, numbers, readLabel, findings);
  }
  return gaps;
}

function gapsOf(editionId: string, series: Series, numbers: ReplayedSeries, findings: Findings): Gap[] {
  let highest = 0;
  for (const { number, pieces } of numbers.numbers()) if (pieces > 0) highest = Math.max(highest, number);
  const missing: number[] = [];
  const explained = new Map<string, number[]>();
  for (let n = series.from; n < highest; n++) {
    const replayed = numbers.at(n);
    if (replayed && replayed.pieces > 0 && replayed.state !== 'void') continue;
    // A number that was withheld and released before it was issued is planned again: that explains nothing.
    const why = replayed && replayed.state !== 'planned' ? replayed.state : excludedBy(series, n)?.why;
    if (why === undefined) missing.push(n);
    else if (explained.has(why)) explained.get(why)!.push(n);
    else explained.set(why, [n]);
  }
  if (missing.length > 0) {
    const values = { n: missing.length, numbers: formatRanges(missing) };
    findings.fault(problem('audit.number-missing', `edition ${editionId}: series ${series.id}`, values));
  }
  return [...explained].map(([why, n]) => ({
    ...{ edition: editionId, series: series.id, numbers: formatRanges(n), why },
  }));
}

/** Numbers that were issued and that the document excludes, or does not plan. */
function compareNumbers(where: string, series: Series, numbers: ReplayedSeries, findings: Findings): void {
  const planned = new Set(numbersOf(series));
  const excluded: number[] = [];
  const unplanned: number[] = [];
  const reasons = new Set<string>();
  for (const { number, pieces } of numbers.numbers()) {
    if (planned.has(number) || pieces === 0) continue;
    const why = excludedBy(series, number)?.why;
    if (why === undefined) unplanned.push(number);
    else {
      excluded.push(number);
      reasons.add(why);
    }
  }
  if (excluded.length > 0) {
    const values = { n: excluded.length, numbers: formatRanges(excluded), reasons: [...reasons] };
    findings.remark(problem('audit.excluded', where, values));
  }
  if (unplanned.length > 0) {
    const values = { n: unplanned.length, numbers: formatRanges(unplanned) };
    findings.remark(problem('audit.not-planned', where, values));
  }
}

/** Numbers whose label in the register is not the one that the document gives now. */
async function compareLabels(
  where: string,
  series: Series,
  numbers: ReplayedSeries,
  readLabel: ReadLabel,
  findings: Findings,
): Promise<void> {
  const changed: ReplayedNumber[] = [];
  for (const replayed of numbers.numbers()) {
    const now = currentLabelOf(series, replayed.number);
    if (now === undefined || !numbers.hasLabel(replayed.number, now)) changed.push(replayed);
  }
  if (changed.length === 0) return;
  const changes: string[] = [];
  for (const { number, firstEvent } of changed.slice(0, MOST_CHANGES))
    changes.push(
      `${await readLabel(firstEvent)} is now ${currentLabelOf(series, number) ?? 'without numerals'}`,
    );
  const values = { changes, more: changed.length - changes.length };
  findings.remark(problem('audit.label-changed', where, values));
}

function currentLabelOf(series: Series, number: number): string | undefined {
  try {
    return labelOf(series, number);
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}
