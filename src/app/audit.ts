import { LARGEST_CSV_BYTES } from '../documents/csv/read.js';
import { Refusal } from '../problem.js';
import { audit } from '../register/audit/audit.js';
import type { AuditReport } from '../register/audit/report.js';
import { readVerifier, type Verifier } from '../register/log/note.js';
import { openRegister } from '../register/open.js';
import { readSeenLabels, type Stocktake, stocktake } from '../register/stocktake/stocktake.js';
import { currentTerms } from './current-terms.js';
import { readInput } from './input-file.js';
import { refuse } from './messages.js';
import { editionOf, type OpenDocuments, registerPlace } from './open-documents.js';
import { noProgress, type Progress, progressOf } from './progress.js';
import { registerDeps } from './register-deps.js';

export interface AuditRequest {
  readonly edition?: string;
  /** A list of labels seen on the shelves, as CSV. */
  readonly seen?: string;
  /** Files with checkpoints from elsewhere. */
  readonly checkpoints?: readonly string[];
  /** A file with the maker's public key. */
  readonly key?: string;
  /** Checks the store itself too, however many events it has. */
  readonly store?: boolean;
  readonly progress?: Progress;
  readonly signal?: AbortSignal;
}

export interface AuditResult {
  readonly ok: boolean;
  readonly report: AuditReport;
  /** Absent also where the register is too damaged to say which state a number is in. */
  readonly stock?: Stocktake;
}

/** Bytes of a checkpoint or a public key: far more than any needs. */
const LONGEST_NOTE = 65_536;

/** Up to this many events the store itself is checked without `--store`: that takes seconds. */
const STORE_UP_TO = 50_000;

/** Audits the register of a workshop. Throws a Refusal (exit 2) for a wrong request; findings are in the report. */
export async function auditRegister(workshop: OpenDocuments, request: AuditRequest): Promise<AuditResult> {
  const edition = request.edition === undefined ? undefined : editionOf(workshop, request.edition);
  if (request.seen !== undefined && !edition) throw refuse('audit.edition-not-named', '--seen', {});
  const verifier = request.key === undefined ? undefined : await verifierIn(request.key);
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
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    const { editions } = workshop.documents;
    const storeUpTo = request.store ? Number.POSITIVE_INFINITY : STORE_UP_TO;
    const report = await audit(register, {
      ...{ edition: request.edition, signal: request.signal, editions, outside, verifier, storeUpTo },
      progress: progressOf(request.progress ?? noProgress, 'events'),
      terms: new Map([...editions].map(([id, one]) => [id, currentTerms(workshop, one)])),
    });
    const stock =
      seen && edition && report.replayable
        ? stocktake(edition, request.edition!, await register.statuses(request.edition!), seen)
        : undefined;
    return { ok: report.ok && (stock?.ok ?? true), report, stock };
  } finally {
    await register.close();
  }
}

async function verifierIn(file: string): Promise<Verifier> {
  const read = readVerifier((await readInput(file, LONGEST_NOTE)).toString('utf8'));
  if (read.ok) return read.verifier;
  throw new Refusal([{ ...read.problem, where: file }]);
}
