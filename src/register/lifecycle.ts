import type { Numbered } from '../edition/labels.js';
import { type Problem, problem, Refusal, refuse } from '../problem.js';
import type { EventType, NumberEvent, RegisterEvent } from './event.js';
import { samePerson } from './person.js';

export type State =
  | 'planned'
  | 'issued'
  | 'engraved'
  | 'inspected'
  | 'delivered'
  | 'withheld'
  | 'scrapped'
  | 'destroyed'
  | 'recut'
  | 'void';

export type PartState = 'blank' | 'engraved' | 'scrapped' | 'destroyed';

/** One part of the piece that carries the number. */
export interface PartStatus {
  /** Its id; left out where the number was issued for a piece as one whole. */
  readonly part?: string;
  readonly state: PartState;
  /** How many such parts the number has had: 1, and one more for each recut. */
  readonly pieces: number;
}

/** A number and where it stands. */
export interface NumberStatus extends Numbered {
  readonly state: State;
  /** When it came to this state: the day told where one was, else when it was entered. */
  readonly since: string;
  /** How many pieces the number has had, as its most often recut part counts them; 0 before it is issued. */
  readonly pieces: number;
  /** Empty before it is issued. */
  readonly parts: readonly PartStatus[];
  /** Where it was before it was withheld, and will be once released. */
  readonly withheldFrom?: State;
}

type Transition = Pick<NumberStatus, 'state'> & Partial<Pick<NumberStatus, 'parts' | 'withheldFrom'>>;

const WITHOUT_ISSUE: ReadonlySet<EventType> = new Set(['issued', 'withheld', 'released', 'void']);
const MAY_BE_WITHHELD: ReadonlySet<State> = new Set(['planned', 'issued', 'recut', 'engraved', 'inspected']);

/**
 * The status of a number after one more event. Throws a Refusal (exit 3) when the event is not allowed now. A closed
 * edition takes events of its issued numbers only.
 */
export function applyEvent(
  before: NumberStatus | undefined,
  event: NumberEvent,
  editionClosed = false,
): NumberStatus {
  if (editionClosed && (before?.pieces ?? 0) === 0) {
    throw refuse(
      3,
      `label ${event.label}`,
      `Edition ${event.edition} is closed, and the number was not issued in it.`,
      'Only numbers issued before the closing have further events.',
    );
  }
  const { series, number, label } = event;
  if (before && (before.series !== series || before.number !== number || before.label !== label)) {
    throw numberMismatch(before, event);
  }
  const now: NumberStatus = before ?? {
    series,
    number,
    label,
    state: 'planned',
    since: '',
    pieces: 0,
    parts: [],
  };
  const { state, parts = now.parts, withheldFrom } = transition(now, event);
  return {
    ...{ series, number, label, state, parts },
    since: before && state === before.state ? before.since : (event.on ?? event.at),
    pieces: Math.max(0, ...parts.map((part) => part.pieces)),
    ...(withheldFrom && { withheldFrom }),
  };
}

/** A label and a number belong together for good, from the first event that names them. */
export const numberMismatch = (known: Numbered, asked: Numbered): Refusal =>
  refuse(
    3,
    `label ${asked.label}`,
    `Number ${asked.number} of series ${asked.series} was asked for, but the register knows ` +
      `${known.label} as number ${known.number} of series ${known.series}.`,
    'Name the number as the register lists it.',
  );

