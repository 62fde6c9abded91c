import type { Edition, Series } from '../../documents/schema/edition.js';
import { excludedBy, labelOf } from '../../edition/labels.js';
import type { EditionTerms, NamedTerms, SeriesTerms } from './schema.js';

/** A part of the piece, as documents say it. */
export type TermsPart = EditionTerms['parts'][number];

/** What today's documents promise of an edition. */
export function termsOf(edition: Edition, parts: readonly TermsPart[]): NamedTerms {
  const { name, series, approvers = [] } = edition;
  return {
    name,
    terms: { series: series.map(seriesTerms), parts: [...parts], approvers: [...approvers] },
  };
}

function seriesTerms(series: Series): SeriesTerms {
  const { id, title, from, to, figures, pad, total, before, after, exclude } = series;
  return {
    ...{ id, title, from, to, figures, pad },
    ...(total && { total: { joiner: total.joiner, of: total.of ?? to } }),
    ...(before !== undefined && { before }),
    ...(after !== undefined && { after }),
    exclude: exclude.map(({ numbers, containing, why }) => ({
      ...(numbers && { numbers: toRanges(numbers) }),
      ...(containing !== undefined && { containing }),
      why,
    })),
  };
}

/** Ascending, each number once, as `4, 13-14`. */
function toRanges(numbers: readonly number[]): string {
  const ranges: [first: number, last: number][] = [];
  for (const n of [...new Set(numbers)].sort((a, b) => a - b)) {
    const last = ranges.at(-1);
    if (last && n === last[1] + 1) last[1] = n;
    else ranges.push([n, n]);
  }
  return ranges.map(([first, last]) => (first === last ? `${first}` : `${first}-${last}`)).join(', ');
}

function fromRanges(text: string): number[] {
  return text.split(', ').flatMap((range) => {
    const [first, last = first] = range.split('-').map(Number) as [number, number?];
    return Array.from({ length: last! - first + 1 }, (_, i) => first + i);
  });
}

/** A series of the terms as the document had it. */
const toSeries = ({ exclude, ...series }: SeriesTerms): Series => ({
  ...series,
  exclude: exclude.map(({ numbers, ...rest }) => ({
    ...rest,
    ...(numbers !== undefined && { numbers: fromRanges(numbers) }),
  })),
});

/** The series of the terms, as a document would have them. */
export const seriesByTerms = ({ series }: EditionTerms): Series[] => series.map(toSeries);

/** What terms make of a number: its label, or why there is none. */
export type LabelByTerms =
  | { readonly is: 'label'; readonly label: string }
  | { readonly is: 'no such series' | 'outside the series' | 'excluded' };

/** Looks numbers up in terms; made once for many numbers. */
export function labelsByTerms({ series }: EditionTerms): (id: string, number: number) => LabelByTerms {
  const known = new Map(series.map((one) => [one.id, toSeries(one)]));
  return (id, number) => {
    const of = known.get(id);
    if (!of) return { is: 'no such series' };
    if (number < of.from || number > of.to) return { is: 'outside the series' };
    if (excludedBy(of, number)) return { is: 'excluded' };
    return { is: 'label', label: labelOf(of, number) };
  };
}
