import { formRules, sequenceRules } from '../form-sql.js';
import {
  closedRules,
  memberRules,
  passesOver,
  quoteTexts,
  type ResumeFacts,
  reopens,
  resumedRules,
  rule,
  type SqlFacts,
  type SqlRule,
  sqlRules,
  wrongSerialAfter,
} from '../rule-sql.js';
import { amendedRules, onTermsRules, openedRules, type TermsFacts } from '../terms/terms-sql.js';
import {
  FINAL_EVENTS,
  NUMBER_EVENTS,
  type NumberEventType,
  PART_EVENTS,
  STATE_EVENTS,
} from '../transitions.js';
import { SQLITE_FORM } from './form.js';

/**
 * The triggers of the tables. What a number allows is written from the table of transitions and asked of the events
 * before, so that nothing beside them has to be kept right. Each trigger names the kind of event it is for: an issue,
 * which benches wait for, passes all but its own.
 *
 * Inserts are looked at before SQLite resolves conflicts: `INSERT OR REPLACE` would otherwise delete an event without
 * any delete trigger firing.
 */

const OF_LABEL = 'edition = NEW.edition AND label = NEW.label';
const OF_NUMBER = 'edition = NEW.edition AND series = NEW.series AND number = NEW.number';
/** Issues and later events each have an index of their own. */
const eitherHalf = (which: string) =>
  `(EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND ${which})
        OR EXISTS (SELECT 1 FROM event WHERE type <> 'issued' AND ${which}))`;
/** Of an event called so: that it was passed over, by one that was not. */
const passed = (name: string, by = passesOver) =>
  `EXISTS (SELECT 1 FROM event AS p WHERE p.corrects = ${name}.seq AND ${by('p')}
        AND NOT EXISTS (SELECT 1 FROM event AS q WHERE q.corrects = p.seq AND ${passesOver('q')}))`;
/** Of an event called so: that it was neither passed over, nor retracted by one that was not. */
const stands = (name: string) =>
  `NOT EXISTS (SELECT 1 FROM event AS r WHERE r.corrects = ${name}.seq
        AND (r.type = 'retracted' OR ${passesOver('r')}) AND NOT ${passed('r')})`;
const STEPS_OF_LABEL = `${OF_LABEL} AND type IN (${quoteTexts(STATE_EVENTS)}) AND ${stands('event')}`;
const somePart = (which: string) =>
  `EXISTS (SELECT 1 FROM part_last WHERE edition = NEW.edition AND label = NEW.label AND ${which})`;
/** As far as the database knows names: outer spaces, runs of spaces, and the case of a to z. */
const person = (name: string) =>
  `lower(replace(replace(replace(trim(${name}), ' ', char(1, 2)), char(2, 1), ''), char(1, 2), ' '))`;

