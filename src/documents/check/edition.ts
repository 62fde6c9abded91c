import { type Problem, problem } from '../../problem.js';
import type { At } from '../place.js';
import { quoted } from '../quote.js';
import type { Edition, Series } from '../schema/edition.js';
import { repeatedIds, unknownName } from './reference.js';

/** Roman numerals as commonly written stop where M would have to stand four times. Common practice, no source. */
const LAST_ROMAN = 3999;

/** Labels that two series share are found where labels are made, in the edition's own room. */
export function editionProblems(edition: Edition, at: At, designs: ReadonlySet<string>): Problem[] {
  const problems: Problem[] = [];
  const seen = new Set<string>();
  for (const [i, design] of edition.designs.entries()) {
    if (!designs.has(design)) problems.push(unknownName(at('designs', i), design, 'design', designs));
    else if (seen.has(design)) {
      problems.push(
        problem(at('designs', i), `The design ${quoted(design)} is listed twice.`, 'Keep one of them.'),
      );
    }
    seen.add(design);
  }
  problems.push(...repeatedIds(edition.series, 'series', at));
  for (const [i, series] of edition.series.entries()) {
    problems.push(...seriesProblems(series, (...rest) => at('series', i, ...rest)));
  }
  return problems;
}

function seriesProblems(series: Series, at: At): Problem[] {
  const { from, to, figures, pad, total } = series;
  if (from > to)
    return [
      problem(at('to'), `\`to\` (${to}) is before \`from\` (${from}).`, 'Give the last number as `to`.'),
    ];
  const problems: Problem[] = [];
  if (figures === 'roman') {
    const last = Math.max(to, total?.of ?? to);
    if (last > LAST_ROMAN) {
      const where = to > LAST_ROMAN ? at('to') : at('total', 'of');
      const what = `Roman figures are written to ${LAST_ROMAN} here, not ${last}.`;
      problems.push(problem(where, what, 'Shorten the series or use arabic figures.'));
    }
    if (pad > 1) {
      problems.push(
        problem(at('pad'), 'Roman figures are not filled with 0.', 'Remove `pad` or use arabic figures.'),
      );
    }
  } else if (pad > 1 && String(to).length > pad) {
    const what = `${to} has more figures than \`pad\` (${pad}) makes room for.`;
    problems.push(problem(at('pad'), what, `Give ${String(to).length}, or leave \`pad\` out.`));
  }
  if (total?.of !== undefined && total.of < to) {
    const what = `The stated total (${total.of}) is less than the last number (${to}).`;
    problems.push(problem(at('total', 'of'), what, `Give ${to} at least, or leave \`of\` out.`));
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
      const what = numbers
        ? '`numbers` and `containing` are both given.'
        : 'Neither `numbers` nor `containing` is given.';
      problems.push(problem(at('exclude', i), what, 'Give one of the two.'));
    }
    const here = new Set<number>();
    for (const [k, n] of (numbers ?? []).entries()) {
      if (n < from || n > to) {
        const what = `${n} is not in the series (${from} to ${to}).`;
        problems.push(problem(at('exclude', i, 'numbers', k), what, 'Remove it or correct it.'));
      } else if (here.has(n)) {
        problems.push(problem(at('exclude', i, 'numbers', k), `${n} is listed twice.`, 'Keep one of them.'));
      }
      here.add(n);
      out.add(n);
    }
  }
  if (!anyLeft(series, out)) {
    problems.push(problem(at('exclude'), 'No number of the series is left.', 'Exclude fewer.'));
  }
  return problems;
}

function anyLeft({ from, to, exclude }: Series, listed: ReadonlySet<number>): boolean {
  const all = [...new Set(exclude.flatMap(({ containing }) => containing ?? []))];
  // whatever contains 13 contains 1: the shorter figures decide, and there are few of them
  const figures = all.filter((f) => !all.some((other) => other !== f && f.includes(other)));
  for (let n = from; n <= to; n++) {
    const written = String(n);
    if (!listed.has(n) && !figures.some((f) => written.includes(f))) return true;
  }
  return false;
}
