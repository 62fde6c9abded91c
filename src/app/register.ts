import { labelIndexOf } from '../edition/label-index.js';
import { type Numbered, plannedNumbers } from '../edition/labels.js';
import { foldName } from '../edition/look-alike.js';
import { ticketOf, ticketWriter } from '../edition/ticket.js';
import { isOfNumber, type NumberEvent } from '../register/event.js';
import {
  type NumberStatus,
  type PartStatus,
  Replay,
  replay,
  STATES,
  type State,
} from '../register/lifecycle.js';
import { annotate, type Buyer, buyersOf, eventSearch, type FoundIn } from '../register/number-events.js';
import { openRegister } from '../register/open.js';
import type { Register, VerifiedEvent } from '../register/register.js';
import { numberNamed } from './find-numbers.js';
import { refuse } from './messages.js';
import { editionOf, type OpenDocuments, registerPlace } from './open-documents.js';
import { depsIn } from './register-deps.js';
import { missingProblem } from './register-memory.js';

export interface NumberState extends Numbered {
  /** The number as written on the tray beside its piece. */
  readonly ticket: string;
  readonly state: State;
  /** Absent where nothing is recorded about the number. */
  readonly since?: string;
  readonly pieces: number;
  readonly parts: readonly PartStatus[];
  readonly withheldFrom?: State;
  readonly missingFrom?: State;
}

/** Which numbers of an edition are listed: those for which everything given holds. */
export interface NumberFilter {
  readonly state?: string;
  /** A buyer, in any spelling. */
  readonly to?: string;
  /** A text in labels, people and reasons. */
  readonly search?: string;
}

export interface ListedNumber extends NumberState {
  /** Where a buyer was asked for: as what the number names them. */
  readonly buyers?: readonly Buyer[];
  /** Where a text was asked for: what it was found in; nothing where it was found in the label of a planned number. */
  readonly found?: readonly FoundIn[];
}

/**
 * The numbers of an edition in the edition's order, planned ones included; then those that only the register knows: a
 * changed document does not take a number back. All is read before the first is given.
 */
export async function registerOf(
  workshop: OpenDocuments,
  editionId: string,
  filter: NumberFilter = {},
): Promise<Iterable<ListedNumber>> {
  const edition = editionOf(workshop, editionId);
  const { state, to, search } = filter;
  if (state !== undefined && !STATES.some((one) => one === state))
    throw refuse('register.state-unknown', '--state', { state: state.slice(0, 60), known: STATES });
  const planned = plannedNumbers(edition);
  return onRegister(workshop, async (register) => {
    if (to === undefined && search === undefined)
      return listed(editionId, inOrder(planned, await register.statuses(editionId), state));
    const { statuses, buyers, found } = await matches(register, editionId, filter);
    const inLabel = search === undefined ? undefined : foldName(search);
    return [...inOrder(planned, statuses, state)]
      .filter(({ label }) => to === undefined || buyers.has(label))
      .filter(({ label }) => inLabel === undefined || found.has(label) || foldName(label).includes(inLabel))
      .map((status) => ({
        ...status,
        ticket: ticketOf(editionId, status.series, status.number),
        ...(to !== undefined && { buyers: buyers.get(status.label)! }),
        ...(search !== undefined && { found: found.get(status.label) ?? [] }),
      }));
  });
}

type Status = Omit<NumberState, 'ticket'>;

function* inOrder(
  planned: readonly Numbered[],
  statuses: readonly NumberStatus[],
  state: string | undefined,
): Generator<Status> {
  const known = new Map(statuses.map((status) => [status.label, status]));
  const isListed = (one: Status) => state === undefined || one.state === state;
  let met = 0;
  for (const numbered of planned) {
    const status = known.get(numbered.label);
    if (status) met++;
    const one = status ?? plannedOnly(numbered);
    if (isListed(one)) yield one;
  }
  if (met === statuses.length) return;
  const labels = new Set(planned.map(({ label }) => label));
  for (const status of statuses) if (!labels.has(status.label) && isListed(status)) yield status;
}

/** The same with their tickets. */
function* listed(edition: string, statuses: Iterable<Status>): Generator<NumberState> {
  const tickets = new Map<string, (number: number) => string>();
  for (const status of statuses) {
    const { series, number } = status;
    let ticketOfNumber = tickets.get(series);
    if (!ticketOfNumber) {
      ticketOfNumber = ticketWriter(edition, series);
      tickets.set(series, ticketOfNumber);
    }
    yield withTicket(status, ticketOfNumber(number));
  }
}

