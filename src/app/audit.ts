import { LARGEST_CSV_BYTES } from '../documents/csv/read-csv.js';
import type { Series } from '../documents/schema/edition.js';
import { audit } from '../register/audit/audit.js';
import type { AuditOrder, AuditReport } from '../register/audit/report.js';
import { openRegister } from '../register/open.js';
import type { Register } from '../register/register.js';
import { readSeenLabels, type Stocktake, stocktake } from '../register/stocktake/stocktake.js';
import type { NamedTerms } from '../register/terms/schema.js';
import { seriesByTerms } from '../register/terms/terms.js';
import { currentTerms } from './current-terms.js';
import { readIfThere, readInput } from './input-file.js';
import { checkEditionKnown, type KeptRegister } from './kept-register.js';
import { refuse } from './messages.js';
import { sha256 } from './output-list.js';
import { noProgress, type Progress, progressOf } from './progress.js';
import { readKeyFile } from './public-keys.js';
import { registerDeps } from './register-deps.js';
import { missingProblem } from './register-memory.js';
import { statementFile } from './statement-file.js';
import { witnessesIn } from './witnesses.js';

export interface AuditRequest {
  readonly edition?: string;
  /** A list of labels seen on the shelves, as CSV. */
  readonly seen?: string;
  /** Files with checkpoints from elsewhere. */
  readonly checkpoints?: readonly string[];
  /** A file with the maker's public key, or the history of the maker's keys. */
  readonly key?: string;
  /** Files with the public keys of witnesses. */
  readonly witnesses?: readonly string[];
  readonly progress?: Progress;
  readonly signal?: AbortSignal;
}

export interface AuditResult {
  readonly ok: boolean;
  readonly report: AuditReport;
  /** Absent also where the register is too damaged to say which state a number is in. */
  readonly stock?: Stocktake;
}

/** Bytes of a checkpoint: far more than any needs. */
const LONGEST_NOTE = 65_536;

/** Audits a register, against the documents of its workshop where they can be read. Throws a Refusal (exit 2) for a wrong request; findings are in the report. */
export async function auditRegister(kept: KeptRegister, request: AuditRequest): Promise<AuditResult> {
  if (request.seen !== undefined && request.edition === undefined)
    throw refuse('audit.edition-not-named', '--seen', {});
  const keys = request.key === undefined ? undefined : await readKeyFile(request.key);
  const witnesses = request.witnesses && (await witnessesIn(request.witnesses));
  const outside = await Promise.all(
    (request.checkpoints ?? []).map(async (from) => ({
      from,
      note: (await readInput(from, LONGEST_NOTE)).toString('utf8'),
    })),
  );
  const seen =
    request.seen === undefined
      ? undefined
      : readSeenLabels(request.seen, await readInput(request.seen, LARGEST_CSV_BYTES));
  const register = await openRegister(kept.place, registerDeps, 'read whole');
  try {
    if (request.edition !== undefined) await checkEditionKnown(kept, register, request.edition);
    const series = seen && (await seriesFor(kept, register, request.edition!));
    const report = await audit(register, {
      ...{ edition: request.edition, signal: request.signal, outside, keys, witnesses },
      ...documentsOf(kept),
      missing: await missingProblem(kept.workshop, register),
      statements: await statementsIn(kept),
      now: registerDeps.now(),
      progress: progressOf(request.progress ?? noProgress, 'events'),
    });
    const stock =
      seen && series && report.replayable
        ? stocktake({ series }, request.edition!, await register.statuses(request.edition!), seen)
        : undefined;
    return { ok: report.ok && (stock?.ok ?? true), report, stock };
  } finally {
    await register.close();
  }
}

/** Hashes of the statements of edition that are in their places. */
async function statementsIn({ workshop }: KeptRegister): Promise<Set<string>> {
  const hashes = new Set<string>();
  for (const id of workshop?.documents.editions.keys() ?? []) {
    const bytes = await readIfThere(statementFile(workshop!.dir, id)).catch(() => undefined);
    if (bytes) hashes.add(sha256(bytes));
  }
  return hashes;
}

/** What the events are compared with; nothing where no document can be read. */
function documentsOf({
  workshop,
  documentFaults,
  documentsAbsent,
}: KeptRegister): Pick<AuditOrder, 'editions' | 'terms' | 'documentFaults' | 'documentsAbsent'> {
  if (!workshop) return { documentFaults, documentsAbsent };
  const { editions } = workshop.documents;
  const terms = new Map<string, NamedTerms>(
    [...editions].map(([id, one]) => [id, currentTerms(workshop, one)]),
  );
  return { editions, terms };
}

/** The series of an edition as its document has it; without one, as the register has it. */
async function seriesFor({ workshop }: KeptRegister, register: Register, id: string): Promise<Series[]> {
  const document = workshop?.documents.editions.get(id);
  if (document) return document.series;
  const recorded = await register.terms(id);
  if (recorded) return seriesByTerms(recorded.terms);
  throw refuse('audit.edition-without-series', `edition ${id}`, {});
}
