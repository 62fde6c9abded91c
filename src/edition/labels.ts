import type { Edition, Exclusion, Series } from '../documents/schema/edition.js';
import { refuse } from '../problem.js';
import { ROMAN_MAX, toRoman } from './roman.js';

/** A number of a series, and how it is written on the piece. */
export interface Numbered {
  readonly series: string;
  readonly number: number;
  readonly label: string;
}

const figuresOf = (series: Series, n: number): string =>
  series.figures === 'roman' ? toRoman(n) : String(n).padStart(series.pad, '0');

/** The total is written in the figures of the series, without filling: `007/90`, `IV/IX`. */
const totalOf = (series: Series): string => {
  if (!series.total) return '';
  const of = series.total.of ?? series.to;
  return series.total.joiner + (series.figures === 'roman' ? toRoman(of) : String(of));
};

/**
 * The label of a number. Whether the number belongs to the series is not asked here: a sheet of samples may
 * want the label of any. A number that has no figures is refused.
 */
export function labelOf(series: Series, n: number): string {
  const where = `series ${series.id}`;
  if (!Number.isSafeInteger(n) || n < 1) {
    throw refuse(2, where, `${n} is not a number of pieces.`, 'Give a whole number from 1.');
  }
  if (series.figures === 'roman' && Math.max(n, series.total?.of ?? series.to) > ROMAN_MAX) {
    throw refuse(
      2,
      where,
      `Roman figures end at ${ROMAN_MAX}.`,
      'Use arabic figures, or end the series (and its stated total) there.',
    );
  }
  return (series.before ?? '') + figuresOf(series, n) + totalOf(series) + (series.after ?? '');
}

const excludes = (exclusion: Exclusion, n: number): boolean =>
  (exclusion.containing !== undefined && String(n).includes(exclusion.containing)) ||
  (exclusion.numbers?.includes(n) ?? false);

/**
 * The first exclusion that leaves this number out. `containing` looks at the number in plain arabic figures,
 * whatever the label is written in: filling with 0 must not make every number "contain 0".
 */
export function excludedBy(series: Series, n: number): Exclusion | undefined {
  return series.exclude.find((exclusion) => excludes(exclusion, n));
}

/** From `from` to `to`, ascending, less the exclusions. */
export function numbersOf(series: Series): number[] {
  const listed = new Set(series.exclude.flatMap((exclusion) => exclusion.numbers ?? []));
  const written = series.exclude.flatMap((exclusion) =>
    exclusion.containing === undefined ? [] : [exclusion.containing],
  );
  const numbers: number[] = [];
  for (let n = series.from; n <= series.to; n++) {
    if (listed.has(n)) continue;
    if (written.length > 0) {
      const figures = String(n);
      if (written.some((part) => figures.includes(part))) continue;
    }
    numbers.push(n);
  }
  return numbers;
}

/** What one series is planned to hold, ascending. */
export const plannedOf = (series: Series): Numbered[] =>
  numbersOf(series).map((number) => ({ series: series.id, number, label: labelOf(series, number) }));

/** What the edition is planned to hold, series by series as the document has them. */
export const planned = (edition: Edition): Numbered[] => edition.series.flatMap(plannedOf);
