import { customs } from '../edition/customs.js';
import type { Problem } from '../problem.js';
import { openBench } from './bench.js';
import { marksOf } from './marks.js';

export interface Checked {
  readonly ok: true;
  readonly counts: Readonly<Record<string, number>>;
  /** Customs of the trade that are not kept: worth a look, not an error. */
  readonly remarks: readonly Problem[];
}

/** "2 parts, 1 edition". */
export const counted = (counts: Checked['counts']): string =>
  Object.entries(counts)
    .map(([nouns, n]) => `${n} ${n === 1 ? nouns.slice(0, -1) : nouns}`)
    .join(', ');

/** Checks a workshop's documents by themselves and together. Throws a Refusal (exit 2) with every problem. */
export async function checkWorkshop(dir: string): Promise<Checked> {
  const bench = await openBench(dir);
  const { documents } = bench;
  const remarks: Problem[] = [...bench.leftOut];
  for (const [id, edition] of documents.editions) {
    marksOf(bench, edition, id);
    remarks.push(...customs(edition).map((r) => ({ ...r, where: `editions/${id}.yaml: ${r.where}` })));
  }
  const counts = {
    parts: documents.parts.size,
    materials: documents.materials.size,
    cutters: documents.cutters.size,
    stations: documents.stations.size,
    designs: documents.designs.size,
    editions: documents.editions.size,
  };
  return { ok: true, counts, remarks };
}