const FACTS: SqlFacts = {
  closed: `EXISTS (SELECT 1 FROM event WHERE type = 'closed' AND edition = NEW.edition
        AND NOT ${passed('event', reopens)})`,
  issued: `EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND ${OF_LABEL})`,
  void: `EXISTS (SELECT 1 FROM event WHERE type <> 'issued' AND ${OF_LABEL} AND type = 'void' AND ${stands('event')})`,
  ownWitness: `${person('NEW.who')} = ${person('NEW.witness')}`,
  otherNumber: eitherHalf(
    `${OF_LABEL} AND (series <> NEW.series OR number <> NEW.number) AND NOT ${passed('event')}`,
  ),
  otherLabel: eitherHalf(`${OF_NUMBER} AND label <> NEW.label AND NOT ${passed('event')}`),
  lastOf: (types, those, none) =>
    `coalesce((SELECT type FROM event WHERE type <> 'issued' AND ${OF_LABEL} AND type IN (${quoteTexts(types)})
        AND ${stands('event')} ORDER BY seq DESC LIMIT 1), '') IN (${quoteTexts(none ? [...those, ''] : those)})`,
  anyPart: (last) => somePart(`last IN (${quoteTexts(last)})`),
  namedPart: (last) => somePart(`(NEW.part IS NULL OR part = NEW.part) AND last IN (${quoteTexts(last)})`),
  noSuchEvent: `NOT EXISTS (SELECT 1 FROM event WHERE seq = NEW.corrects AND ${STEPS_OF_LABEL}
        AND (NEW.recipient IS NULL OR type = 'delivered'))`,
  notLastEvent: `NEW.corrects IS NOT coalesce(
        (SELECT seq FROM event WHERE type <> 'issued' AND ${STEPS_OF_LABEL} ORDER BY seq DESC LIMIT 1), -1)
        OR EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND ${OF_LABEL} AND seq > NEW.corrects)`,
  noSecondPerson: `NEW.witness IS NULL AND EXISTS (SELECT 1 FROM event WHERE type <> 'issued' AND ${OF_LABEL}
        AND NOT ${passed('event')} AND (type = 'delivered'
          OR NEW.type = 'retracted' AND seq = NEW.corrects AND type IN (${quoteTexts(FINAL_EVENTS)})))`,
  wrongSerial: wrongSerialAfter(`(SELECT max(serial) FROM event
        WHERE type <> 'issued' AND ${OF_LABEL} AND type = 'certified' AND NOT ${passed('event')})`),
  noSuchPart: `NEW.part IS NOT NULL AND NOT ${somePart('part = NEW.part')}`,
};

const LAST_TERMS = `(SELECT terms FROM event WHERE terms IS NOT NULL AND edition = NEW.edition AND NOT ${passed('event')}
        ORDER BY seq DESC LIMIT 1)`;

/** Roman numerals, digit by digit, as far as they go (`edition/roman.ts`). */
const ROMAN_DIGITS: readonly (readonly [unit: number, digits: string])[] = [
  [1000, '["","M","MM","MMM"]'],
  [100, '["","C","CC","CCC","CD","D","DC","DCC","DCCC","CM"]'],
  [10, '["","X","XX","XXX","XL","L","LX","LXX","LXXX","XC"]'],
  [1, '["","I","II","III","IV","V","VI","VII","VIII","IX"]'],
];
const roman = (number: string): string =>
  ROMAN_DIGITS.map(
    ([unit, digits]) => `('${digits}' ->> (${number} / ${unit}${unit < 1000 ? ' % 10' : ''}))`,
  ).join(' || ');
/** How a series of the terms, called s, writes the number of NEW (`edition/labels.ts`). */
const LABEL_BY_TERMS = `coalesce(s.value ->> '$.before', '') || CASE s.value ->> '$.figures'
          WHEN 'roman' THEN ${roman('NEW.number')}
            || coalesce((s.value ->> '$.total.joiner') || ${roman(`(s.value ->> '$.total.of')`)}, '')
          ELSE printf('%0*d', s.value ->> '$.pad', NEW.number)
            || coalesce((s.value ->> '$.total.joiner') || (s.value ->> '$.total.of'), '') END
          || coalesce(s.value ->> '$.after', '')`;

const TERMS_FACTS: TermsFacts = {
  closed: FACTS.closed,
  opened: `EXISTS (SELECT 1 FROM event WHERE type = 'opened' AND edition = NEW.edition)`,
  nameElsewhere: `EXISTS (SELECT 1 FROM event WHERE terms IS NOT NULL AND edition <> NEW.edition
        AND ${person('name')} = ${person('NEW.name')} AND NOT ${passed('event')})`,
  outsideTerms: `NOT EXISTS (SELECT 1 FROM json_each(${LAST_TERMS}, '$.series') AS s
        WHERE s.value ->> '$.id' = NEW.series AND NEW.number BETWEEN s.value ->> '$.from' AND s.value ->> '$.to'
          AND NEW.label = ${LABEL_BY_TERMS})`,
};

