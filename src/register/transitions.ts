import type { NumberEvent } from './event.js';

/**
 * The life of a number as data. `lifecycle.ts` applies these rules to a status; `rules.ts` of each store writes the
 * triggers of its tables from them. A rule is stated here and nowhere else.
 */

export type NumberEventType = NumberEvent['type'];

export const PART_STATES = ['blank', 'engraved', 'scrapped', 'destroyed'] as const;
export type PartState = (typeof PART_STATES)[number];

/** How far the complete piece has come. Spoiling any part of it leads back to `open`. */
export const STAGES = ['open', 'inspected', 'delivered'] as const;
export type Stage = (typeof STAGES)[number];

export interface Transition {
  /** Whether the number must have been issued before, must not have been, or either. */
  readonly issued: 'yes' | 'no' | 'either';
  /** Whether the number must be withheld, must not be, or either. */
  readonly withheld: 'yes' | 'no' | 'either';
  /** Whether the piece must be lost or stolen, must not be, or either. */
  readonly missing: 'yes' | 'no' | 'either';
  /** For the parts that the event names, all of them when it names none: from one of these states to another. */
  readonly parts?: { readonly from: readonly PartState[]; readonly to?: PartState };
  /** States that every part of the piece must be in. */
  readonly everyPart?: readonly PartState[];
  /** States of which some part must be in one. */
  readonly somePart?: readonly PartState[];
  /** Stages that the piece must be in, and the stage it comes to. */
  readonly stage?: { readonly from?: readonly Stage[]; readonly to?: Stage };
  /** Someone other than `by` must have seen it. */
  readonly witness?: true;
  /** Code of the refusal when parts or stage do not allow the event. */
  readonly refusal?: RefusalCode;
  /** It is no step of the life, and cannot be retracted. */
  readonly trace?: true;
  /** Allowed of a void number too. */
  readonly afterVoid?: true;
  /** What it asks of the event that it corrects. */
  readonly corrects?: 'any' | 'last';
  /** It bears a larger serial than each of its kind before, and never leaps to the end of all serials. */
  readonly serial?: true;
}

/** One row for each kind of event of a number. */
export const TRANSITIONS: { readonly [T in NumberEventType]: Transition } = {
  issued: { issued: 'no', withheld: 'no', missing: 'either' },
  engraved: {
    ...{ issued: 'yes', withheld: 'no', missing: 'no', refusal: 'register.part-not-blank' },
    parts: { from: ['blank'], to: 'engraved' },
  },
  inspected: {
    ...{ issued: 'yes', withheld: 'no', missing: 'no', refusal: 'register.piece-not-engraved' },
    everyPart: ['engraved'],
    stage: { from: ['open'], to: 'inspected' },
  },
  delivered: {
    ...{ issued: 'yes', withheld: 'no', missing: 'no', refusal: 'register.piece-not-inspected' },
    stage: { from: ['inspected'], to: 'delivered' },
  },
  withheld: {
    ...{ issued: 'either', withheld: 'no', missing: 'no', refusal: 'register.too-late-to-withhold' },
    everyPart: ['blank', 'engraved'],
    stage: { from: ['open', 'inspected'] },
  },
  released: { issued: 'either', withheld: 'yes', missing: 'no' },
  scrapped: {
    ...{ issued: 'yes', withheld: 'no', missing: 'no', refusal: 'register.part-already-scrapped' },
    parts: { from: ['blank', 'engraved'], to: 'scrapped' },
    stage: { to: 'open' },
  },
  destroyed: {
    ...{ issued: 'yes', withheld: 'no', missing: 'no', refusal: 'register.part-not-scrapped' },
    parts: { from: ['scrapped'], to: 'destroyed' },
    witness: true,
  },
  recut: {
    ...{ issued: 'yes', withheld: 'no', missing: 'no', refusal: 'register.part-not-destroyed' },
    parts: { from: ['destroyed'], to: 'blank' },
  },
  void: {
    ...{ issued: 'either', withheld: 'either', missing: 'either', refusal: 'register.number-on-piece' },
    everyPart: ['blank', 'destroyed'],
  },
  returned: {
    ...{ issued: 'yes', withheld: 'no', missing: 'no', refusal: 'register.piece-not-delivered' },
    stage: { from: ['delivered'], to: 'open' },
  },
  lost: {
    ...{ issued: 'yes', withheld: 'either', missing: 'no', refusal: 'register.nothing-to-miss' },
    somePart: ['engraved', 'scrapped'],
  },
  stolen: {
    ...{ issued: 'yes', withheld: 'either', missing: 'no', refusal: 'register.nothing-to-miss' },
    somePart: ['engraved', 'scrapped'],
  },
  found: { issued: 'yes', withheld: 'either', missing: 'yes' },
  noted: { issued: 'either', withheld: 'either', missing: 'either', trace: true, afterVoid: true },
  corrected: {
    ...{ issued: 'either', withheld: 'either', missing: 'either', trace: true, afterVoid: true },
    corrects: 'any',
  },
  retracted: {
    ...{ issued: 'either', withheld: 'either', missing: 'either', trace: true, afterVoid: true },
    corrects: 'last',
  },
  programmed: {
    ...{ issued: 'yes', withheld: 'no', missing: 'no', trace: true, refusal: 'register.part-not-blank' },
    parts: { from: ['blank'] },
  },
  certified: {
    ...{ issued: 'yes', withheld: 'no', missing: 'no', trace: true, refusal: 'register.not-certifiable' },
    everyPart: ['engraved'],
    serial: true,
  },
};

