import { EVENT_MEMBERS, LARGEST_LEAP, PASSING_FAULTS } from './event.js';
import {
  type Condition,
  eventsTo,
  MISSING_EVENTS,
  NUMBER_EVENTS,
  type NumberEventType,
  type PartState,
  REFUSALS,
  RULES,
  type Stage,
  TRANSITIONS,
} from './transitions.js';

/**
 * How a store asks of the events before a new one, called NEW. Each gives an SQL condition unless it says otherwise. Of
 * events that change a state only those that stand are asked: what was retracted did not happen.
 */
export interface SqlFacts {
  readonly closed: string;
  readonly issued: string;
  readonly void: string;
  readonly ownWitness: string;
  /** Whether the label belongs to another number, or the number has another label. */
  readonly otherNumber: string;
  readonly otherLabel: string;
  /** Whether the last event of these kinds is of those; `none` says whether that holds when there is none. */
  lastOf(types: readonly NumberEventType[], those: readonly NumberEventType[], none: boolean): string;
  /** Whether a part was last touched by one of these events; `issued` where none did. */
  anyPart(lastEvents: readonly NumberEventType[]): string;
  /** The same of the parts that the event names, all of them when it names none. */
  namedPart(lastEvents: readonly NumberEventType[]): string;
  /** Whether what NEW corrects is no step of this number that stands, or does not say what NEW says otherwise. */
  readonly noSuchEvent: string;
  /** Whether what NEW corrects is not the last step of this number that stands, or is an issue. */
  readonly notLastEvent: string;
  /** Whether NEW has no witness, and the piece was ever delivered, or a final event is retracted. */
  readonly noSecondPerson: string;
  readonly wrongSerial: string;
  /** Whether the event names a part that the piece does not have. */
  readonly noSuchPart: string;
}

/** Whether NEW has a serial that cannot be, after the last one, which is NULL where there is none. */
export const wrongSerialAfter = (last: string): string =>
  `(SELECT NEW.serial <= last OR NEW.serial > ${LARGEST_LEAP} AND NEW.serial - 1 > last
        FROM (SELECT coalesce(${last}, 0) AS last) AS one)`;

/** A refusal as a trigger makes it: a sentence for the hand at the database, and a code. */
export interface SqlRule {
  readonly refusedWhere: string;
  readonly message: string;
  /** It is asked at all only where this holds too; a store may leave the rest unread otherwise. */
  readonly when?: string;
}

/** The rules for one kind of event of a number, in the order of the table of transitions. */
export function sqlRules(type: NumberEventType, facts: SqlFacts): SqlRule[] {
  return [
    rule(facts.otherNumber, 'this label belongs to another number', 'register.number-mismatch'),
    rule(facts.otherLabel, 'this number has another label', 'register.number-mismatch'),
    ...RULES[type].map(({ refusedWhere, code }) =>
      rule(conditionSql(refusedWhere, facts), REFUSALS[code], code),
    ),
  ];
}

export const rule = (refusedWhere: string, sentence: string, code: string, when?: string): SqlRule => ({
  refusedWhere,
  message: `${sentence} [${code}]`,
  ...(when !== undefined && { when }),
});

/** The code in a message of a trigger. */
export const ruleIn = (message: string): string | undefined => / \[([a-z.-]+)\]$/.exec(message)?.[1];

const HOLDS = NUMBER_EVENTS.filter((type) => type === 'withheld' || type === 'released');
const STAGE_EVENTS = NUMBER_EVENTS.filter((type) => TRANSITIONS[type].stage?.to !== undefined);

function conditionSql(condition: Condition, facts: SqlFacts): string {
  switch (condition.is) {
    case 'closed and not issued':
      return `${facts.closed} AND NOT ${facts.issued}`;
    case 'void':
      return facts.void;
    case 'issued':
      return facts.issued;
    case 'not issued':
      return `NOT ${facts.issued}`;
    case 'withheld':
      return facts.lastOf(HOLDS, ['withheld'], false);
    case 'not withheld':
      return facts.lastOf(HOLDS, ['released'], true);
    case 'missing':
      return facts.lastOf(MISSING_EVENTS, ['lost', 'stolen'], false);
    case 'not missing':
      return facts.lastOf(MISSING_EVENTS, ['found'], true);
    case 'own witness':
      return facts.ownWitness;
    case 'no such event':
      return facts.noSuchEvent;
    case 'not the last event':
      return facts.notLastEvent;
    case 'no second person':
      return facts.noSecondPerson;
    case 'wrong serial':
      return facts.wrongSerial;
    case 'no part':
      return `NOT ${facts.anyPart(condition.in.flatMap(lastEvents))}`;
    case 'no such part':
      return facts.noSuchPart;
    case 'named part':
      return facts.namedPart(condition.in.flatMap(lastEvents));
    case 'any part':
      return facts.anyPart(condition.in.flatMap(lastEvents));
    case 'stage':
      return facts.lastOf(
        STAGE_EVENTS,
        STAGE_EVENTS.filter(leadsTo(condition.in)),
        condition.in.includes('open'),
      );
  }
}

