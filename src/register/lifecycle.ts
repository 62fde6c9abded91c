import type { Numbered } from '../edition/labels.js';
import { type Problem, Refusal } from '../problem.js';
import { isOfNumber, LARGEST_LEAP, type NumberEvent, type RegisterEvent } from './event.js';
import { problem, refuse } from './messages.js';
import { samePerson } from './person.js';
import {
  type Condition,
  FINAL_EVENTS,
  type NumberEventType,
  type PartState,
  type RefusalCode,
  RULES,
  STAGES,
  type Stage,
  TRANSITIONS,
} from './transitions.js';

export type { PartState };

export const STATES = [
  ...(['planned', 'issued', 'engraved', 'inspected', 'delivered', 'withheld'] as const),
  ...(['lost', 'stolen', 'scrapped', 'destroyed', 'recut', 'void'] as const),
] as const;
export type State = (typeof STATES)[number];

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
  /** Its state before it was lost or stolen, and again once it is found. */
  readonly missingFrom?: State;
}

/** A step of a life: what happened, and the life before. */
interface Step {
  readonly type: NumberEventType;
  /** Its place in the sequence, where whoever replays knows it. */
  readonly seq?: number;
  readonly before: Life;
}

/** The status of a number with what the rules of later events need to know of its past. */
export interface Life extends NumberStatus {
  /** The last step that was not retracted; none of a planned number. */
  readonly last?: Step;
  /** Whether a delivery was ever entered, retracted since or not. */
  readonly left: boolean;
  /** The serial of the last certificate; 0 where there is none. */
  readonly certificates: number;
}

/** What is known of a number outside this module: all written out, for the reason given at `lifeOf`. */
export function statusOf(life: Life): NumberStatus {
  const { series, number, label, parts, since, state, pieces, withheldFrom, missingFrom, last } = life;
  // A planned number is made in another order than one with steps, and an answer shows it.
  if (!last) return { series, number, label, state, since, pieces, parts };
  if (withheldFrom === undefined && missingFrom === undefined)
    return { series, number, label, parts, since, state, pieces };
  return {
    ...{ series, number, label, parts, since, state, pieces },
    ...(withheldFrom && { withheldFrom }),
    ...(missingFrom && { missingFrom }),
  };
}

/** A label and a number belong together for good, from the first event that names them. */
export const numberMismatch = (known: Numbered, asked: Numbered): Refusal =>
  refuse('register.number-mismatch', `label ${asked.label}`, {
    ...{ number: asked.number, series: asked.series },
    ...{ knownLabel: known.label, knownNumber: known.number, knownSeries: known.series },
  });

export interface AppliedEvent {
  /** A closed edition takes events of its issued numbers only. */
  readonly editionClosed?: boolean;
  /** Its place in the sequence. Without it a correction is held against the kind of events alone. */
  readonly seq?: number;
}

/** The life of a number after one more event. Throws a Refusal (exit 3) when the event is not allowed now. */
export function applyEvent(
  before: Life | undefined,
  event: NumberEvent,
  { editionClosed = false, seq }: AppliedEvent = {},
): Life {
  const problems = validate(before, event, editionClosed);
  if (problems.length > 0) throw new Refusal(problems);
  return transition(before, event, seq);
}