export const NUMBER_EVENTS = Object.keys(TRANSITIONS) as NumberEventType[];

/** Those that another use case enters: the issue, corrections, and traces of what was made. */
type MadeElsewhere = 'issued' | 'corrected' | 'retracted' | 'programmed' | 'certified';
const MADE_ELSEWHERE: readonly NumberEventType[] = [
  'issued',
  'corrected',
  'retracted',
  'programmed',
  'certified',
] satisfies MadeElsewhere[];

/** Those that a person records of a number. */
export const RECORDABLE = NUMBER_EVENTS.filter(
  (type): type is Exclude<NumberEventType, MadeElsewhere> => !MADE_ELSEWHERE.includes(type),
);

/** Those for which a keeper is asked the reason. */
export const REASONED_EVENTS = [
  ...(['withheld', 'scrapped', 'void', 'lost', 'stolen'] as const),
  ...(['noted', 'corrected', 'retracted'] as const),
] satisfies readonly NumberEventType[];

/** Those that change the state of a number. */
export const STATE_EVENTS = NUMBER_EVENTS.filter((type) => !TRANSITIONS[type].trace);

/** Those after which a piece is lost or stolen, or no longer. */
export const MISSING_EVENTS = ['lost', 'stolen', 'found'] as const satisfies readonly NumberEventType[];

/** Retracting one of these takes a second person, whether or not the piece has left the maker. */
export const FINAL_EVENTS = ['destroyed', 'void'] as const satisfies readonly NumberEventType[];

/** What a rule asks of the events before. A rule refuses the event where this is so. */
export type Condition =
  | { readonly is: 'closed and not issued' | 'void' | 'issued' | 'not issued' | 'withheld' | 'not withheld' }
  | { readonly is: 'missing' | 'not missing' }
  | { readonly is: 'no such part' | 'own witness' }
  /** Of the event that is corrected: not one of this number that stands; not the last; left the house, and no witness. */
  | { readonly is: 'no such event' | 'not the last event' | 'no second person' }
  | { readonly is: 'wrong serial' }
  /** A part that the event names is in one of these states. */
  | { readonly is: 'named part'; readonly in: readonly PartState[] }
  /** Any part of the piece is. */
  | { readonly is: 'any part' | 'no part'; readonly in: readonly PartState[] }
  | { readonly is: 'stage'; readonly in: readonly Stage[] };

export interface Rule {
  readonly refusedWhere: Condition;
  readonly code: RefusalCode;
}

