import type { Edition, Series } from '../documents/schema/edition.js';
import { type Problem, problem } from '../problem.js';
import { labelOf, numbersOf } from './labels.js';
import { ROMAN_MAX } from './roman.js';

/**
 * What a label comes to for someone reading it off the piece: compatibility forms, letter case, width of blanks
 * and invisible characters make no difference. (Up, then down: that also folds ß with SS.)
 */
export function asRead(label: string): string {
  // Nearly every label is plain ASCII, and an edition may have a hundred thousand.
  if (/^[\x21-\x7e]*$/.test(label)) return label.toLowerCase();
  return label
    .normalize('NFKC')
    .replace(/\p{Default_Ignorable_Code_Point}/gu, '')
    .replace(/\s+/gu, ' ')
    .trim()
    .toUpperCase()
    .toLowerCase()
    .normalize('NFKC');
}

/** What would make the numbers or labels of an edition wrong. None may be issued while any of this stands. */
export function checkEdition(edition: Edition, where: string): Problem[] {
  const problems = edition.series.flatMap((series) => checkSeries(series, `${where}: series ${series.id}`));
  const seen = new Set<string>();
  for (const { id } of edition.series) {
    if (seen.has(id)) {
      problems.push(problem(where, `Two series are called ${id}.`, 'Give each series its own id.'));
    }
    seen.add(id);
  }
  // Labels can be compared only where every number has figures and every series a name of its own.
  return problems.length > 0 ? problems : checkLabels(edition, where);
}

function checkSeries(series: Series, where: string): Problem[] {
  const { from, to, total } = series;
  if (from > to) {
    return [problem(where, `It runs from ${from} to ${to}.`, 'Put the lower number in `from`.')];
  }
  const problems: Problem[] = [];
  if (series.figures === 'roman' && Math.max(to, total?.of ?? to) > ROMAN_MAX) {
    problems.push(
      problem(
        where,
        `Roman figures end at ${ROMAN_MAX}.`,
        'Use arabic figures, or end the series and its total there.',
      ),
    );
  }
  if (total?.of !== undefined && total.of < to) {
    problems.push(
      problem(
        where,
        `It runs to ${to}, beyond its stated total of ${total.of}.`,
        `State a total of ${to} or more, or end the series at ${total.of}.`,
      ),
    );
  }
  // A slip such as 133 for 13, 33 would otherwise issue the very number that was to be left out.
  for (const n of new Set(series.exclude.flatMap((exclusion) => exclusion.numbers ?? []))) {
    if (n < from || n > to) {
      problems.push(
        problem(
          where,
          `It leaves out ${n}, which is not in ${from} to ${to}.`,
          'Correct or remove that number.',
        ),
      );
    }
  }
  for (const exclusion of series.exclude) {
    if (exclusion.numbers === undefined && exclusion.containing === undefined) {
      problems.push(
        problem(where, `"${exclusion.why}" leaves out no number.`, 'Give it `numbers` or `containing`.'),
      );
    }
  }
  if (problems.length === 0 && numbersOf(series).length === 0) {
    problems.push(problem(where, 'Every number is left out.', 'Remove an exclusion, or the series.'));
  }
  return problems;
}

/**
 * Compares every label with every other rather than reasoning about prefixes: text before and after may hold
 * figures, and then `1` + `12` is `11` + `2`.
 */
function checkLabels(edition: Edition, where: string): Problem[] {
  if (edition.series.length < 2) return [];
  const problems: Problem[] = [];
  const told = new Set<string>();
  const firsts = new Map<string, { series: Series; number: number }>();
  for (const series of edition.series) {
    for (const number of numbersOf(series)) {
      const label = labelOf(series, number);
      const read = asRead(label);
      const first = firsts.get(read);
      if (first === undefined) {
        firsts.set(read, { series, number });
        continue;
      }
      // One line for each pair of series; the next thousand collisions would say nothing new.
      const pair = `${first.series.id} ${series.id}`;
      if (told.has(pair)) continue;
      told.add(pair);
      problems.push(clash(where, first.series, first.number, series, number));
    }
  }
  return problems;
}

function clash(where: string, a: Series, m: number, b: Series, n: number): Problem {
  const [one, other] = [labelOf(a, m), labelOf(b, n)];
  const cure = `Tell them apart with \`before\`, \`after\`, \`total\` or \`figures\` in ${a.id} or ${b.id}.`;
  return one === other
    ? problem(where, `Series ${a.id} and series ${b.id} both give the label ${one}.`, cure)
    : problem(
        where,
        `Series ${a.id} gives the label ${one} and series ${b.id} gives ${other}, which read the same.`,
        cure,
      );
}
