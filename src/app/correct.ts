import { labelIndexOf } from '../edition/label-index.js';
import type { Numbered } from '../edition/labels.js';
import { Refusal } from '../problem.js';
import { type CurrentStep, currentSteps } from '../register/current-events.js';
import { type NumberStatus, replay } from '../register/lifecycle.js';
import { refuse as refuseEvent } from '../register/messages.js';
import type { ManyRequest, StoredEvent } from '../register/register.js';
import { currentTerms } from './current-terms.js';
import { numberNamed } from './find-numbers.js';
import { refuse } from './messages.js';
import { editionOf, type OpenDocuments } from './open-documents.js';
import { openForEntry } from './open-for-entry.js';
import { occurrenceProblems } from './record.js';
import { signAfter, type TellProblem } from './sign-log.js';

/** What both kinds of correction take. */
interface CorrectionOrder {
  readonly edition: string;
  /** Its label or its ticket. */
  readonly label: string;
  readonly by: string;
  readonly why: string;
  /** A second person, where the piece has left the maker or what is taken back is final. */
  readonly witness?: string;
  /** Asking again with the same key enters it once. */
  readonly key?: string;
  /** Only says what it would come to. */
  readonly dryRun?: boolean;
}

export interface CorrectOrder extends CorrectionOrder {
  /** The buyer in truth. */
  readonly to?: string;
  /** The day in truth. */
  readonly day?: string;
  /** The place in the sequence of the event that was wrong; the last one that says it when left out. */
  readonly event?: number;
}

/** What an event says of the buyer and the day. */
export interface EventFacts {
  readonly to?: string;
  readonly on: string;
}

export interface Corrected {
  readonly ok: true;
  readonly edition: string;
  readonly number: NumberStatus;
  /** The place in the sequence of the event that was wrong, and its kind. */
  readonly corrects: number;
  readonly event: string;
  readonly before: EventFacts;
  readonly after: EventFacts;
}

/**
 * Enters that an event of a number says a wrong buyer or day; both stay to be seen. Throws a Refusal: exit 2 for a wrong
 * order, 3 where no such event stands, or a second person is needed.
 */
export async function correctEvent(
  workshop: OpenDocuments,
  order: CorrectOrder,
  notSigned: TellProblem = () => undefined,
): Promise<Corrected> {
  const { edition, to, day } = order;
  return withNumber(workshop, order, notSigned, async ({ numbered, history, enter }) => {
    const steps = currentSteps(history);
    const repeated = sameKey(history, order.key, 'corrected');
    const corrects =
      repeated ??
      order.event ??
      steps.findLast(({ event }) => to === undefined || event.type === 'delivered')?.seq;
    if (corrects === undefined)
      throw refuse('correct.nothing-stands', `label ${numbered.label}`, {
        ...{ edition, label: numbered.label, event: to === undefined ? 'corrected' : 'delivered' },
      });
    const request = {
      ...numbered,
      ...personOf(order),
      edition,
      event: 'corrected' as const,
      corrects,
      to,
      day,
    };
    const [number] = await enter([request]);
    const { event } = steps.find(({ seq }) => seq === corrects)!;
    const before = factsOf(event);
    const after = { ...before, ...(to !== undefined && { to }), ...(day !== undefined && { on: day }) };
    return { ok: true, edition, number: number!, corrects, event: event.type, before, after };
  });
}

export interface RetractOrder extends CorrectionOrder {
  /** What happened in its place: recorded in the same transaction. */
  readonly instead?: string;
  /** The label of the number that was meant: the same is recorded of it in the same transaction. */
  readonly meant?: string;
  /** For what happened in its place; as the event retracted says when left out. */
  readonly part?: string;
  readonly to?: string;
  readonly on?: string;
}

export interface Retracted {
  readonly ok: true;
  readonly edition: string;
  /** The number whose last event is taken back. */
  readonly number: NumberStatus;
  readonly before: NumberStatus;
  /** The place in the sequence of the event taken back, and its kind. */
  readonly retracts: number;
  readonly event: string;
  /** What was recorded in its place, and of which number. */
  readonly instead?: { readonly event: string; readonly number: NumberStatus };
}

/**
 * Takes back the last event of a number that stands, and records what happened in its place, all in one transaction.
 * Throws a Refusal: exit 2 for a wrong order, 3 where nothing can be taken back, or a second person is needed.
 */
