import { readFile } from 'node:fs/promises';
import { problem, Refusal, refuse } from '../problem.js';
import { type AuditReport, audit } from '../register/audit/audit.js';
import type { FindingKind } from '../register/audit/finding.js';
import { readVerifier, type Verifier } from '../register/log/note.js';
import { openRegister } from '../register/open.js';
import { diskProblem } from './disk.js';
import { registerDeps } from './issue.js';
import { readSeen, type Stocktake, stocktake } from './stocktake.js';
import { editionOf, registerPlace, type Workshop } from './workshop.js';

export interface AuditWish {
  readonly edition?: string;
  /** A list of labels seen on the shelves, as CSV. */
  readonly seen?: string;
  /** Files with checkpoints from elsewhere. */
  readonly checkpoints?: readonly string[];
  /** A file with the maker's public key. */
  readonly key?: string;
  /** Looks at the store itself too, however many events it has. */
  readonly store?: boolean;
  readonly progress?: (done: number, of: number) => void;
  readonly signal?: AbortSignal;
}

export interface Audited {
  readonly ok: boolean;
  readonly report: AuditReport;
  /** Absent also where the register is too far gone to say where a number stands. */
  readonly stock?: Stocktake;
}

const NOT_TO_BE_FOLDED: ReadonlySet<FindingKind> = new Set([
  'unreadable',
  'text-and-hash-differ',
  'not-an-event',
  'rule-broken',
  'label-clash',
]);

/** The store itself is looked at unasked where that takes seconds. */
const STORE_UP_TO = 50_000;

/** Audits the register of a workshop. Throws a Refusal (exit 2) for a wrong wish; findings are in the report. */
export async function auditRegister(workshop: Workshop, wish: AuditWish): Promise<Audited> {
  const edition = wish.edition === undefined ? undefined : editionOf(workshop, wish.edition);
  if (wish.seen !== undefined && !edition)
    throw refuse(2, '--seen', 'No edition is named.', 'Name the edition that was counted.');
  const verifier = wish.key === undefined ? undefined : await verifierIn(wish.key);
  const outside = await Promise.all(
    (wish.checkpoints ?? []).map(async (from) => ({ from, note: (await bytesOf(from)).toString('utf8') })),
  );
  const seen = wish.seen === undefined ? undefined : readSeen(wish.seen, await bytesOf(wish.seen));
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    const editions = workshop.documents.editions;
    const storeUpTo = wish.store ? Number.POSITIVE_INFINITY : STORE_UP_TO;
    const report = await audit(register, { ...wish, editions, outside, verifier, storeUpTo });
    const readable = !report.findings.some(({ kind }) => NOT_TO_BE_FOLDED.has(kind));
    const stock =
      seen && edition && readable
        ? stocktake(edition, await register.statuses(wish.edition!), seen)
        : undefined;
    return { ok: report.ok && (stock?.ok ?? true), report, stock };
  } finally {
    await register.close();
  }
}

async function verifierIn(file: string): Promise<Verifier> {
  const read = readVerifier((await bytesOf(file)).toString('utf8'));
  if (read.ok) return read.verifier;
  throw refuse(2, file, read.what, "Give the maker's public key as `burin key show` prints it.");
}

async function bytesOf(file: string): Promise<Buffer> {
  try {
    return await readFile(file);
  } catch (error) {
    const found = diskProblem(error, file);
    throw found ? new Refusal(2, [problem(file, found.what, found.cure)]) : error;
  }
}