/** A copy that gets one more member costs several times as much as one that is written out. */
function withTicket(status: Status, ticket: string): NumberState {
  const { series, number, label, parts, since, state, pieces, withheldFrom, missingFrom } = status;
  if (since === undefined || parts.length === 0 || withheldFrom || missingFrom) return { ...status, ticket };
  return { series, number, label, parts, since, state, pieces, ticket };
}

/** What of a register matches, by label, and how the numbers stand that anything was found for. */
async function matches(register: Register, edition: string, { to, search }: NumberFilter) {
  const find = search === undefined ? undefined : eventSearch(search);
  const isPerson = to === undefined ? undefined : personSearch(to);
  const found = new Map<string, FoundIn[]>();
  const named = new Set<string>();
  // Few events are of a number that anything is found for, so that of the others only their places are held.
  const places: number[] = [];
  const labels: (string | undefined)[] = [];
  for await (const some of register.editionEvents(edition))
    for (const stored of some) {
      const { seq, event } = stored;
      places.push(seq);
      if (!isOfNumber(event)) {
        labels.push(undefined);
        continue;
      }
      const { label } = event;
      labels.push(label);
      const hits = find?.(stored) ?? [];
      if (hits.length > 0) found.set(label, [...(found.get(label) ?? []), ...hits]);
      if ('to' in event && event.to !== undefined && isPerson?.(event.to)) named.add(label);
    }
  const isCandidate = (label: string | undefined) =>
    label === undefined || found.has(label) || named.has(label);
  const replayed = new Replay();
  const ofNamed = new Map<string, VerifiedEvent[]>();
  for await (const some of register.eventsAt(places.filter((_, i) => isCandidate(labels[i]))))
    for (const stored of some) {
      replayed.add(stored);
      const { event } = stored;
      if (!isOfNumber(event) || !named.has(event.label)) continue;
      const own = ofNamed.get(event.label);
      if (own) own.push(stored);
      else ofNamed.set(event.label, [stored]);
    }
  const buyers = new Map(
    Array.from(ofNamed, ([label, own]) => [label, buyersOf(own).filter(({ to }) => isPerson?.(to))]),
  );
  return { statuses: replayed.statuses(), buyers, found };
}

/** Whether a name is that of a person, in any spelling. Few names stand in many events. */
function personSearch(person: string): (name: string) => boolean {
  const wanted = foldName(person);
  const known = new Map<string, boolean>();
  return (name) => {
    const is = known.get(name) ?? foldName(name) === wanted;
    known.set(name, is);
    return is;
  };
}

/** An event of a number as a person reads it. */
export type ListedEvent = Omit<NumberEvent, 'salt'> & {
  readonly seq: number;
  readonly correctedBy: readonly number[];
  readonly retractedBy?: number;
};

export interface NumberLife {
  readonly number: NumberState;
  readonly events: readonly ListedEvent[];
}

/** The life of one number: each event with its place in the sequence, and with what corrected or retracted it. */
export async function lifeOf(workshop: OpenDocuments, editionId: string, text: string): Promise<NumberLife> {
  const index = labelIndexOf(editionOf(workshop, editionId), editionId);
  return onRegister(workshop, async (register) => {
    const { numbered, history } = await numberNamed(register, index, text);
    const { series, number } = numbered;
    const events = annotate(history).map(({ seq, event, correctedBy, retractedBy }): ListedEvent => {
      const { salt, ...members } = event as NumberEvent;
      return { seq, ...members, correctedBy, ...(retractedBy !== undefined && { retractedBy }) };
    });
    const status = replay(history)[0] ?? plannedOnly(numbered);
    return { number: { ...status, ticket: ticketOf(editionId, series, number) }, events };
  });
}

const plannedOnly = ({ series, number, label }: Numbered): Omit<NumberState, 'ticket'> => ({
  ...{ series, number, label },
  state: 'planned',
  pieces: 0,
  parts: [],
});

async function onRegister<T>(workshop: OpenDocuments, work: (register: Register) => Promise<T>): Promise<T> {
  const register = await openRegister(registerPlace(workshop), depsIn(workshop.environment));
  try {
    const missing = await missingProblem(workshop, register);
    if (missing) await workshop.environment.warn?.(missing);
    return await work(register);
  } finally {
    await register.close();
  }
}