export async function retractEvent(
  workshop: OpenDocuments,
  order: RetractOrder,
  notSigned: TellProblem = () => undefined,
): Promise<Retracted> {
  const { edition } = order;
  return withNumber(workshop, order, notSigned, async ({ numbered, history, enter, find }) => {
    const repeated = sameKey(history, order.key, 'retracted');
    const upTo = repeated === undefined ? history : history.filter(({ seq }) => seq <= repeated);
    const last = currentSteps(upTo).at(-1);
    if (!last)
      throw refuse('correct.nothing-stands', `label ${numbered.label}`, {
        ...{ edition, label: numbered.label, event: 'retracted' },
      });
    const retraction = {
      ...numbered,
      ...personOf(order),
      edition,
      event: 'retracted' as const,
      corrects: last.seq,
    };
    const meant = order.meant === undefined ? numbered : await find(order.meant);
    if (meant.label === numbered.label && order.meant !== undefined)
      throw refuse('correct.meant-itself', `label ${numbered.label}`, {});
    const inPlace =
      order.meant === undefined && order.instead === undefined ? undefined : inPlaceOf(last, order, meant);
    if (inPlace && meant.label === numbered.label && isSame(last, inPlace))
      throw refuseEvent('register.says-so-already', `label ${numbered.label}`, {
        ...{ event: last.seq, type: last.event.type },
      });
    const [retracted, recorded] = await enter(inPlace ? [retraction, inPlace] : [retraction]);
    return {
      ...{ ok: true, edition, retracts: last.seq, event: last.event.type },
      before: replay(upTo)[0]!,
      number: retracted!,
      ...(inPlace && { instead: { event: inPlace.event, number: recorded! } }),
    };
  });
}

/** What happened in place of a step: as the step says where the order says nothing else. */
function inPlaceOf({ event: wrong }: CurrentStep, order: RetractOrder, numbered: Numbered): ManyRequest {
  const event = order.instead ?? wrong.type;
  const same = event === wrong.type;
  const why = same ? wrong.why : order.why;
  const problems = occurrenceProblems({ event, why }, 'retract');
  if (problems.length > 0) throw new Refusal(problems);
  const { part, to, witness } = wrong as { part?: string; to?: string; witness?: string };
  return {
    ...{ ...numbered, edition: order.edition, event: event as ManyRequest['event'], by: order.by, why },
    on: order.on ?? wrong.on,
    part: order.part ?? (same ? part : undefined),
    to: order.to ?? (same ? to : undefined),
    witness: event === 'destroyed' ? (order.witness ?? witness) : undefined,
  };
}

/** Whether what is recorded in place of a step is that step once more. */
function isSame({ event }: CurrentStep, { event: type, part, to, on, witness }: ManyRequest): boolean {
  const own = event as { part?: string; to?: string; witness?: string };
  const day = event.on ?? event.at.slice(0, 10);
  const same = [part, to, witness].every((one, i) => one === [own.part, own.to, own.witness][i]);
  return event.type === type && same && (on === undefined || on === day);
}

const personOf = ({ by, why, witness }: CorrectionOrder) => ({ by, why, witness });

const factsOf = ({ at, on, ...event }: CurrentStep['event']): EventFacts => ({
  ...('to' in event && event.to !== undefined && { to: event.to }),
  on: on ?? at,
});

/** What an earlier request of the same key corrected. */
function sameKey(history: readonly StoredEvent[], key: string | undefined, type: string): number | undefined {
  if (key === undefined) return undefined;
  const same = history.find(({ event }) => event.type === type && event.key === key)?.event;
  return same && 'corrects' in same ? same.corrects : undefined;
}

interface OneNumber {
  readonly numbered: Numbered;
  readonly history: readonly StoredEvent[];
  /** Enters these in one transaction, or says what they would come to. */
  enter(requests: readonly ManyRequest[]): Promise<NumberStatus[]>;
  /** Another number of the edition. */
  find(label: string): Promise<Numbered>;
}

async function withNumber<T>(
  workshop: OpenDocuments,
  { edition: id, label, key, dryRun }: CorrectionOrder,
  notSigned: TellProblem,
  work: (number: OneNumber) => Promise<T>,
): Promise<T> {
  const edition = editionOf(workshop, id);
  const register = await openForEntry(workshop);
  try {
    const index = labelIndexOf(edition, id);
    const terms = currentTerms(workshop, edition);
    return await work({
      ...(await numberNamed(register, index, label)),
      find: async (other) => (await numberNamed(register, index, other)).numbered,
      enter: async (requests) => {
        if (dryRun) return register.checkAll(requests, { terms });
        const statuses = await register.recordAll(requests, { key, terms });
        await signAfter(workshop, register, notSigned);
        return statuses;
      },
    });
  } finally {
    await register.close();
  }
}
