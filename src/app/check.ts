import type { Edition } from '../documents/schema/edition.js';
import { customs } from '../edition/customs.js';
import { type Problem, Refusal } from '../problem.js';
import type { Environment } from './environment.js';
import { fitEdition } from './fit.js';
import { marksOf } from './marks.js';
import { closingProblems } from './misfit.js';
import { openWorkshop, type Workshop } from './workshop.js';

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

/**
 * Checks a workshop's documents by themselves and together, and that letters leave the land their designs ask for.
 * Throws a Refusal with every problem: exit 2 for documents, 1 for what would close up when it is cut.
 */
export async function checkWorkshop(dir: string, environment: Environment): Promise<Checked> {
  const workshop = await openWorkshop(dir, environment);
  const { documents } = workshop;
  const remarks: Problem[] = [...workshop.leftOut];
  for (const [id, edition] of documents.editions) {
    marksOf(workshop, edition, id);
    remarks.push(...customs(edition).map((r) => ({ ...r, where: `editions/${id}.yaml: ${r.where}` })));
  }
  const closing = [...documents.editions].flatMap(([id, edition]) =>
    asksForLand(workshop, edition) ? fitEdition(workshop, id).marks.flatMap(closingProblems) : [],
  );
  if (closing.length > 0) throw new Refusal(1, closing);
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

/** Only where a design sets a limit does the check take the time to fit. */
const asksForLand = ({ documents }: Workshop, { designs }: Edition): boolean =>
  designs.some((id) => documents.designs.get(id)!.marks.some((m) => 'land' in m && m.land !== undefined));