function transition(now: NumberStatus, event: NumberEvent): Transition {
  const no = (what: string, cure: string) => refuse(3, `label ${event.label}`, what, cure);
  const { state } = now;
  if (state === 'void') throw no('It is void: nothing more can happen to it.', 'Use another number.');
  if (state === 'withheld' && event.type !== 'released' && event.type !== 'void') {
    throw no(`It is withheld and cannot be ${event.type}.`, 'Record it released first.');
  }
  if (now.pieces === 0 && !WITHOUT_ISSUE.has(event.type)) {
    throw no(`It was not issued and cannot be ${event.type}.`, 'Issue it first.');
  }
  switch (event.type) {
    case 'issued':
      if (now.pieces > 0) throw no('It cannot be issued twice.', 'Take the next free number.');
      return { state: 'issued', parts: blanks(event.parts) };
    case 'withheld':
      if (!MAY_BE_WITHHELD.has(state)) {
        throw no(`It is ${state} and cannot be withheld.`, 'Only what is still to be delivered is withheld.');
      }
      return { state: 'withheld', withheldFrom: state };
    case 'released':
      if (state !== 'withheld') throw no(`It is ${state}, not withheld.`, 'There is nothing to release.');
      return { state: now.withheldFrom! };
    case 'void': {
      const live = now.parts.find((part) => part.state === 'engraved' || part.state === 'scrapped');
      if (live) {
        throw no(
          `${nameOf(live)} is ${live.state}: something still bears the number.`,
          `Record ${live.state === 'engraved' ? 'it scrapped, then ' : 'it '}destroyed, with a witness, first.`,
        );
      }
      return { state: 'void' };
    }
    case 'inspected':
      if (state !== 'engraved') {
        throw no(
          `It is ${state} and cannot be inspected.`,
          state === 'issued' || state === 'recut'
            ? `Record it engraved first${still(now)}.`
            : 'Only an engraved piece is inspected, once.',
        );
      }
      return { state: 'inspected' };
    case 'delivered':
      if (state === 'delivered') {
        throw no('It was delivered before.', 'A returned piece stays delivered until it is scrapped.');
      }
      if (state !== 'inspected') {
        throw no(`It is ${state} and cannot be delivered.`, 'Record it inspected first.');
      }
      return { state: 'delivered' };
    case 'engraved':
      return changeParts(now, event.part, 'engraved', (part) => {
        if (part.state === 'blank') return undefined;
        const is = `${nameOf(part)} is ${part.state}`;
        return part.state === 'engraved'
          ? [`${is} already.`, 'For a second piece, record scrapped, destroyed and recut first.']
          : [`${is} and cannot be engraved.`, `Record it ${next(part)} first.`];
      });
    case 'scrapped':
      return changeParts(now, event.part, 'scrapped', (part) =>
        part.state === 'blank' || part.state === 'engraved'
          ? undefined
          : [`${nameOf(part)} is ${part.state} already.`, 'Name the part that is spoiled.'],
      );
    case 'destroyed':
      if (samePerson(event.by, event.witness)) {
        throw no(
          'Whoever records a destruction cannot be its witness.',
          'Have a second person watch and name them as witness.',
        );
      }
      return changeParts(now, event.part, 'destroyed', (part) =>
        part.state === 'scrapped'
          ? undefined
          : [
              `${nameOf(part)} is ${part.state}, not scrapped.`,
              'Record it scrapped first, or name the part that was.',
            ],
      );
    case 'recut':
      return changeParts(now, event.part, 'blank', (part) =>
        part.state === 'destroyed'
          ? undefined
          : [
              `${nameOf(part)} is ${part.state}, not destroyed: the number would be on two pieces.`,
              part.state === 'scrapped'
                ? 'Record it destroyed, with a witness, first.'
                : 'Record it scrapped, then destroyed with a witness, first.',
            ],
      );
  }
}

const blanks = (ids: readonly string[] | undefined): PartStatus[] =>
  ids ? ids.map((part) => ({ part, state: 'blank', pieces: 1 })) : [{ state: 'blank', pieces: 1 }];

const nameOf = ({ part }: PartStatus): string => (part === undefined ? 'The piece' : `Part ${part}`);
const next = ({ state }: PartStatus): string =>
  state === 'scrapped' ? 'destroyed, with a witness, and recut' : 'recut';

/** "; cap, barrel still blank", where that is not plain. */
function still(now: NumberStatus): string {
  const blank = now.parts.flatMap(({ part, state }) => (part && state === 'blank' ? [part] : []));
  return blank.length > 0 && blank.length < now.parts.length ? `; still blank: ${blank.join(', ')}` : '';
}

/** Turns one part, or every part, to a state; `refusal` says what stands against it and how to mend that. */
function changeParts(
  now: NumberStatus,
  id: string | undefined,
  to: PartState,
  refusal: (part: PartStatus) => readonly [what: string, cure: string] | undefined,
): Transition {
  const meant = (part: PartStatus) => id === undefined || part.part === id;
  const where = `label ${now.label}`;
  const chosen = now.parts.filter(meant);
  if (chosen.length === 0) {
    const known = now.parts.flatMap(({ part }) => part ?? []).join(', ');
    throw refuse(
      3,
      where,
      `No part ${id} carries its number.`,
      known ? `It is carried by: ${known}.` : 'It was issued for one whole piece: name no part.',
    );
  }
  const problems: Problem[] = chosen.flatMap((part) => {
    const found = refusal(part);
    return found ? [problem(where, ...found)] : [];
  });
  if (problems.length > 0) throw new Refusal(3, problems);
  const parts = now.parts.map((part) =>
    meant(part) ? { ...part, state: to, pieces: part.pieces + (to === 'blank' ? 1 : 0) } : part,
  );
  return { state: ofParts(parts), parts };
}

/** What the parts come to. One that is spoiled spoils the piece, until its successor is opened. */
function ofParts(parts: readonly PartStatus[]): State {
  if (parts.some((part) => part.state === 'scrapped')) return 'scrapped';
  if (parts.some((part) => part.state === 'destroyed')) return 'destroyed';
  if (parts.every((part) => part.state === 'engraved')) return 'engraved';
  return parts.some((part) => part.pieces > 1) ? 'recut' : 'issued';
}

/** Folds the events of one edition, given in sequence, to its numbers in the order of their first events. */
export function replay(events: Iterable<RegisterEvent>): NumberStatus[] {
  const byLabel = new Map<string, NumberStatus>();
  let closed = false;
  for (const event of events) {
    if (event.type === 'closed') {
      if (closed) throw impossible(`edition ${event.edition}`, 'It cannot be closed twice.');
      closed = true;
      continue;
    }
    try {
      byLabel.set(event.label, applyEvent(byLabel.get(event.label), event, closed));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      throw impossible(`label ${event.label}`, error.problems.map((one) => one.what).join(' '));
    }
  }
  return [...byLabel.values()];
}

const impossible = (where: string, what: string): Refusal =>
  refuse(
    3,
    where,
    `The register holds what cannot have happened: ${what}`,
    'Issue nothing; compare the register with your last good copy.',
  );
