import { LARGEST_CSV_BYTES, readCsv } from '../documents/csv/read-csv.js';
import { labelIndexOf } from '../edition/label-index.js';
import { Refusal } from '../problem.js';
import { refuse } from '../register/import/messages.js';
import { type ImportPlan, planImport } from '../register/import/plan.js';
import { IMPORT_COLUMNS } from '../register/import/row.js';
import { currentTerms, numberedParts } from './current-terms.js';
import { readInput } from './input-file.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { noProgress, type Progress, progressOf } from './progress.js';
import { signAfter, type TellProblem } from './sign-log.js';

export interface ImportRequest {
  readonly edition: string;
  readonly file: string;
  readonly by: string;
  /** Only says what would be entered and what is wrong. */
  readonly dryRun?: boolean;
}

export interface ImportResult extends Omit<ImportPlan, 'events'> {
  readonly ok: boolean;
  readonly rows: number;
  readonly events: number;
}

/**
 * Imports an older register: all of it, in one transaction, or nothing. Throws a Refusal: exit 2 for a list that cannot
 * be read, 3 for one with wrong rows, with every problem of each. A dry run gives them instead, and writes nothing.
 */
export async function importPast(
  workshop: OpenDocuments,
  request: ImportRequest,
  notSigned: TellProblem = () => undefined,
  progress: Progress = noProgress,
): Promise<ImportResult> {
  const { edition: editionId, file } = request;
  const edition = editionOf(workshop, editionId);
  const rows = readCsv(file, await readInput(file, LARGEST_CSV_BYTES), IMPORT_COLUMNS);
  if (rows.length === 0) throw refuse('import.no-rows', file, {});
  const register = await openForEntry(workshop);
  try {
    const terms = currentTerms(workshop, edition);
    await register.checkTerms(editionId, terms);
    const { events, wrong, ...plan } = await planImport(register, rows, {
      file,
      labels: labelIndexOf(edition, editionId),
      by: request.by.trim(),
      parts: numberedParts(workshop, edition),
      now: await register.entryTime(),
      progress: progressOf(progress, 'rows'),
    });
    const result = { ...plan, ok: wrong.length === 0, rows: rows.length, events: events.length, wrong };
    if (request.dryRun) return result;
    if (wrong.length > 0) throw new Refusal(wrong.flatMap(({ problems }) => problems));
    if (events.length > 0) {
      await register.importEvents(events, { terms, progress: progressOf(progress, 'events') });
      await signAfter(workshop, register, notSigned);
    }
    return result;
  } finally {
    await register.close();
  }
}
