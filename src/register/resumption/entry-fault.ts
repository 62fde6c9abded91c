import type { Numbered } from '../../edition/labels.js';
import { type Problem, Refusal } from '../../problem.js';
import { CLOCKS_DIFFER_MS } from '../clock.js';
import {
  type EntryFault,
  fromLeaf,
  isOfNumber,
  isPassing,
  type NumberEvent,
  type RegisterEvent,
} from '../event.js';
import { applyEvent, numberMismatch, type PlacedEvent, replayLives } from '../lifecycle.js';
import { problem } from '../messages.js';
import type { RawEvent } from '../register.js';
import { agreementOf, type PastOfClosing } from '../statement/agreement.js';
import { checkExisting, checkName, checkOnTerms, type KnownName } from '../terms/hold.js';
import { refuse as refuseTerms } from '../terms/messages.js';
import { readableMembers } from './claims.js';
import { ownWitnessProblem } from './resumptions.js';

/** What a register had before a place in the sequence, without what is passed over. */
export interface PastOfEntry extends PastOfClosing {
  isClosed(edition: string): Promise<boolean>;
  historyOf(edition: string, label: string): Promise<readonly PlacedEvent[]>;
  /** The number as it was known, by its label or by itself. */
  known(edition: string, asked: Numbered): Promise<Numbered | undefined>;
  names(): Promise<readonly KnownName[]>;
  entryAt(seq: number): Promise<RawEvent | undefined>;
}

export interface FoundFault {
  readonly fault: Exclude<EntryFault, 'checkpoint'>;
  readonly reason: Problem;
}

/** What is wrong with an entry at its place, by a clock; undefined where nothing is. */
export async function entryFault(
  raw: RawEvent,
  past: (seq: number) => PastOfEntry,
  now: Date,
): Promise<FoundFault | undefined> {
  let event: RegisterEvent;
  try {
    event = fromLeaf(raw.seq, raw);
  } catch (error) {
    return { fault: 'text', reason: reasonOf(error) };
  }
  try {
    await checkRules(raw.seq, event, past);
  } catch (error) {
    return { fault: 'rule', reason: reasonOf(error) };
  }
  if (!isAhead(event.at, now)) return undefined;
  const values = { at: event.at, clock: now.toISOString() };
  return { fault: 'time', reason: problem('register.entry-ahead', `register event ${raw.seq}`, values) };
}

/** Whether a time is further ahead of a clock than clocks differ; one that is none is. */
export const isAhead = (at: string, now: Date): boolean =>
  !(Date.parse(at) <= now.getTime() + CLOCKS_DIFFER_MS);

function reasonOf(error: unknown): Problem {
  if (error instanceof Refusal) return error.problems[0]!;
  throw error;
}

async function checkRules(
  seq: number,
  event: RegisterEvent,
  past: (seq: number) => PastOfEntry,
): Promise<void> {
  const before = past(seq);
  await checkRequest(seq, event, before);
  if (event.type === 'resumed') {
    const ownWitness = ownWitnessProblem(event);
    if (ownWitness) throw new Refusal([ownWitness]);
    if (!(await isNeeded(seq, event, past)))
      throw new Refusal([problem('register.resumed-needlessly', `register event ${seq}`, {})]);
  } else if (event.type === 'closed') {
    const where = `edition ${event.edition}`;
    if (await before.isClosed(event.edition))
      throw new Refusal([problem('register.closed-before', where, {})]);
    const found = await agreementOf(event, seq, before);
    if (found.is === 'differs') throw new Refusal([problem('register.statement-differs', where, {})]);
    if (found.is === 'unknown')
      throw new Refusal([problem('register.statement-unknown', where, { because: found.because })]);
  } else if (isOfNumber(event)) await checkNumber(seq, event, before);
  else {
    const { type, edition, name, terms } = event;
    const where = `edition ${edition}`;
    const known = (await before.terms(edition)) !== undefined;
    if (known && type === 'opened') throw refuseTerms('terms.opened-before', where, {});
    if (!known && type === 'amended') throw refuseTerms('terms.not-opened', where, {});
    if (await before.isClosed(edition)) throw refuseTerms('terms.closed', where, {});
    checkName(edition, name, await before.names());
    checkExisting(
      edition,
      terms,
      (await before.ofEdition(edition)).map((one) => one.event),
    );
  }
}

/** The events of a request are together, counted from 1. */
async function checkRequest(seq: number, { key, nth = 1 }: RegisterEvent, past: PastOfEntry): Promise<void> {
  if (key === undefined || nth === 1) return;
  const last = readableMembers((await past.entryAt(seq - 1))?.body ?? '');
  if (last.key !== key || last.nth !== nth - 1)
    throw new Refusal([problem('register.request-order', `register event ${seq}`, { key, nth })]);
}

async function checkNumber(seq: number, event: NumberEvent, past: PastOfEntry): Promise<void> {
  const { edition, label } = event;
  const known = await past.known(edition, event);
  if (known && (known.series !== event.series || known.number !== event.number || known.label !== label))
    throw numberMismatch(known, event);
  const [life] = replayLives(await past.historyOf(edition, label));
  applyEvent(life, event, { editionClosed: await past.isClosed(edition), seq });
  const terms = await past.terms(edition);
  if (terms) checkOnTerms(edition, terms.terms, [event]);
}

/** Whether an entry was as bad as a `resumed` event says. */
export async function isNeeded(
  seq: number,
  { corrects, digest, fault, at }: Extract<RegisterEvent, { type: 'resumed' }>,
  past: (seq: number) => PastOfEntry,
): Promise<boolean> {
  // What a checkpoint was worth, only the log shows.
  if (corrects === undefined) return true;
  const named = corrects < seq ? await past(seq).entryAt(corrects) : undefined;
  if (named?.leaf.toString('hex') !== digest) return false;
  const found = await entryFault(named, past, new Date(at));
  if (!found || found.fault === fault) return found !== undefined;
  // An edition is open again only past a closing that can be read.
  return isPassing(found.fault) && isPassing(fault) && readableMembers(named.body).type !== 'closed';
}
