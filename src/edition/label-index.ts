import type { Edition, Series } from '../documents/schema/edition.js';
import type { Problem } from '../problem.js';
import { aroundNumerals, excludedBy, labelOf, type Numbered, plannedNumbers } from './labels.js';
import { problem } from './messages.js';
import {
  type LabelCandidate,
  type NearMiss,
  type NearMissFinder,
  nearMissFinder,
  nearMissPhrase,
} from './near-miss.js';
import { reasonPhrase } from './near-miss-reason.js';
import { fromRoman } from './roman.js';

/** The labels of an edition, ready to be looked up: made once for a whole list of questions. */
export interface LabelIndex {
  readonly editionId: string;
  readonly edition: Pick<Edition, 'series'>;
  /** What the edition plans, series by series as the document has them. */
  readonly planned: readonly Numbered[];
  readonly byLabel: ReadonlyMap<string, Numbered>;
  /** Near misses of planned labels and of those of excluded numbers. */
  readonly nearMisses: NearMissFinder;
}

/** A number of the edition, or what is wrong with the text that should name it. */
export type FoundNumber =
  | { readonly ok: true; readonly numbered: Numbered }
  | { readonly ok: false; readonly problem: Problem };

/** `also`: further labels that may be meant, such as those that only the register knows. */
export function labelIndexOf(
  edition: Pick<Edition, 'series'>,
  editionId: string,
  also: readonly Numbered[] = [],
): LabelIndex {
  const all = plannedNumbers(edition);
  const others = new Set(also.map(({ label }) => label));
  const candidates = () => [
    ...all,
    ...also,
    ...edition.series.flatMap(excludedIn).filter(({ label }) => !others.has(label)),
  ];
  return {
    editionId,
    edition,
    planned: all,
    byLabel: new Map(all.map((numbered) => [numbered.label, numbered])),
    nearMisses: makeOnce(() => nearMissFinder(candidates())),
  };
}

/** Most lists hold no wrong label, and then nothing need be prepared for one. */
function makeOnce(make: () => NearMissFinder): NearMissFinder {
  let made: NearMissFinder | undefined;
  return (text) => {
    made ??= make();
    return made(text);
  };
}

function excludedIn(series: Series): LabelCandidate[] {
  const excluded: LabelCandidate[] = [];
  for (let number = series.from; number <= series.to; number++) {
    const why = excludedBy(series, number)?.why;
    if (why !== undefined)
      excluded.push({ series: series.id, number, label: labelOf(series, number), excluded: why });
  }
  return excluded;
}

/** The excluded number whose label this is exactly. */
export function excludedNumber({ edition }: LabelIndex, label: string): LabelCandidate | undefined {
  for (const series of edition.series) {
    const number = numberIn(series, label);
    const why = number === undefined ? undefined : excludedBy(series, number)?.why;
    if (number !== undefined && why !== undefined && number >= series.from && number <= series.to)
      return { series: series.id, number, label, excluded: why };
  }
  return undefined;
}

/** Finds a number by its label. The problem says what was probably meant, or that the number is excluded. */
export function findLabel(index: LabelIndex, text: string): FoundNumber {
  const numbered = index.byLabel.get(text);
  if (numbered) return { ok: true, numbered };
  return { ok: false, problem: labelProblem(index, text) };
}

/** As many labels are suggested. */
const MOST_SUGGESTIONS = 3;

function labelProblem(index: LabelIndex, text: string): Problem {
  const where = `edition ${index.editionId}`;
  const given = { text: text.slice(0, 60) };
  const excluded = excludedNumber(index, text);
  if (excluded) {
    const { number, series, label } = excluded;
    return problem('edition.label-excluded', where, { number, series, label, why: excluded.excluded! });
  }
  const outside = findOutsideSeries(index, text);
  if (outside) return problem('edition.label-outside-series', where, { ...given, ...outside });
  const misses = index.nearMisses(text);
  const [nearest] = misses;
  if (nearest?.candidate.excluded !== undefined && misses.length === 1)
    return excludedNearMiss(where, given.text, nearest, nearest.candidate.excluded);
  if (misses.length === 0) return problem('edition.label-unknown', where, given);
  const suggestions = misses.slice(0, MOST_SUGGESTIONS).map(nearMissPhrase);
  return problem('edition.label-mistyped', where, { ...given, suggestions });
}

function excludedNearMiss(
  where: string,
  text: string,
  { candidate, reason }: NearMiss,
  why: string,
): Problem {
  const { number, series, label } = candidate;
  const values = { text, number, series, label, why, reason: reasonPhrase(reason) };
  return problem('edition.label-mistyped-excluded', where, values);
}

/** The series whose label this would be, if it did not run from another number or to another. */
function findOutsideSeries({ edition }: LabelIndex, text: string) {
  for (const series of edition.series) {
    const number = numberIn(series, text);
    if (number !== undefined && (number < series.from || number > series.to))
      return { series: series.id, number, from: series.from, to: series.to };
  }
  return undefined;
}

/** The number whose label in this series the text is, whether or not the series has that number; also 0. */
function numberIn(series: Series, text: string): number | undefined {
  const { before, after } = aroundNumerals(series);
  if (!text.startsWith(before) || !text.endsWith(after)) return undefined;
  const numerals = text.slice(before.length, text.length - after.length);
  if (series.figures === 'roman') return fromRoman(numerals);
  if (!/^[0-9]{1,6}$/.test(numerals)) return undefined;
  const number = Number(numerals);
  return String(number).padStart(series.pad, '0') === numerals ? number : undefined;
}
