import type { Numbered } from '../edition/labels.js';
import { type Problem, Refusal } from '../problem.js';
import { isOfNumber, type NumberEvent, type RegisterEvent } from './event.js';
import { problem, refuse } from './messages.js';
import { samePerson } from './person.js';
import {
  type Condition,
  type PartState,
  type RefusalCode,
  RULES,
  STAGES,
  type Stage,
  TRANSITIONS,
} from './transitions.js';

export type { PartState };

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

/** One part of the piece that carries the number. */
export interface PartStatus {
  /** Its id; left out where the number was issued for a piece as one whole. */
  readonly part?: string;
  readonly state: PartState;
  /** How many such parts the number has had: 1, and one more for each recut. */
  readonly pieces: number;
}

/** A number with its state: what its events, read in order, come to. */
export interface NumberStatus extends Numbered {
  readonly state: State;
  /** When it came to this state: the day given with the event (`on`), else when the event was entered. */
  readonly since: string;
  /** How many pieces the number has had, by its part recut most often; 0 before it is issued. */
  readonly pieces: number;
  /** Empty before it is issued. */
  readonly parts: readonly PartStatus[];
  /** Its state before it was withheld, and again once it is released. */
  readonly withheldFrom?: State;
}

/** A label and a number belong together for good, from the first event that names them. */
export const numberMismatch = (known: Numbered, asked: Numbered): Refusal =>
  refuse('register.number-mismatch', `label ${asked.label}`, {
    ...{ number: asked.number, series: asked.series },
    ...{ knownLabel: known.label, knownNumber: known.number, knownSeries: known.series },
  });

/**
 * The status of a number after one more event. Throws a Refusal (exit 3) when the event is not allowed now. A closed
 * edition takes events of its issued numbers only.
 */
export function applyEvent(
  before: NumberStatus | undefined,
  event: NumberEvent,
  editionClosed = false,
): NumberStatus {
  const problems = validate(before, event, editionClosed);
  if (problems.length > 0) throw new Refusal(problems);
  return transition(before ?? plannedNumber(event), event, before === undefined);
}

/** Why an event is not allowed now: the first rule that refuses it, with a problem for each part concerned. */
export function validate(
  before: NumberStatus | undefined,
  event: NumberEvent,
  editionClosed: boolean,
): readonly Problem[] {
  const { series, number, label } = event;
  if (before && (before.series !== series || before.number !== number || before.label !== label)) {
    return numberMismatch(before, event).problems;
  }
  const now = before ?? plannedNumber(event);
  for (const { refusedWhere, code } of RULES[event.type]) {
    const found = problemsOf(refusedWhere, code, now, event, editionClosed);
    if (found.length > 0) return found;
  }
  return [];
}

/** The status that an allowed event leads to. */
function transition(now: NumberStatus, event: NumberEvent, first: boolean): NumberStatus {
  const { series, number, label } = now;
  const { parts: transition, stage } = TRANSITIONS[event.type];
  const parts =
    event.type === 'issued'
      ? (event.parts ?? [undefined]).map((part) => ({
          ...(part && { part }),
          state: 'blank' as const,
          pieces: 1,
        }))
      : transition
        ? now.parts.map((part) => (isNamed(part, event) ? withState(part, transition.to) : part))
        : now.parts;
  const made = stateOfPiece(parts, stage?.to ?? stageOf(now));
  const state = event.type === 'withheld' || event.type === 'void' ? event.type : made;
  return {
    ...{ series, number, label, state, parts },
    since: !first && state === now.state ? now.since : (event.on ?? event.at),
    pieces: Math.max(0, ...parts.map((part) => part.pieces)),
    ...(state === 'withheld' && { withheldFrom: made }),
  };
}

const withState = (part: PartStatus, state: PartState): PartStatus => ({
  ...part,
  state,
  pieces: part.pieces + (state === 'blank' ? 1 : 0),
});

function plannedNumber({ series, number, label }: Numbered): NumberStatus {
  return { series, number, label, state: 'planned', since: '', pieces: 0, parts: [] };
}

const partOf = (event: NumberEvent): string | undefined => ('part' in event ? event.part : undefined);

const isNamed = (part: PartStatus, event: NumberEvent): boolean =>
  partOf(event) === undefined || part.part === partOf(event);

/** The stage of the piece, withheld or not. */
function stageOf({ state, withheldFrom }: NumberStatus): Stage {
  const piece = withheldFrom ?? state;
  return STAGES.find((stage) => stage === piece) ?? 'open';
}

