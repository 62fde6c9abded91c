import type { Edition, Series } from '../documents/schema/edition.js';
import type { Problem } from '../problem.js';
import { labelOf, labelWriter, numbersOf } from './labels.js';
import { toLatin } from './look-alike.js';
import { problem } from './messages.js';
import { ROMAN_MAX } from './roman.js';

/** Strokes that are cut as a solidus, dashes that are cut as a hyphen, and quotes that are cut as an apostrophe. */
const SAME_STROKE: readonly (readonly [RegExp, string])[] = [
  [/[\u2044\u2215\u2571\u29f8]/gu, '/'],
  [/[\u2010-\u2015\u2212\u2500]/gu, '-'],
  [/[\u2018\u2019\u201b\u2032\u02bc]/gu, "'"],
];

/**
 * What a label comes to for someone who reads it off the piece: compatibility forms, letter case, width of blanks,
 * invisible characters, letters of other scripts that look Latin, and strokes that are cut alike make no difference.
 * (Upper, then lower case: that also folds ß with SS.)
 */
export function foldLabel(label: string): string {
  // Nearly every label is plain ASCII with single blanks, and an edition may have a hundred thousand.
  if (/^(?:[\x21-\x7e]+(?: [\x21-\x7e]+)*)?$/.test(label)) return label.toLowerCase();
  const strokes = SAME_STROKE.reduce(
    (text, [odd, plain]) => text.replace(odd, plain),
    label.normalize('NFKC'),
  );
  return toLatin(strokes)
    .replace(/\p{Default_Ignorable_Code_Point}/gu, '')
    .replace(/\s+/gu, ' ')
    .trim()
    .toUpperCase()
    .toLowerCase()
    .normalize('NFKC');
}

/**
 * Where two series give the same label, or labels that read the same. The reader of the document checks each series in
 * itself; one whose numbers cannot be written is skipped here.
 *
 * Compares every label with every other rather than reasoning about prefixes: text before and after may hold digits, and
 * then `1` + `12` is `11` + `2`. Within a series no two numbers can be written alike.
 */
export function checkEdition(edition: Edition, where: string): Problem[] {
  if (edition.series.length < 2) return [];
  const problems: Problem[] = [];
  const reported = new Set<string>();
  const counted = edition.series.filter(hasNumerals);
  // One figure for series and number: an object for each of a hundred thousand labels takes several times as long.
  const firsts = new Map<string, number>();
  for (const [at, series] of counted.entries()) {
    const label = labelWriter(series);
    for (const number of numbersOf(series)) {
      const read = foldLabel(label(number));
      const found = firsts.get(read);
      if (found === undefined) {
        firsts.set(read, number * counted.length + at);
        continue;
      }
      const first = {
        series: counted[found % counted.length]!,
        number: Math.floor(found / counted.length),
      };
      // One problem for each pair of series; the next thousand collisions would say nothing new.
      const pair = `${first.series.id} ${series.id}`;
      if (reported.has(pair)) continue;
      reported.add(pair);
      problems.push(labelClashProblem(where, first.series, first.number, series, number));
    }
  }
  return problems;
}

const hasNumerals = ({ figures, to, total }: Series): boolean =>
  figures === 'arabic' || Math.max(to, total?.of ?? to) <= ROMAN_MAX;

function labelClashProblem(where: string, a: Series, m: number, b: Series, n: number): Problem {
  const [label, otherLabel] = [labelOf(a, m), labelOf(b, n)];
  const series = { one: a.id, other: b.id };
  return label === otherLabel
    ? problem('edition.same-label', where, { ...series, label })
    : problem('edition.labels-read-alike', where, { ...series, label, otherLabel });
}
