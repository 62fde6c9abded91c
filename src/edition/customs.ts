import type { Edition, Series } from '../documents/schema/edition.js';
import { type Problem, problem } from '../problem.js';
import { numbersOf } from './labels.js';

const PROOFS = /proof|épreuve/iu;
/** Proofs are customarily 5 to 10 % of the numbered edition (MoMA and Tate glossaries, "edition"; from memory). */
const FEWEST = 0.05;
const MOST = 0.1;

/** Remarks where an edition departs from custom. The maker may; a collector will ask. */
export function customs(edition: Edition): Problem[] {
  const remarks: Problem[] = [];
  const proofs = edition.series.filter((series) => PROOFS.test(series.title));
  const numbered = edition.series.filter((series) => !PROOFS.test(series.title));
  const main = numbered.reduce<Series | undefined>(
    (largest, series) => (largest && count(largest) >= count(series) ? largest : series),
    undefined,
  );
  if (main && proofs.length > 0) {
    const [pieces, kept] = [count(main), proofs.reduce((sum, series) => sum + count(series), 0)];
    // Compared in whole pieces: of 15, the nearest anyone can come to a tenth is 1 or 2.
    if (kept > Math.ceil(pieces * MOST) || kept < Math.floor(pieces * FEWEST)) {
      remarks.push(
        problem(
          `series ${proofs.map((series) => series.id).join(', ')}`,
          `${kept} proofs to ${pieces} numbered pieces is ${percent(kept / pieces)}; 5 to 10 % is customary.`,
          'Keep it if it is meant; say so in the papers of the edition.',
        ),
      );
    }
  }
  for (const series of edition.series) {
    if (!series.total) continue;
    const of = series.total.of ?? series.to;
    const pieces = count(series);
    // Common practice, no source: the figure after the stroke is read as the number of pieces made.
    if (of !== pieces) {
      remarks.push(
        problem(
          `series ${series.id}`,
          `The labels state ${of}, and ${pieces} numbers are planned.`,
          'Say in the papers of the edition which numbers do not exist, or state another total.',
        ),
      );
    }
  }
  return remarks;
}

const count = (series: Series): number => numbersOf(series).length;
const percent = (part: number): string => `${Number((part * 100).toFixed(1))} %`;