/** What a hand at the database reads. The program says the same in more words (`messages.ts`). */
export const REFUSALS = {
  'register.edition-closed': 'this edition is closed and the number was not issued',
  'register.number-void': 'this number is void',
  'register.number-withheld': 'this number is withheld',
  'register.not-withheld': 'this number is not withheld',
  'register.not-issued': 'this number was not issued',
  'register.issued-before': 'this number was issued before',
  'register.own-witness': 'the witness is the one who records',
  'register.no-such-part': 'the piece has no such part',
  'register.part-not-blank': 'this part is not blank',
  'register.piece-not-engraved': 'this piece is not just engraved',
  'register.piece-not-inspected': 'this piece is not just inspected',
  'register.too-late-to-withhold': 'this number is delivered, scrapped or destroyed',
  'register.part-already-scrapped': 'this part was scrapped before',
  'register.part-not-scrapped': 'this part is not scrapped',
  'register.part-not-destroyed': 'this part is not destroyed: the number would be on two pieces',
  'register.number-on-piece': 'something still bears this number',
  'register.number-missing': 'this piece is lost or stolen',
  'register.not-missing': 'this piece is neither lost nor stolen',
  'register.nothing-to-miss': 'nothing bears this number',
  'register.piece-not-delivered': 'this piece is not delivered',
  'register.no-such-event': 'this number has no such event to correct',
  'register.not-last-event': 'only the last event of a number can be retracted, and no issue',
  'register.no-second-person': 'a second person must confirm this',
  'register.not-certifiable': 'not every part of this piece is engraved',
  'register.wrong-serial': 'a certificate has this serial, or a larger one, or it is too large',
} as const;

export type RefusalCode = keyof typeof REFUSALS;

function rulesFor(type: NumberEventType): Rule[] {
  const { issued, withheld, missing, parts, everyPart, somePart, stage, refusal } = TRANSITIONS[type];
  const { witness, corrects, serial, afterVoid } = TRANSITIONS[type];
  const rules: Rule[] = [];
  const refuse = (code: RefusalCode | undefined, ...conditions: (Condition | false | undefined)[]) => {
    for (const refusedWhere of conditions) if (refusedWhere && code) rules.push({ refusedWhere, code });
  };
  refuse('register.edition-closed', { is: 'closed and not issued' });
  refuse('register.number-void', !afterVoid && { is: 'void' });
  refuse('register.number-missing', missing === 'no' && { is: 'missing' });
  refuse('register.number-withheld', withheld === 'no' && { is: 'withheld' });
  refuse('register.not-withheld', withheld === 'yes' && { is: 'not withheld' });
  refuse('register.not-issued', issued === 'yes' && { is: 'not issued' });
  refuse('register.issued-before', issued === 'no' && { is: 'issued' });
  refuse('register.not-missing', missing === 'yes' && { is: 'not missing' });
  refuse('register.no-such-event', corrects === 'any' && { is: 'no such event' });
  refuse('register.not-last-event', corrects === 'last' && { is: 'not the last event' });
  refuse('register.own-witness', (witness || corrects) && { is: 'own witness' });
  refuse('register.no-second-person', corrects && { is: 'no second person' });
  // Programs are also made for parts that do not carry the number; the register knows none of these.
  refuse('register.no-such-part', parts?.to && { is: 'no such part' });
  refuse(
    refusal,
    parts && { is: 'named part', in: exclude(PART_STATES, parts.from) },
    stage?.from && { is: 'stage', in: exclude(STAGES, stage.from) },
    everyPart && { is: 'any part', in: exclude(PART_STATES, everyPart) },
    somePart && { is: 'no part', in: somePart },
  );
  refuse('register.wrong-serial', serial && { is: 'wrong serial' });
  return rules;
}

/** The rules of each kind of event, in the order in which they are asked; the first that refuses is reported. */
export const RULES: { readonly [T in NumberEventType]: readonly Rule[] } = mapEvents(rulesFor);

function mapEvents<T>(make: (type: NumberEventType) => T): { readonly [K in NumberEventType]: T } {
  return Object.fromEntries(NUMBER_EVENTS.map((type) => [type, make(type)])) as { [K in NumberEventType]: T };
}

function exclude<T>(all: readonly T[], some: readonly T[]): T[] {
  return all.filter((one) => !some.includes(one));
}

/** The event that brings a part to each state. A part that no event touched is blank. */
export const eventsTo = (state: PartState): NumberEventType[] =>
  NUMBER_EVENTS.filter((type) => TRANSITIONS[type].parts?.to === state);

/** The events that change parts. */
export const PART_EVENTS = NUMBER_EVENTS.filter((type) => TRANSITIONS[type].parts?.to !== undefined);

/** The events by which a number leaves the free ones of its series, is kept back, or comes to them again. */
export const AVAILABILITY_EVENTS = [
  'issued',
  'withheld',
  'released',
  'void',
  'retracted',
] as const satisfies readonly NumberEventType[];
