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
  /** For the parts that the event names, all of them when it names none: from one of these states to another. */
  readonly parts?: { readonly from: readonly PartState[]; readonly to: PartState };
  /** States that every part of the piece must be in. */
  readonly everyPart?: readonly PartState[];
  /** Stages that the piece must be in, and the stage it comes to. */
  readonly stage?: { readonly from?: readonly Stage[]; readonly to?: Stage };
  /** Someone other than `by` must have seen it. */
  readonly witness?: true;
  /** Code of the refusal when parts or stage do not allow the event. */
  readonly refusal?: RefusalCode;
}

/** One row for each kind of event of a number. */
export const TRANSITIONS: { readonly [T in NumberEventType]: Transition } = {
  issued: { issued: 'no', withheld: 'no' },
  engraved: {
    ...{ issued: 'yes', withheld: 'no', refusal: 'register.part-not-blank' },
    parts: { from: ['blank'], to: 'engraved' },
  },
  inspected: {
    ...{ issued: 'yes', withheld: 'no', refusal: 'register.piece-not-engraved' },
    everyPart: ['engraved'],
    stage: { from: ['open'], to: 'inspected' },
  },
  delivered: {
    ...{ issued: 'yes', withheld: 'no', refusal: 'register.piece-not-inspected' },
    stage: { from: ['inspected'], to: 'delivered' },
  },
  withheld: {
    ...{ issued: 'either', withheld: 'no', refusal: 'register.too-late-to-withhold' },
    everyPart: ['blank', 'engraved'],
    stage: { from: ['open', 'inspected'] },
  },
  released: { issued: 'either', withheld: 'yes' },
  scrapped: {
    ...{ issued: 'yes', withheld: 'no', refusal: 'register.part-already-scrapped' },
    parts: { from: ['blank', 'engraved'], to: 'scrapped' },
    stage: { to: 'open' },
  },
  destroyed: {
    ...{ issued: 'yes', withheld: 'no', refusal: 'register.part-not-scrapped' },
    parts: { from: ['scrapped'], to: 'destroyed' },
    witness: true,
  },
  recut: {
    ...{ issued: 'yes', withheld: 'no', refusal: 'register.part-not-destroyed' },
    parts: { from: ['destroyed'], to: 'blank' },
  },
  void: {
    ...{ issued: 'either', withheld: 'either', refusal: 'register.number-on-piece' },
    everyPart: ['blank', 'destroyed'],
  },
};

export const NUMBER_EVENTS = Object.keys(TRANSITIONS) as NumberEventType[];

/** Those that a person records: every one but the issue. */
export const RECORDABLE = NUMBER_EVENTS.filter(
  (type): type is Exclude<NumberEventType, 'issued'> => type !== 'issued',
);

/** What a rule asks of the events before. A rule refuses the event where this is so. */
export type Condition =
  | { readonly is: 'closed and not issued' | 'void' | 'issued' | 'not issued' | 'withheld' | 'not withheld' }
  | { readonly is: 'no such part' | 'own witness' }
  /** A part that the event names is in one of these states. */
  | { readonly is: 'named part'; readonly in: readonly PartState[] }
  /** Any part of the piece is. */
  | { readonly is: 'any part'; readonly in: readonly PartState[] }
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
} as const;

export type RefusalCode = keyof typeof REFUSALS;

function rulesFor(type: NumberEventType): Rule[] {
  const { issued, withheld, parts, everyPart, stage, witness, refusal } = TRANSITIONS[type];
  const rules: Rule[] = [];
  const refuse = (code: RefusalCode | undefined, ...conditions: (Condition | false | undefined)[]) => {
    for (const refusedWhere of conditions) if (refusedWhere && code) rules.push({ refusedWhere, code });
  };
  refuse('register.edition-closed', { is: 'closed and not issued' });
  refuse('register.number-void', { is: 'void' });
  refuse('register.number-withheld', withheld === 'no' && { is: 'withheld' });
  refuse('register.not-withheld', withheld === 'yes' && { is: 'not withheld' });
  refuse('register.not-issued', issued === 'yes' && { is: 'not issued' });
  refuse('register.issued-before', issued === 'no' && { is: 'issued' });
  refuse('register.own-witness', witness && { is: 'own witness' });
  refuse('register.no-such-part', parts && { is: 'no such part' });
  refuse(
    refusal,
    parts && { is: 'named part', in: exclude(PART_STATES, parts.from) },
    stage?.from && { is: 'stage', in: exclude(STAGES, stage.from) },
    everyPart && { is: 'any part', in: exclude(PART_STATES, everyPart) },
  );
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

/** The events that touch parts. */
export const PART_EVENTS = NUMBER_EVENTS.filter((type) => TRANSITIONS[type].parts !== undefined);

/** The events by which a number leaves the free ones of its series, is kept back, or comes to them again. */
export const AVAILABILITY_EVENTS = [
  'issued',
  'withheld',
  'released',
  'void',
] as const satisfies readonly NumberEventType[];
