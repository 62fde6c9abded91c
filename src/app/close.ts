import { createHash } from 'node:crypto';
import { rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { customRemarks } from '../edition/customs.js';
import { type Problem, Refusal } from '../problem.js';
import { readKey } from '../register/log/keys.js';
import { MerkleAccumulator } from '../register/log/merkle-accumulator.js';
import type { Register, StoredEvent } from '../register/register.js';
import { amendmentsOf, type Statement, statementOf, statementText } from '../register/statement/statement.js';
import { currentTerms } from './current-terms.js';
import { toUserLine } from './describe-problem.js';
import { problem, refuse } from './messages.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { noProgress, type Progress } from './progress.js';
import { registerDeps } from './register-deps.js';
import { logOrigin, signAfter, signLog, type TellProblem } from './sign-log.js';
import { writeWhole } from './whole-file.js';

/** How often a statement is made anew while others enter. */
const MOST_ATTEMPTS = 20;

export interface CloseOrder {
  readonly edition: string;
  readonly by: string;
  readonly why?: string;
  /** Where the statement goes, without ending; `.txt` and `.json` are added. */
  readonly out?: string;
}

export interface Closed {
  readonly ok: true;
  readonly edition: string;
  readonly statement: Statement;
  /** SHA-256 of the JSON file, as in the `closed` event. */
  readonly sha256: string;
  readonly text: string;
  readonly json: string;
  /** What a person should know; the edition is closed all the same. */
  readonly remarks: readonly Problem[];
}

/**
 * Closes an edition: writes its statement, then enters the statement's hash in the register, after which nothing is
 * issued. Throws a Refusal: exit 2 when nothing was issued or the files cannot be written, 3 when it is closed already.
 */
export async function closeEdition(
  workshop: OpenDocuments,
  order: CloseOrder,
  notSigned: TellProblem = () => undefined,
  progress: Progress = noProgress,
): Promise<Closed> {
  const { edition: id, by, why } = order;
  const edition = editionOf(workshop, id);
  const base =
    order.out?.replace(/\.(txt|json)$/, '') ?? join(workshop.dir, 'out', id, 'statement-of-edition');
  const [text, json] = [`${base}.txt`, `${base}.json`];
  const register = await openForEntry(workshop);
  const closeOnce = async (): Promise<Closed> => {
    // Counted first: what comes after is known to be missing from the statement.
    const asOf = await register.size();
    if (await register.isClosed(id)) throw refuse('close.closed-before', `edition ${id}`, {});
    const terms = currentTerms(workshop, edition);
    await register.checkTerms(id, terms);
    const statuses = await register.statuses(id);
    if (!statuses.some(({ pieces }) => pieces > 0)) throw refuse('close.nothing-issued', `edition ${id}`, {});
    await assertNew(text, json);
    const recorded = await register.terms(id);
    const log = await logOf(workshop, register, progress);
    const statement = statementOf({
      ...{ id, edition, statuses, by, log, checkpoint: log.checkpoint },
      at: registerDeps.now().toISOString(),
      document: workshop.digests.get(`edition/${id}`)!,
      maker: workshop.documents.workshop.name,
      remarks: customRemarks(edition).map(toUserLine),
      ...(recorded && { amendments: amendmentsOf(recorded) }),
      voidEvents: await voidEventsOf(
        register,
        id,
        statuses.filter(({ state }) => state === 'void').map(({ label }) => label),
      ),
    });
    const whole = JSON.stringify(statement, null, 2);
    const sha256 = createHash('sha256').update(`${whole}\n`, 'utf8').digest('hex');
    // On the disk before the register records it; removed again when the register refuses.
    await writeWhole(json, [whole], { replaces: () => false });
    try {
      await writeWhole(text, statementText(statement, sha256), { replaces: () => false });
      await register.closeEdition({ edition: id, statement: sha256, by, why, terms, asOf });
    } catch (error) {
      await Promise.all([text, json].map((file) => rm(file, { force: true })));
      throw error;
    }
    const remarks = [...log.remarks, ...(await enteredMeanwhile(register, log.size))];
    if (log.checkpoint !== undefined) await signAfter(workshop, register, notSigned);
    return { ok: true, edition: id, statement, sha256, text, json, remarks };
  };
  try {
    for (let attempt = 1; ; attempt++) {
      try {
        return await closeOnce();
      } catch (error) {
        if (attempt === MOST_ATTEMPTS || !isMovedOn(error)) throw error;
      }
    }
  } finally {
    await register.close();
  }
}

/** An entry of another bench came between the counting and the closing: the statement is made again. */
const isMovedOn = (error: unknown): boolean =>
  error instanceof Refusal && error.problems[0]?.code === 'register.edition-moved-on';

async function assertNew(...files: readonly string[]): Promise<void> {
  for (const file of files)
    if (await stat(file).catch(() => undefined)) throw refuse('close.file-exists', file, {});
}

interface Log {
  readonly size: number;
  readonly root: Buffer;
  readonly checkpoint?: string;
  readonly remarks: readonly Problem[];
}

/** The log as it is now, signed where this machine has the key. */
async function logOf(workshop: OpenDocuments, register: Register, progress: Progress): Promise<Log> {
  const origin = logOrigin(workshop, (await register.checkpoints()).at(-1));
  if (await readKey(workshop.environment.keysFolder, origin)) {
    const { size, root, note } = await signLog(workshop, register, progress);
    return { size, root, checkpoint: note, remarks: [] };
  }
  const log = new MerkleAccumulator();
  const of = await register.size();
  for await (const { leaf } of register.events()) {
    log.add(leaf);
    progress('events', log.size, of);
  }
  return {
    ...{ size: log.size, root: log.root() },
    remarks: [problem('close.unsigned', `log ${origin}`, {})],
  };
}

async function voidEventsOf(
  register: Register,
  edition: string,
  labels: readonly string[],
): Promise<Map<string, StoredEvent>> {
  const events = new Map<string, StoredEvent>();
  for (const label of labels) {
    const last = (await register.history(edition, label)).at(-1);
    if (last) events.set(label, last);
  }
  return events;
}

/** Others may have entered something while the statement was written. */
async function enteredMeanwhile(register: Register, size: number): Promise<Problem[]> {
  const more = (await register.size()) - size - 1;
  if (more <= 0) return [];
  return [problem('close.entered-meanwhile', 'statement', { more, size })];
}
