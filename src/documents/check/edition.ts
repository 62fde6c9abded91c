import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';
import { plainText } from '../quote.js';
import type { Edition, Series } from '../schema/edition.js';
import type { At } from '../source-places.js';
import { repeatedIds, unknownName } from './reference.js';

/** Roman numerals as commonly written stop where M would have to stand four times. Common practice, no source. */
const LAST_ROMAN = 3999;

/** Every piece is fitted, checked and listed: more than this would take minutes and gigabytes. */
const MOST_PIECES = 200_000;

/** Labels that two series share are found where labels are made, in the edition's own room. */
export function editionProblems(edition: Edition, at: At, designs: ReadonlySet<string>): Problem[] {
  const problems: Problem[] = [];
  const seen = new Set<string>();
  for (const [i, design] of edition.designs.entries()) {
    if (!designs.has(design)) problems.push(unknownName(at('designs', i), design, 'design', designs));
    else if (seen.has(design)) {
      problems.push(problem('documents.design-twice', at('designs', i), { design: plainText(design) }));
    }
    seen.add(design);
  }
  problems.push(...repeatedIds(edition.series, 'series', at));
  const pieces = edition.series.reduce((sum, { from, to }) => sum + Math.max(0, to - from + 1), 0);
  if (pieces > MOST_PIECES) {
    const values = { pieces, most: MOST_PIECES };
    problems.push(problem('documents.too-many-pieces', at('series'), values));
  }
  for (const [i, series] of edition.series.entries()) {
    problems.push(...seriesProblems(series, (...rest) => at('series', i, ...rest)));
  }
  return problems;
}

function seriesProblems(series: Series, at: At): Problem[] {
  const { from, to, figures, pad, total } = series;
  if (from > to) return [problem('documents.series-reversed', at('to'), { from, to })];
  const problems: Problem[] = [];
  if (figures === 'roman') {
    const last = Math.max(to, total?.of ?? to);
    if (last > LAST_ROMAN) {
      const where = to > LAST_ROMAN ? at('to') : at('total', 'of');
      problems.push(problem('documents.roman-too-large', where, { most: LAST_ROMAN, last }));
    }
    if (pad > 1) problems.push(problem('documents.roman-padded', at('pad'), {}));
  } else if (pad > 1 && String(to).length > pad) {
    const values = { to, pad, digits: String(to).length };
    problems.push(problem('documents.pad-too-short', at('pad'), values));
  }
  if (total?.of !== undefined && total.of < to) {
    problems.push(problem('documents.total-too-small', at('total', 'of'), { total: total.of, to }));
  }
  problems.push(...exclusionProblems(series, at));
  return problems;
}

function exclusionProblems(series: Series, at: At): Problem[] {
  const { from, to } = series;
  const problems: Problem[] = [];
  const out = new Set<number>();
  for (const [i, { numbers, containing }] of series.exclude.entries()) {
    if ((numbers === undefined) === (containing === undefined)) {
      const code = numbers ? 'documents.exclusion-both' : 'documents.exclusion-neither';
      problems.push(problem(code, at('exclude', i), {}));
    }
    const here = new Set<number>();
    for (const [k, n] of (numbers ?? []).entries()) {
      if (n < from || n > to) {
        const values = { number: n, from, to };
        problems.push(problem('documents.exclusion-outside', at('exclude', i, 'numbers', k), values));
      } else if (here.has(n)) {
        problems.push(problem('documents.exclusion-twice', at('exclude', i, 'numbers', k), { number: n }));
      }
      here.add(n);
      out.add(n);
    }
  }
  if (!anyLeft(series, out)) problems.push(problem('documents.none-left', at('exclude'), {}));
  return problems;
}

function anyLeft({ from, to, exclude }: Series, listed: ReadonlySet<number>): boolean {
  const all = [...new Set(exclude.flatMap(({ containing }) => containing ?? []))];
  // whatever contains 13 contains 1: the shorter digits decide, and there are few of them
  const shortest = all.filter((f) => !all.some((other) => other !== f && f.includes(other)));
  for (let n = from; n <= to; n++) {
    const written = String(n);
    if (!listed.has(n) && !shortest.some((f) => written.includes(f))) return true;
  }
  return false;
}
