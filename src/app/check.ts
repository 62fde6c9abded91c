import { cutProblems } from '../cutting/mark-cut.js';
import type { Operation } from '../cutting/operation.js';
import { customRemarks, nameRemarks } from '../edition/customs.js';
import { type Numbered, plannedNumbers } from '../edition/labels.js';
import { type Problem, placedIn, Refusal } from '../problem.js';
import { checkPrograms } from './check-programs.js';
import type { Environment } from './environment.js';
import { checkEditionMarks, fitEdition, fittedOperations } from './fit.js';
import { noProgress, type Progress } from './progress.js';
import { openWorkshop, type Workshop } from './workshop.js';

export interface Checked {
  readonly ok: true;
  readonly counts: Readonly<Record<string, number>>;
  /** Customs of the trade that are not kept: worth a look, not an error. */
  readonly remarks: readonly Problem[];
}

/** "2 parts, 1 edition", for people. */
export const formatCounts = (counts: Checked['counts']): string =>
  Object.entries(counts)
    .map(([nouns, n]) => `${n} ${n === 1 ? nouns.slice(0, -1) : nouns}`)
    .join(', ');

/**
 * Checks a workshop's documents by themselves and together, and tries what a cut needs: every edition is fitted, and
 * every block of every piece is held against each station. Throws a Refusal with every problem: exit 2 for
 * documents, 1 for what does not fit, or what no station of the workshop can cut.
 */
export async function checkWorkshop(
  dir: string,
  environment: Environment,
  progress: Progress = noProgress,
): Promise<Checked> {
  const workshop = await openWorkshop(dir, environment);
  const { documents } = workshop;
  const remarks: Problem[] = [...workshop.leftOut, ...nameRemarks(documents.editions)];
  for (const [id, edition] of documents.editions) {
    checkEditionMarks(workshop, id, plannedNumbers(edition));
    remarks.push(...customRemarks(edition).map((r) => ({ ...r, where: `editions/${id}.yaml: ${r.where}` })));
  }
  const findings: Problem[] = [];
  for (const id of documents.editions.keys()) {
    const tried = tryEdition(workshop, id, progress);
    findings.push(...tried.findings);
    remarks.push(...tried.remarks);
  }
  if (findings.length > 0) throw new Refusal(findings);
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

/** Throws a Refusal where one edition of a workshop cannot be cut, as the check of the whole would. */
export async function checkEdition(dir: string, environment: Environment, id: string): Promise<void> {
  const workshop = await openWorkshop(dir, environment);
  checkEditionMarks(workshop, id, plannedNumbers(workshop.documents.editions.get(id)!));
  const { findings } = tryEdition(workshop, id, noProgress);
  if (findings.length > 0) throw new Refusal(findings);
}

/** Tries what a cut of every number of an edition needs. */
function tryEdition(
  workshop: Workshop,
  id: string,
  progress: Progress,
): { readonly findings: readonly Problem[]; readonly remarks: readonly Problem[] } {
  const planned = plannedNumbers(workshop.documents.editions.get(id)!);
  const fit = fitEdition(workshop, id, planned, progress);
  const misfitting = fit.marks.flatMap(cutProblems);
  if (misfitting.length > 0) return { findings: misfitting, remarks: [] };
  const labels = planned.map(({ label }) => label);
  const refused = stationsThatRefuse(workshop, id, fittedOperations(fit)(labels), planned, progress);
  const none = refused.length > 0 && refused.length === workshop.documents.stations.size;
  return none ? { findings: refused.flat(), remarks: [] } : { findings: [], remarks: refused.flat() };
}

/** Why a station cannot cut an edition, for each station that cannot. */
function stationsThatRefuse(
  workshop: Workshop,
  editionId: string,
  operations: readonly Operation[],
  planned: readonly Numbered[],
  progress: Progress,
): (readonly Problem[])[] {
  const stations = [...workshop.documents.stations.keys()];
  return stations.flatMap((stationId, i) => {
    try {
      for (const operation of operations) checkPrograms(workshop, editionId, stationId, operation, planned);
      return [];
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const where = `stations/${stationId}.yaml: edition ${editionId}`;
      return [error.problems.map((p) => placedIn(where, p))];
    } finally {
      progress('stations', i + 1, stations.length);
    }
  });
}
