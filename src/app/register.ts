import { labelIndexOf } from '../edition/label-index.js';
import { type Numbered, plannedNumbers } from '../edition/labels.js';
import { foldName } from '../edition/look-alike.js';
import { ticketOf } from '../edition/ticket.js';
import { isOfNumber, type NumberEvent } from '../register/event.js';
import { type NumberStatus, type PartStatus, replay, STATES, type State } from '../register/lifecycle.js';
import { annotate, type Buyer, buyersOf, eventSearch, type FoundIn } from '../register/number-events.js';
import { openRegister } from '../register/open.js';
import type { Register, StoredEvent } from '../register/register.js';
import { numberNamed } from './find-numbers.js';
import { refuse } from './messages.js';
import { editionOf, type OpenDocuments, registerPlace } from './open-documents.js';
import { depsIn } from './register-deps.js';

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
 * changed document does not take a number back.
 */
export async function registerOf(
  workshop: OpenDocuments,
  editionId: string,
  filter: NumberFilter = {},
): Promise<ListedNumber[]> {
  const edition = editionOf(workshop, editionId);
  const { state, to, search } = filter;
  if (state !== undefined && !STATES.some((one) => one === state))
    throw refuse('register.state-unknown', '--state', { state: state.slice(0, 60), known: STATES });
  const planned = plannedNumbers(edition);
  const withTicket = <T extends Numbered>(n: T) => ({
    ...n,
    ticket: ticketOf(editionId, n.series, n.number),
  });
  const inOrder = (statuses: readonly NumberStatus[]) => {
    const known = new Map(statuses.map((status) => [status.label, status]));
    const listed = new Set(planned.map((n) => n.label));
    return [
      ...planned.map((n) => known.get(n.label) ?? plannedOnly(n)),
      ...statuses.filter((n) => !listed.has(n.label)),
    ].filter((n) => state === undefined || n.state === state);
  };
  return onRegister(workshop, async (register) => {
    if (to === undefined && search === undefined)
      return inOrder(await register.statuses(editionId)).map(withTicket);
    const history = await register.editionHistory(editionId);
    const { buyers, found, candidates } = matches(history, filter);
    const statuses = replay(history.filter(({ event }) => !isOfNumber(event) || candidates.has(event.label)));
    const inLabel = search === undefined ? undefined : foldName(search);
    return inOrder(statuses)
      .filter(({ label }) => to === undefined || buyers.has(label))
      .filter(({ label }) => inLabel === undefined || found.has(label) || foldName(label).includes(inLabel))
      .map((n) => ({
        ...withTicket(n),
        ...(to !== undefined && { buyers: buyers.get(n.label)! }),
        ...(search !== undefined && { found: found.get(n.label) ?? [] }),
      }));
  });
}

/** What of a history matches, by label. `candidates` are all labels that anything was found for. */
function matches(history: readonly StoredEvent[], { to, search }: NumberFilter) {
  const find = search === undefined ? undefined : eventSearch(search);
  const person = to === undefined ? undefined : foldName(to);
  const byLabel = new Map<string, StoredEvent[]>();
  const found = new Map<string, FoundIn[]>();
  const named = new Set<string>();
  const folded = new Map<string, boolean>();
  const isPerson = (name: string): boolean => {
    const known = folded.get(name) ?? foldName(name) === person;
    folded.set(name, known);
    return known;
  };
  for (const stored of history) {
    const { event } = stored;
    if (!isOfNumber(event)) continue;
    const { label } = event;
    const hits = find?.(stored) ?? [];
    if (hits.length > 0) found.set(label, [...(found.get(label) ?? []), ...hits]);
    if (person === undefined) continue;
    if ('to' in event && event.to !== undefined && isPerson(event.to)) named.add(label);
    const own = byLabel.get(label);
    if (own) own.push(stored);
    else byLabel.set(label, [stored]);
  }
  const buyers = new Map(
    [...named].map((label) => [label, buyersOf(byLabel.get(label)!).filter((one) => isPerson(one.to))]),
  );
  return { buyers, found, candidates: new Set([...found.keys(), ...named]) };
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
    return await work(register);
  } finally {
    await register.close();
  }
}
