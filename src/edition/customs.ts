import type { Edition, Series } from '../documents/schema/edition.js';
import type { Problem } from '../problem.js';
import { numbersOf } from './labels.js';
import { readingsOf } from './look-alike.js';
import { problem } from './messages.js';

const PROOFS = /proof|épreuve/iu;
/** Proofs are customarily 5 to 10 % of the numbered edition (MoMA and Tate glossaries, "edition"; from memory). */
const FEWEST = 0.05;
const MOST = 0.1;

/** Remarks where an edition departs from custom. The maker may do so; a collector will ask. */
export function customRemarks(edition: Edition): Problem[] {
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
      const where = `series ${proofs.map((series) => series.id).join(', ')}`;
      const percent = Number(((kept / pieces) * 100).toFixed(1));
      remarks.push(problem('edition.proofs-unusual', where, { proofs: kept, pieces, percent }));
    }
  }
  for (const series of edition.series) {
    if (!series.total) continue;
    const total = series.total.of ?? series.to;
    const planned = count(series);
    // Common practice, no source: the number after the stroke is read as the number of pieces made.
    if (total !== planned)
      remarks.push(problem('edition.total-not-planned', `series ${series.id}`, { total, planned }));
  }
  return remarks;
}

/** Remarks on editions, by their ids, whose names can be read as that of another, each beside the first that has it. */
export function nameRemarks(
  editions: Iterable<readonly [id: string, edition: Pick<Edition, 'name'>]>,
): Problem[] {
  const remarks: Problem[] = [];
  const holders = new Map<string, { readonly holder: string; readonly other: string }>();
  for (const [id, { name }] of editions) {
    const readings = readingsOf(name);
    const taken = readings.map((reading) => holders.get(reading)).find((found) => found !== undefined);
    if (taken)
      remarks.push(problem('edition.name-reads-alike', `editions/${id}.yaml: name`, { name, ...taken }));
    for (const reading of readings)
      if (!holders.has(reading)) holders.set(reading, { holder: id, other: name });
  }
  return remarks;
}

const count = (series: Series): number => numbersOf(series).length;