const RESUME_FACTS: ResumeFacts = {
  ownWitness: FACTS.ownWitness,
  noSuchEntry: `NEW.corrects IS NOT NULL
        AND NOT EXISTS (SELECT 1 FROM event WHERE seq = NEW.corrects AND lower(hex(leaf)) = NEW.digest)`,
  resumedBefore: `EXISTS (SELECT 1 FROM event WHERE type = 'resumed' AND corrects IS NEW.corrects
        AND digest = NEW.digest AND NOT ${passed('event')})`,
};

interface Firing {
  readonly table?: string;
  readonly at: 'BEFORE INSERT' | 'AFTER INSERT' | 'BEFORE UPDATE' | 'BEFORE DELETE';
  readonly when?: string;
}

const trigger = (
  name: string,
  { table = 'event', at, when }: Firing,
  rules: readonly SqlRule[],
): [string, string] => [
  name,
  `CREATE TRIGGER ${name} ${at} ON ${table}${when ? ` WHEN ${when}` : ''}
  BEGIN${rules.map(raise).join('')}
  END`,
];

const raise = ({ refusedWhere, message, when }: SqlRule) => `
    SELECT RAISE(ABORT, '${message}')
      WHERE ${when ? `${when} AND ` : ''}${refusedWhere};`;

const always = (sentence: string, code: string): SqlRule[] => [rule('true', sentence, code)];

const appendOnly = (table: string, what: string): [string, string][] => [
  trigger(
    `${table}_not_changed`,
    { table, at: 'BEFORE UPDATE' },
    always(`${what} is never changed`, 'register.append-only'),
  ),
  trigger(
    `${table}_not_deleted`,
    { table, at: 'BEFORE DELETE' },
    always(`${what} is never deleted`, 'register.append-only'),
  ),
];

const lifecycleSql = (type: NumberEventType) =>
  trigger(`event_${type}`, { at: 'BEFORE INSERT', when: `NEW.type = '${type}'` }, [
    ...memberRules(type),
    ...sqlRules(type, FACTS),
  ]);

const MOVED = 'EXISTS (SELECT 1 FROM moved)';
const afterMove = (table: string) =>
  trigger(
    `${table}_before_move`,
    { table, at: 'BEFORE INSERT', when: MOVED },
    always('this register was moved to a server', 'register.moved'),
  );

/** A signed note from its second line on, which is the size (C2SP tlog-checkpoint). */
const NOTE_FROM_SIZE = 'substr(NEW.note, instr(NEW.note, char(10)) + 1)';