/** What parts and stage come to. One spoiled part spoils the piece, until its successor is begun. */
function stateOfPiece(parts: readonly PartStatus[], stage: Stage): State {
  if (parts.length === 0) return 'planned';
  if (stage !== 'open') return stage;
  if (parts.some((part) => part.state === 'scrapped')) return 'scrapped';
  if (parts.some((part) => part.state === 'destroyed')) return 'destroyed';
  if (parts.every((part) => part.state === 'engraved')) return 'engraved';
  return parts.some((part) => part.pieces > 1) ? 'recut' : 'issued';
}

/** The problems of a rule where its condition holds; none where it does not. */
function problemsOf(
  condition: Condition,
  code: RefusalCode,
  now: NumberStatus,
  event: NumberEvent,
  editionClosed: boolean,
): Problem[] {
  const refused = (holds: boolean, part?: PartStatus) => (holds ? [refusalOf(code, now, event, part)] : []);
  const issued = now.pieces > 0;
  switch (condition.is) {
    case 'closed and not issued':
      return refused(editionClosed && !issued);
    case 'void':
      return refused(now.state === 'void');
    case 'issued':
      return refused(issued);
    case 'not issued':
      return refused(!issued);
    case 'withheld':
      return refused(now.state === 'withheld');
    case 'not withheld':
      return refused(now.state !== 'withheld');
    case 'own witness':
      return refused(event.type === 'destroyed' && samePerson(event.by, event.witness));
    case 'no such part':
      return refused(!now.parts.some((part) => isNamed(part, event)));
    case 'stage':
      return refused(condition.in.includes(stageOf(now)));
    case 'named part':
      return now.parts.flatMap((part) =>
        refused(isNamed(part, event) && condition.in.includes(part.state), part),
      );
    case 'any part': {
      const found = now.parts.find((part) => condition.in.includes(part.state));
      return refused(found !== undefined, found);
    }
  }
}

/** Stands for the piece as one whole where a part is named. No id of a part has capitals. */
const WHOLE = 'WHOLE';

function refusalOf(
  code: RefusalCode,
  now: NumberStatus,
  event: NumberEvent,
  part: PartStatus | undefined,
): Problem {
  const state = part?.state ?? now.state;
  const where = `label ${event.label}`;
  const blank = now.parts.flatMap((one) => (one.part && one.state === 'blank' ? [one.part] : []));
  switch (code) {
    case 'register.edition-closed':
      return problem(code, where, { edition: event.edition });
    case 'register.number-void':
    case 'register.issued-before':
    case 'register.own-witness':
      return problem(code, where, {});
    case 'register.number-withheld':
    case 'register.not-issued':
      return problem(code, where, { event: event.type });
    case 'register.not-withheld':
    case 'register.piece-not-inspected':
    case 'register.too-late-to-withhold':
      return problem(code, where, { state: now.state });
    case 'register.piece-not-engraved':
      return problem(code, where, {
        state: now.state,
        // Named only where some parts are done and some are not.
        blank: blank.length > 0 && blank.length < now.parts.length ? blank : NONE,
        some: blank.length > 0 && blank.length < now.parts.length ? 'yes' : 'no',
      });
    case 'register.no-such-part': {
      const parts = now.parts.flatMap((one) => one.part ?? []);
      return problem(code, where, {
        part: partOf(event) ?? WHOLE,
        parts,
        some: parts.length > 0 ? 'yes' : 'no',
      });
    }
    default:
      return problem(code, where, { part: part?.part ?? WHOLE, state });
  }
}

const NONE: readonly string[] = [];

/**
 * The statuses that the events of one edition lead to, in the order of the numbers' first events. Throws a Refusal
 * (exit 3) for a sequence that the rules do not allow.
 */
export function replay(events: Iterable<RegisterEvent>): NumberStatus[] {
  const byLabel = new Map<string, NumberStatus>();
  let closed = false;
  for (const event of events) {
    if (event.type === 'closed') {
      if (closed) throw impossibleHistory(`edition ${event.edition}`, closedBefore(event.edition));
      closed = true;
      continue;
    }
    if (!isOfNumber(event)) continue;
    const before = byLabel.get(event.label);
    const [fault] = validate(before, event, closed);
    if (fault) throw impossibleHistory(`label ${event.label}`, fault);
    byLabel.set(event.label, transition(before ?? plannedNumber(event), event, before === undefined));
  }
  return [...byLabel.values()];
}

export const closedBefore = (edition: string): Problem =>
  problem('register.closed-before', `edition ${edition}`, {});

const impossibleHistory = (where: string, fault: Problem): Refusal =>
  refuse('register.impossible-history', where, { fault });
