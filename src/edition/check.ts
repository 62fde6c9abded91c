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

/**
 * Where two series give the same label, or labels that read the same. That each series is sound in itself is
 * checked where the document is read; one whose numbers have no figures is passed over here.
 *
 * Compares every label with every other rather than reasoning about prefixes: text before and after may hold
 * figures, and then `1` + `12` is `11` + `2`. Within a series no two numbers can be written alike.
 */
export function checkEdition(edition: Edition, where: string): Problem[] {
  if (edition.series.length < 2) return [];
  const problems: Problem[] = [];
  const told = new Set<string>();
  const firsts = new Map<string, { series: Series; number: number }>();
  for (const series of edition.series.filter(hasFigures)) {
    for (const number of numbersOf(series)) {
      const read = asRead(labelOf(series, number));
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

const hasFigures = ({ figures, to, total }: Series): boolean =>
  figures === 'arabic' || Math.max(to, total?.of ?? to) <= ROMAN_MAX;

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