const TRIGGERS: ReadonlyMap<string, string> = new Map([
  ...appendOnly('event', 'an event'),
  ...appendOnly('checkpoint', 'a checkpoint'),
  ...appendOnly('schema_version', 'the version of the tables'),
  trigger(
    'schema_version_by_burin',
    { table: 'schema_version', at: 'BEFORE INSERT' },
    always('burin enters the version of the tables, while it makes them', 'register.append-only'),
  ),
  trigger('event_place', { at: 'BEFORE INSERT' }, [
    rule(
      'EXISTS (SELECT 1 FROM event WHERE seq = NEW.seq)',
      'this place in the sequence is taken',
      'register.place-taken',
    ),
    rule(
      'NEW.key IS NOT NULL AND EXISTS (SELECT 1 FROM event WHERE key IS NOT NULL AND key = NEW.key AND nth = NEW.nth)',
      'this request was carried out before',
      'register.request-repeated',
    ),
  ]),
  trigger('event_form', { at: 'BEFORE INSERT' }, formRules(SQLITE_FORM)),
  // After, not before: only then is a place that was left to the database known.
  trigger('event_in_sequence', { at: 'AFTER INSERT' }, sequenceRules(SQLITE_FORM)),
  ...NUMBER_EVENTS.map(lifecycleSql),
  trigger('event_opened', { at: 'BEFORE INSERT', when: `NEW.type = 'opened'` }, [
    ...memberRules('opened'),
    ...openedRules(TERMS_FACTS),
  ]),
  trigger('event_amended', { at: 'BEFORE INSERT', when: `NEW.type = 'amended'` }, [
    ...memberRules('amended'),
    ...amendedRules(TERMS_FACTS),
  ]),
  trigger('event_on_terms', { at: 'BEFORE INSERT', when: `NEW.type = 'issued'` }, [
    ...onTermsRules(TERMS_FACTS),
  ]),
  trigger('event_closed', { at: 'BEFORE INSERT', when: `NEW.type = 'closed'` }, closedRules(FACTS)),
  trigger('event_resumed', { at: 'BEFORE INSERT', when: `NEW.type = 'resumed'` }, [
    ...memberRules('resumed'),
    ...resumedRules(RESUME_FACTS),
  ]),
  trigger('checkpoint_of_events', { table: 'checkpoint', at: 'BEFORE INSERT' }, [
    rule(
      'EXISTS (SELECT 1 FROM checkpoint WHERE size = NEW.size)',
      'there is a checkpoint of this size',
      'register.checkpoint-exists',
    ),
    rule(
      'NEW.size > (SELECT coalesce(max(seq), -1) + 1 FROM event)',
      'there are not so many events',
      'register.checkpoint-too-large',
    ),
    rule(
      `${NOTE_FROM_SIZE} NOT GLOB CAST(NEW.size AS TEXT) || char(10) || '*'`,
      'its note is for another size',
      'register.checkpoint-other-size',
    ),
  ]),
  trigger(
    'moved_once',
    { table: 'moved', at: 'BEFORE INSERT', when: MOVED },
    always('this register was moved before', 'register.moved'),
  ),
  trigger(
    'moved_not_changed',
    { table: 'moved', at: 'BEFORE UPDATE' },
    always('a register that was moved does not come back', 'register.moved'),
  ),
  trigger(
    'moved_not_deleted',
    { table: 'moved', at: 'BEFORE DELETE' },
    always('a register that was moved does not come back', 'register.moved'),
  ),
  afterMove('event'),
  afterMove('checkpoint'),
]);

/** Each part of each issued number, with the last event that touched it. */
const PART_LAST = `CREATE VIEW part_last AS
  SELECT i.edition, i.label, p.value AS part, coalesce(
    (SELECT e.type FROM event AS e
      WHERE e.type <> 'issued' AND e.edition = i.edition AND e.label = i.label
        AND e.type IN (${quoteTexts(PART_EVENTS)}) AND (e.part IS NULL OR e.part = p.value) AND ${stands('e')}
      ORDER BY e.seq DESC LIMIT 1), 'issued') AS last
  FROM event AS i, json_each(coalesce(i.parts, '[null]')) AS p
  WHERE i.type = 'issued'`;

/** Makes the rules anew; they are no part of the numbered steps. */
export const CREATE_RULES: string = [PART_LAST, ...TRIGGERS.values()].map((one) => `${one};\n`).join('');

/** Triggers of earlier forms, where each rule was written by hand. */
const EARLIER = [
  ...['event_names', 'event_parts'],
  ...[
    'event_not_replaced',
    'event_names_once',
    'event_of_issued_number',
    'event_in_time',
    'issued_of_free_number',
  ],
  ...[
    'issued_parts',
    'closed_before',
    'later_event_allowed',
    'released_from_withheld',
    'withheld_before_delivery',
  ],
  ...['void_without_piece', 'inspected_after_engraved', 'delivered_after_inspected', 'engraved_once'],
  ...['scrapped_once', 'destroyed_after_scrapped', 'destroyed_before_witness', 'recut_after_destroyed'],
];

/** Takes away the rules of any form. What the register did not make stays, for an audit to find. */
export const DROP_RULES: string = [
  ...[...TRIGGERS.keys(), ...EARLIER].map((name) => `DROP TRIGGER IF EXISTS ${name};\n`),
  'DROP VIEW IF EXISTS part_last;\n',
].join('');