/** Why an event is not allowed now: the first rule that refuses it, with a problem for each part concerned. */
export function validate(
  before: Life | undefined,
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

/** The life that an allowed event leads to. */
function transition(before: Life | undefined, event: NumberEvent, seq: number | undefined): Life {
  const now = before ?? plannedNumber(event);
  const { type } = event;
  if (type === 'retracted') {
    const { left, certificates } = now;
    return { ...now.last!.before, left, certificates };
  }
  if (type === 'certified') return { ...now, certificates: event.serial };
  if (TRANSITIONS[type].trace) return now;
  return lifeOf(
    stateAfter(now, event, before !== undefined),
    now.left || type === 'delivered',
    now.certificates,
    seq === undefined ? { type, before: now } : { type, before: now, seq },
  );
}

/**
 * A life is made for each of many events. An object that begins as a copy and gets more members has a shape of its own,
 * which costs more than the object.
 */
function lifeOf(
  { series, number, label, parts, since, state, pieces, withheldFrom, missingFrom }: NumberStatus,
  left: boolean,
  certificates: number,
  last: Step,
): Life {
  if (withheldFrom === undefined && missingFrom === undefined)
    return { series, number, label, parts, since, state, pieces, left, certificates, last };
  return {
    series,
    number,
    label,
    parts,
    since,
    state,
    pieces,
    ...(withheldFrom && { withheldFrom }),
    ...(missingFrom && { missingFrom }),
    left,
    certificates,
    last,
  };
}

/** `begun`: it had an event before, and so a day since when it is in its state. */
function stateAfter(now: Life, event: NumberEvent, begun: boolean): NumberStatus {
  const { series, number, label } = now;
  const { type } = event;
  const { parts: transition, stage } = TRANSITIONS[type];
  const to = transition?.to;
  const parts =
    type === 'issued'
      ? (event.parts ?? [undefined]).map((part) =>
          part ? { part, state: 'blank' as const, pieces: 1 } : { state: 'blank' as const, pieces: 1 },
        )
      : to
        ? now.parts.map((part) => (isNamed(part, event) ? withState(part, to) : part))
        : now.parts;
  const made = stateOfPiece(parts, stage?.to ?? stageOf(now));
  const withheld = type === 'withheld' || (now.withheldFrom !== undefined && type !== 'released');
  const missing =
    type === 'lost' || type === 'stolen' ? type : type === 'found' ? undefined : missingState(now);
  const held = withheld ? 'withheld' : made;
  const state = type === 'void' ? 'void' : (missing ?? held);
  return {
    series,
    number,
    label,
    parts,
    since: begun && state === now.state ? now.since : (event.on ?? event.at),
    state,
    pieces: Math.max(0, ...parts.map((part) => part.pieces)),
    ...(type !== 'void' && withheld && { withheldFrom: made }),
    ...(type !== 'void' && missing && { missingFrom: held }),
  };
}

const missingState = ({ state }: NumberStatus) =>
  state === 'lost' || state === 'stolen' ? state : undefined;

const withState = (part: PartStatus, state: PartState): PartStatus => ({
  ...part,
  state,
  pieces: part.pieces + (state === 'blank' ? 1 : 0),
});

function plannedNumber({ series, number, label }: Numbered): Life {
  return {
    series,
    number,
    label,
    state: 'planned',
    since: '',
    pieces: 0,
    parts: [],
    left: false,
    certificates: 0,
  };
}

const partOf = (event: NumberEvent): string | undefined => ('part' in event ? event.part : undefined);

const isNamed = (part: PartStatus, event: NumberEvent): boolean =>
  partOf(event) === undefined || part.part === partOf(event);

/** The stage of the piece, withheld or missing or not. */
function stageOf({ state, withheldFrom, missingFrom }: NumberStatus): Stage {
  const piece = withheldFrom ?? missingFrom ?? state;
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
  now: Life,
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
      return refused(now.withheldFrom !== undefined);
    case 'not withheld':
      return refused(now.withheldFrom === undefined);
    case 'missing':
      return refused(now.missingFrom !== undefined);
    case 'not missing':
      return refused(now.missingFrom === undefined);
    case 'own witness':
      return refused(
        'witness' in event && event.witness !== undefined && samePerson(event.by, event.witness),
      );
    case 'no such event':
      return refused(!correctable(now, event));
    case 'not the last event':
      return refused(!retractable(now, event));
    case 'no second person':
      return refused(
        'corrects' in event && event.witness === undefined && (now.left || takesBackFinal(now, event)),
      );
    case 'wrong serial':
      return refused(event.type === 'certified' && isWrongSerial(event.serial, now.certificates));
    case 'no such part':
      return refused(!now.parts.some((part) => isNamed(part, event)));
    case 'stage':
      return refused(condition.in.includes(stageOf(now)));
    case 'named part':
      return now.parts.flatMap((part) =>
        refused(isNamed(part, event) && condition.in.includes(part.state), part),
      );
    case 'no part':
      return refused(!now.parts.some((part) => condition.in.includes(part.state)));
    case 'any part': {
      const found = now.parts.find((part) => condition.in.includes(part.state));
      return refused(found !== undefined, found);
    }
  }
}

/** Whether a serial was given before, or leaps so far that there may be none after it. */
const isWrongSerial = (serial: number, last: number): boolean =>
  serial <= last || (serial > LARGEST_LEAP && serial > last + 1);

