import { readdir, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { customRemarks } from '../edition/customs.js';
import { plannedNumbers } from '../edition/labels.js';
import { listLabels } from '../edition/list-labels.js';
import { type Problem, Refusal } from '../problem.js';
import { currentSteps } from '../register/current-events.js';
import type { NumberStatus } from '../register/lifecycle.js';
import { readKey } from '../register/log/keys.js';
import { MerkleAccumulator } from '../register/log/merkle-accumulator.js';
import { readNote, signatureLine } from '../register/log/note.js';
import { refuse as refuseRegister } from '../register/messages.js';
import { aheadProblem } from '../register/occurrence.js';
import { openRegister } from '../register/open.js';
import type { FoundClosing, Register } from '../register/register.js';
import type { Resumptions } from '../register/resumption/resumptions.js';
import { editionAtClosing } from '../register/statement/edition-at-closing.js';
import { openNumbers } from '../register/statement/open-numbers.js';
import {
  type Statement,
  statementDigest,
  statementJson,
  statementOf,
  statementText,
} from '../register/statement/statement.js';
import { currentTerms } from './current-terms.js';
import { toUserLine } from './describe-problem.js';
import { diskProblem, isThere } from './disk.js';
import { readIfThere } from './input-file.js';
import { checkEditionKnown, type KeptRegister } from './kept-register.js';
import { problem, refuse } from './messages.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { sha256 as sha256Of } from './output-list.js';
import { isRunning } from './output-lock.js';
import { noProgress, type Progress } from './progress.js';
import { depsIn } from './register-deps.js';
import { logOrigin, signAfter, signLog, type TellProblem } from './sign-log.js';
import { statementFile } from './statement-file.js';
import { nameNew, writeWhole } from './whole-file.js';

/** So many are named: after them the rest says nothing new. */
const MOST_PROBLEMS = 20;
/** How often a statement is made anew while others enter. */
const MOST_ATTEMPTS = 20;

export interface CloseOrder {
  readonly edition: string;
  readonly by: string;
  readonly why?: string;
  /** Where the statement goes, without ending; `.txt` and `.json` are added. */
  readonly out?: string;
  /** Closes it although numbers are still open. */
  readonly leaveOpen?: boolean;
}

/** What stands in the way of a closing, or would be final with it. */
export interface ClosingCheck {
  /** Whether it could be closed as asked. */
  readonly ok: boolean;
  readonly edition: string;
  /** Numbers still open, a problem for each state. */
  readonly open: readonly Problem[];
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
  const [text, json] = filesOf(workshop, order);
  const register = await openForEntry(workshop);
  const closeOnce = async (): Promise<Closed> => {
    const cutShort = await finishClosing(register, order, [text, json]);
    if (cutShort) return cutShort;
    // Counted first: what comes after is known to be missing from the statement.
    const asOf = await register.size();
    const { terms, open } = await closable(workshop, register, order);
    if (open.length > 0 && !order.leaveOpen) throw new Refusal(open);
    const log = await logOf(workshop, register, progress);
    const stated = {
      // Not before what it states, where the clock is a little behind.
      at: (await register.entryTime()).toISOString(),
      document: workshop.digests.get(`edition/${id}`)!,
      maker: workshop.documents.workshop.name,
      remarks: [...customRemarks(edition), ...passedOver(await register.resumptions(), id)].map(toUserLine),
      ...{ size: log.size, root: log.root.toString('hex') },
      ...(log.checkpoint !== undefined && { signature: signatureOf(log.checkpoint) }),
    };
    // Where the register has no terms yet, those of today go in with the closing.
    const recorded = (await register.terms(id)) ?? { ...terms, events: [] };
    const was = editionAtClosing(await register.editionHistory(id), recorded);
    const statement = statementOf({ edition: id, by, stated }, was);
    const sha256 = statementDigest(statement);
    // On the disk before the register records it, and under its name only after: a statement of an edition that is not
    // closed would be false. Removed again when the register refuses.
    const staged = stagedName(json, sha256);
    try {
      await writeWhole(staged, [statementJson(statement).slice(0, -1)], {
        replaces: () => false,
        isPrivate: true,
      });
      await register.closeEdition({ edition: id, statement: sha256, stated, by, why, terms, asOf });
    } catch (error) {
      await rm(staged, { force: true });
      throw error;
    }
    try {
      await placeStatement(statement, sha256, [text, json]);
    } catch (error) {
      const disk = diskProblem(error, json);
      const found = error instanceof Refusal ? error.problems : disk && [disk];
      if (!found) throw error;
      throw new Refusal([...found, problem('close.not-placed', `edition ${id}`, {})]);
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

/** Under this name a statement waits for the register to record it. */
const stagedName = (file: string, sha256: string): string => `${file}.${sha256.slice(0, 16)}.unfinished`;

/** Whether a page is of this edition of this maker: its first lines name both. */
const isPageOf =
  ([edition, maker]: readonly string[]) =>
  (head: string): boolean =>
    Buffer.from(head, 'latin1').toString('utf8').startsWith(`${edition}\n${maker}\n`);

/** Gives the statement that the register has recorded its name. Another process may be doing the same. */
async function placeStatement(
  statement: Statement,
  sha256: string,
  [text, json]: readonly [text: string, json: string],
): Promise<void> {
  try {
    await nameNew(json, stagedName(json, sha256), json);
  } catch (error) {
    const whole = await readIfThere(json);
    if (!whole || sha256Of(whole) !== sha256) throw error;
  }
  const page = statementText(statement, sha256);
  await writeWhole(text, page, { replaces: isPageOf(page), isPrivate: true });
  await clearStaged([text, json]);
}

/**
 * Removes what closings that were cut short left: once an edition is closed, no other statement of it can be entered. What a
 * running process is writing is left to it.
 */
async function clearStaged([text, json]: readonly [text: string, json: string]): Promise<void> {
  const folder = dirname(json);
  for (const name of await readdir(folder)) {
    const [, staged] = /^(.*)\.[0-9a-f]{16}\.unfinished$/.exec(name) ?? [];
    const [, partial, pid] = /^(.*?)(?:\.[0-9a-f]{16}\.unfinished)?\.(\d+)\.partial$/.exec(name) ?? [];
    const isLeft = partial === basename(json) || partial === basename(text);
    if (staged === basename(json) || (isLeft && !isRunning(Number(pid))))
      await rm(join(folder, name), { force: true });
  }
}

/**
 * Puts the statement of a closed edition in its place, where the closing was cut short after the register had recorded it.
 * Undefined where the edition is open, or nothing is left to be done here.
 */
async function finishClosing(
  register: Register,
  { edition }: CloseOrder,
  [text, json]: readonly [text: string, json: string],
): Promise<Closed | undefined> {
  if (!(await register.isClosed(edition))) return undefined;
  const closing = await register.closing(edition);
  if (!closing) return undefined;
  const sha256 = closing.event.statement;
  const staged = stagedName(json, sha256);
  const wasStaged = await isThere(staged);
  if (!wasStaged && (await isThere(text))) return undefined;
  const whole = await readIfThere(wasStaged ? staged : json);
  if (!whole || sha256Of(whole) !== sha256) return undefined;
  const statement = JSON.parse(whole.toString('utf8')) as Statement;
  await placeStatement(statement, sha256, [text, json]);
  const remarks = [
    problem('close.finished', `edition ${edition}`, { on: statement.at.slice(0, 10), by: statement.by }),
  ];
  return { ok: true, edition, statement, sha256, text, json, remarks };
}

export type RewriteOrder = Pick<CloseOrder, 'edition' | 'out'>;

/**
 * Writes the statement of a closed edition again from the register: the same bytes, whose hash the closing has. Throws a
 * Refusal: exit 2 where the edition is not closed, 3 where the register does not have it, or another file is in its place.
 */
export async function rewriteStatement(
  kept: KeptRegister,
  dir: string,
  order: RewriteOrder,
): Promise<Omit<Closed, 'remarks'>> {
  const { edition } = order;
  await assertOutIsNoFile(order);
  const [text, json] = filesOf({ dir }, order);
  const register = await openRegister(kept.place, depsIn(kept), 'read');
  try {
    await checkEditionKnown(kept, register, edition);
    const closing = await register.closing(edition);
    if (!closing) throw refuse('close.not-closed', `edition ${edition}`, {});
    const sha256 = closing.event.statement;
    const there = await readIfThere(json);
    const isOurs = there !== undefined && sha256Of(there) === sha256;
    const statement = isOurs ? (JSON.parse(there.toString('utf8')) as Statement) : statementIn(closing);
    if (!isOurs)
      await writeWhole(json, [statementJson(statement).slice(0, -1)], {
        replaces: () => false,
        isPrivate: true,
      });
    const page = statementText(statement, sha256);
    await writeWhole(text, page, { replaces: isPageOf(page), isPrivate: true });
    return { ok: true, edition, statement, sha256, text, json };
  } finally {
    await register.close();
  }
}

function statementIn({ seq, event, agreement }: FoundClosing): Statement {
  const where = `register event ${seq}`;
  if (agreement.is === 'agrees') return agreement.statement;
  if (agreement.is === 'differs') throw refuseRegister('register.statement-differs', where, {});
  throw agreement.is === 'unknown'
    ? refuseRegister('register.statement-unknown', where, { because: agreement.because })
    : refuse('close.history-unreadable', where, { edition: event.edition });
}

/** Nobody closes an edition without a name. */
export const personMissing = (edition: string): Refusal => refuse('close.not-by', `edition ${edition}`, {});

/** What a closing would find. Throws a Refusal where it cannot be closed at all; enters and writes nothing. */
export async function checkClosing(workshop: OpenDocuments, order: CloseOrder): Promise<ClosingCheck> {
  const register = await openForEntry(workshop);
  try {
    const { open } = await closable(workshop, register, order);
    return { ok: order.leaveOpen === true || open.length === 0, edition: order.edition, open };
  } finally {
    await register.close();
  }
}

function filesOf(
  workshop: Pick<OpenDocuments, 'dir'>,
  { edition, out }: RewriteOrder,
): readonly [text: string, json: string] {
  const base = (out ?? statementFile(workshop.dir, edition)).replace(/\.(txt|json)$/, '');
  return [`${base}.txt`, `${base}.json`];
}

async function closable(workshop: OpenDocuments, register: Register, order: CloseOrder) {
  const { edition: id } = order;
  const edition = editionOf(workshop, id);
  const where = `edition ${id}`;
  if (await register.isClosed(id)) throw refuse('close.closed-before', where, {});
  const terms = currentTerms(workshop, edition);
  await register.checkTerms(id, terms);
  const statuses = await register.statuses(id);
  if (!statuses.some(({ pieces }) => pieces > 0)) throw refuse('close.nothing-issued', where, {});
  try {
    await assertOutIsNoFile(order);
    await assertNew(...filesOf(workshop, order));
  } catch (error) {
    // Another process may have closed it since it was asked: then the files are its statement.
    if (await register.isClosed(id)) throw refuse('close.closed-before', where, {});
    throw error;
  }
  const open = openNumbers(plannedNumbers(edition), statuses).map(({ state, labels }) =>
    problem('close.still-open', where, { state, labels: listLabels(labels), n: labels.length }),
  );
  await checkDays(register, id, statuses, (await register.entryTime()).toISOString());
  return { terms, open };
}

/** Throws a Refusal (exit 3) where a number came to where it is on a day that is still to come: its clock was wrong. */
async function checkDays(
  register: Register,
  id: string,
  statuses: readonly NumberStatus[],
  now: string,
): Promise<void> {
  const problems: Problem[] = [];
  for (const { since, label } of statuses) {
    if (since <= now || problems.length === MOST_PROBLEMS) continue;
    const found = aheadProblem(currentSteps(await register.history(id, label)), now);
    if (found) problems.push(found);
  }
  if (problems.length > 0) throw new Refusal(problems);
}

/** Entries of the edition that are passed over: its statement counts without them. */
const passedOver = ({ all }: Resumptions, id: string): Problem[] =>
  all.flatMap(({ seq, event: { edition, corrects, fault, by, witness, why } }) =>
    edition === id && corrects !== undefined
      ? [problem('close.passed-over', `event ${corrects}`, { fault, seq, by, witness, why })]
      : [],
  );

/** An entry of another bench came between the counting and the closing: the statement is made again. */
const isMovedOn = (error: unknown): boolean =>
  error instanceof Refusal && error.problems[0]?.code === 'register.edition-moved-on';

/** A name that is a file by itself, such as the register, is none for a page and a file beside it. */
async function assertOutIsNoFile({ out }: Pick<CloseOrder, 'out'>): Promise<void> {
  if (out !== undefined && !/\.(txt|json)$/.test(out) && (await isThere(out)))
    throw refuse('close.out-is-there', out, {});
}

async function assertNew(...files: readonly string[]): Promise<void> {
  for (const file of files) if (await isThere(file)) throw refuse('close.file-exists', file, {});
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

/** The line under a checkpoint that this log signed. */
function signatureOf(checkpoint: string): string {
  const read = readNote(checkpoint);
  const own = read.ok
    ? read.note.signatures.find(({ name }) => checkpoint.startsWith(`${name}\n`))
    : undefined;
  if (!own) throw new TypeError('a checkpoint has a signature of its own log');
  return signatureLine(own).slice(0, -1);
}

/** Others may have entered something while the statement was written. */
async function enteredMeanwhile(register: Register, size: number): Promise<Problem[]> {
  const more = (await register.size()) - size - 1;
  if (more <= 0) return [];
  return [problem('close.entered-meanwhile', 'statement', { more, size })];
}