/** The events after which a part is in this state. */
const lastEvents = (state: PartState): NumberEventType[] =>
  state === 'blank' ? ['issued', ...eventsTo(state)] : eventsTo(state);

const leadsTo = (stages: readonly Stage[]) => (type: NumberEventType) =>
  stages.includes(TRANSITIONS[type].stage!.to!);

/** Columns under another name than their member in the text. */
const COLUMNS: Readonly<Record<string, string>> = { by: 'who', on: 'occurred_on', to: 'recipient' };
/** Members that the tables themselves require of every event. */
const OF_EVERY_EVENT = ['type', 'edition', 'by', 'at', 'why'];

/** Every member that an event of any kind may have. */
export const MEMBERS = [
  ...new Set(Object.values(EVENT_MEMBERS).flatMap(({ required, optional }) => [...required, ...optional])),
].sort();

/** Members that an event of one kind never has. */
const foreignMembers = (type: keyof typeof EVENT_MEMBERS): readonly string[] => {
  const { required, optional } = EVENT_MEMBERS[type];
  return MEMBERS.filter((m) => !required.includes(m) && !optional.includes(m));
};

/**
 * Refuses an event of one kind that lacks a member it must have, or has one it must not. `mayName` says, for a store that
 * would have to look for each, whether a text can have one of these members.
 */
export function memberRules(
  type: keyof typeof EVENT_MEMBERS,
  mayName?: (members: readonly string[]) => string,
): SqlRule[] {
  const column = (member: string) => `NEW.${COLUMNS[member] ?? member}`;
  const missing = EVENT_MEMBERS[type].required
    .filter((m) => !OF_EVERY_EVENT.includes(m))
    .map((m) => `${column(m)} IS NULL`);
  const foreign = foreignMembers(type);
  const rules: SqlRule[] = [];
  const none = (conditions: string[], sentence: string, when?: string) => {
    if (conditions.length > 0)
      rules.push(rule(conditions.join(' OR '), sentence, 'register.malformed-event', when));
  };
  none(missing, `an event of this kind says more (${type})`);
  none(
    foreign.map((m) => `${column(m)} IS NOT NULL`),
    `an event of this kind does not say so much (${type})`,
    mayName?.(foreign),
  );
  return rules;
}

/** How a store asks about what a `resumed` event, called NEW, names. Each gives an SQL condition. */
export interface ResumeFacts {
  readonly ownWitness: string;
  /** Whether NEW names a place, and no event with this hash is there. */
  readonly noSuchEntry: string;
  /** Whether another one, that counts, names the same entry or checkpoint. */
  readonly resumedBefore: string;
}

export const resumedRules = (facts: ResumeFacts): SqlRule[] => [
  rule(facts.ownWitness, REFUSALS['register.own-witness'], 'register.own-witness'),
  rule(facts.noSuchEntry, 'there is no such entry before it', 'register.no-such-entry'),
  rule(facts.resumedBefore, 'the register went on past this before', 'register.resumed-before'),
];

/** Whether an event called so is one that passes an entry over. */
export const passesOver = (name: string): string =>
  `${name}.type = 'resumed' AND ${name}.fault IN (${quoteTexts(PASSING_FAULTS)})`;

/** Whether an event called so is one that lets an edition be open again, where it passes its closing over. */
export const reopens = (name: string): string => `${name}.type = 'resumed' AND ${name}.fault = 'rule'`;

/** What a closing says, and when it is refused. `closed` asks whether one that stands is there already. */
export const closedRules = (
  { closed }: Pick<SqlFacts, 'closed'>,
  mayName?: (members: readonly string[]) => string,
): SqlRule[] => [
  ...memberRules('closed', mayName),
  rule('NEW.stated IS NULL', 'a closing says what its statement was made from', 'register.malformed-event'),
  rule(closed, 'this edition was closed before', 'register.closed-before'),
];

export const quoteTexts = (texts: readonly string[]): string => texts.map((text) => `'${text}'`).join(', ');