/** The steps of a life that stand, last first. */
function* stepsOf(life: Life): Generator<Step> {
  for (let step = life.last; step; step = step.before.last) yield step;
}

/** Whether what is corrected is a step of this number that has what is to be corrected. */
function correctable(now: Life, event: NumberEvent): boolean {
  if (event.type !== 'corrected') return false;
  const { corrects, to } = event;
  for (const { type, seq } of stepsOf(now)) {
    if (seq !== undefined && seq !== corrects) continue;
    if (to === undefined || type === 'delivered') return true;
  }
  return false;
}

/** Whether what is retracted is the last step of this life; a number that was issued stays so. */
const retractable = ({ last }: Life, event: NumberEvent): boolean =>
  event.type === 'retracted' &&
  last !== undefined &&
  last.type !== 'issued' &&
  (last.seq === undefined || last.seq === event.corrects);

const takesBackFinal = ({ last }: Life, event: NumberEvent): boolean =>
  event.type === 'retracted' && FINAL_EVENTS.some((type) => type === last?.type);

/** Stands for the piece as one whole where a part is named. No id of a part has capitals. */
const WHOLE = 'WHOLE';

function refusalOf(code: RefusalCode, now: Life, event: NumberEvent, part: PartStatus | undefined): Problem {
  const state = part?.state ?? now.state;
  const where = `label ${event.label}`;
  const blank = now.parts.flatMap((one) => (one.part && one.state === 'blank' ? [one.part] : []));
  switch (code) {
    case 'register.edition-closed':
      return problem(code, where, { edition: event.edition });
    case 'register.no-such-event':
    case 'register.not-last-event':
      return problem(code, where, {
        event: 'corrects' in event ? event.corrects : 0,
        // A planned number has no last event, and an issue is for good.
        last: now.last?.seq ?? 0,
        type: now.last?.type ?? 'planned',
      });
    case 'register.wrong-serial':
      return problem(code, where, { next: now.certificates + 1 });
    case 'register.number-void':
    case 'register.issued-before':
    case 'register.no-second-person':
    case 'register.own-witness':
      return problem(code, where, {});
    case 'register.number-withheld':
    case 'register.not-issued':
    case 'register.nothing-to-miss':
      return problem(code, where, { event: event.type });
    case 'register.number-missing':
      return problem(code, where, { state: now.state, event: event.type });
    case 'register.not-withheld':
    case 'register.not-missing':
    case 'register.piece-not-delivered':
    case 'register.not-certifiable':
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

/** An event, and its place in the sequence where that is known. */
export interface PlacedEvent {
  readonly seq?: number;
  readonly event: RegisterEvent;
}

/** The lives that the events of one edition lead to, which are added in their order. */
export class Replay {
  readonly #byLabel = new Map<string, Life>();
  #closed = false;

  /** Throws a Refusal (exit 3) for an event that the rules do not allow after those before. */
  add({ event, seq }: PlacedEvent): void {
    if (event.type === 'closed') {
      if (this.#closed) throw impossibleHistory(`edition ${event.edition}`, closedBefore(event.edition));
      this.#closed = true;
      return;
    }
    if (!isOfNumber(event)) return;
    const before = this.#byLabel.get(event.label);
    const [fault] = validate(before, event, this.#closed);
    if (fault) throw impossibleHistory(`label ${event.label}`, fault);
    this.#byLabel.set(event.label, transition(before, event, seq));
  }

  /** Of each number, in the order of their first events. */
  lifecycles(): Life[] {
    return [...this.#byLabel.values()];
  }

  statuses(): NumberStatus[] {
    return Array.from(this.#byLabel.values(), statusOf);
  }
}

/**
 * The life of each number that the events of one edition lead to, in the order of the numbers' first events. Throws a Refusal
 * (exit 3) for a sequence that the rules do not allow.
 */
export function replayLives(events: Iterable<PlacedEvent>): Life[] {
  const replayed = new Replay();
  for (const one of events) replayed.add(one);
  return replayed.lifecycles();
}

/** What they come to. */
export const replay = (events: Iterable<PlacedEvent>): NumberStatus[] => replayLives(events).map(statusOf);

export const closedBefore = (edition: string): Problem =>
  problem('register.closed-before', `edition ${edition}`, {});

const impossibleHistory = (where: string, fault: Problem): Refusal =>
  refuse('register.impossible-history', where, { fault });
