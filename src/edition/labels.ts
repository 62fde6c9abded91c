import type { Edition, Exclusion, Series } from '../documents/schema/edition.js';
import { refuse } from './messages.js';
import { ROMAN_MAX, toRoman } from './roman.js';

/** A number of a series, and how it is written on the piece. */
export interface Numbered {
  readonly series: string;
  readonly number: number;
  readonly label: string;
}

const numeralsOf = (series: Series, n: number): string =>
  series.figures === 'roman' ? toRoman(n) : String(n).padStart(series.pad, '0');

/** The total has the numerals of the series, without padding: `007/90`, `IV/IX`. */
const totalOf = (series: Series): string => {
  if (!series.total) return '';
  const of = series.total.of ?? series.to;
  return series.total.joiner + (series.figures === 'roman' ? toRoman(of) : String(of));
};

/**
 * The label of a number, whether or not it belongs to the series: a sheet of samples may show any. Throws a Refusal
 * (exit 2) for a number that cannot be written.
 */
export const labelOf = (series: Series, n: number): string => labelWriter(series)(n);

/** The same for many numbers of one series: what all their labels have is made once. */
export function labelWriter(series: Series): (n: number) => string {
  const where = `series ${series.id}`;
  const largest = series.figures === 'roman' ? (series.total?.of ?? series.to) : 0;
  let around: ReturnType<typeof aroundNumerals> | undefined;
  return (n) => {
    if (!Number.isSafeInteger(n) || n < 1) throw refuse('edition.not-a-piece-number', where, { number: n });
    if (series.figures === 'roman' && Math.max(n, largest) > ROMAN_MAX)
      throw refuse('edition.roman-too-large', where, { most: ROMAN_MAX });
    around ??= aroundNumerals(series);
    return around.before + numeralsOf(series, n) + around.after;
  };
}

/** What every label of a series has before its numerals and after them, the total included. */
export const aroundNumerals = (series: Series): { readonly before: string; readonly after: string } => ({
  before: series.before ?? '',
  after: totalOf(series) + (series.after ?? ''),
});

const excludes = (exclusion: Exclusion, n: number): boolean =>
  (exclusion.containing !== undefined && String(n).includes(exclusion.containing)) ||
  (exclusion.numbers?.includes(n) ?? false);

/**
 * The first exclusion that leaves this number out. `containing` looks at the plain arabic digits of the number, however
 * the label is written: padding with 0 must not make every number "contain 0".
 */
export function excludedBy(series: Series, n: number): Exclusion | undefined {
  return series.exclude.find((exclusion) => excludes(exclusion, n));
}

/** From `from` to `to`, ascending, less the exclusions. */
export function numbersOf(series: Series): number[] {
  const listed = new Set(series.exclude.flatMap((exclusion) => exclusion.numbers ?? []));
  const contained = series.exclude.flatMap((exclusion) =>
    exclusion.containing === undefined ? [] : [exclusion.containing],
  );
  const numbers: number[] = [];
  for (let n = series.from; n <= series.to; n++) {
    if (listed.has(n)) continue;
    if (contained.length > 0) {
      const digits = String(n);
      if (contained.some((part) => digits.includes(part))) continue;
    }
    numbers.push(n);
  }
  return numbers;
}

/** What one series is planned to hold, ascending. */
export function plannedCount(series: Series): Numbered[] {
  const label = labelWriter(series);
  return numbersOf(series).map((number) => ({ series: series.id, number, label: label(number) }));
}

/** What the edition is planned to hold, series by series as the document has them. */
export const plannedNumbers = (edition: Pick<Edition, 'series'>): Numbered[] =>
  edition.series.flatMap(plannedCount);
