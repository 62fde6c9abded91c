import { formRulesBesideMembers, memberForms, namesRule, sequenceRules, timeRule } from '../form-sql.js';
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
import { CUT_OUT_OF_TEXT, DECLARE_CUT_OUT, ORDINARY_ISSUE, ORDINARY_VALUES, POSTGRES_FORM } from './form.js';

/**
 * Functions, triggers and checks of the tables. What a number allows is written from the table of transitions and asked
 * of the events before, so that nothing beside them has to be kept right.
 *
 * Triggers look at a row once it is in, since only then the server knows its computed columns, and at the events before
 * it in the sequence only, so that it does not matter how many rows come in one statement. What a function asks stands in
 * its text, not in a condition of its trigger: the server keeps the text as it is written, and an audit can compare it.
 */

/** The register's own schema; every name below is in it. */
export const SCHEMA = 'burin';

// A function keeps the plans it made while the tables were small, when one index looked as good as another. So each
// condition is written for one index alone: what is joined with '' or 0 is compared row by row.
const BEFORE = `edition || '' = NEW.edition AND seq + 0 < NEW.seq`;
const OF_LABEL = `label = NEW.label AND ${BEFORE}`;
const OF_NUMBER = `number = NEW.number AND series || '' = NEW.series AND ${BEFORE}`;
const CLOSING = `type = 'closed' AND edition = NEW.edition AND seq + 0 < NEW.seq`;
/** Of an event called so: that it was passed over before a place in the sequence, by one that was not. */
const passed = (name: string, before = 'NEW.seq', by = passesOver) =>
  `EXISTS (SELECT 1 FROM event AS p WHERE p.corrects = ${name}.seq AND p.seq + 0 < ${before} AND ${by('p')}
          AND NOT EXISTS (SELECT 1 FROM event AS q WHERE q.corrects = p.seq AND q.seq + 0 < ${before} AND ${passesOver('q')}))`;
/** Of an event called so: that it was neither passed over nor retracted before a place in the sequence. */
const stands = (name: string, before: string) =>
  `NOT EXISTS (SELECT 1 FROM event AS r WHERE r.corrects = ${name}.seq AND r.seq + 0 < ${before}
          AND (r.type || '' = 'retracted' OR ${passesOver('r')}) AND NOT ${passed('r', before)})`;
const STANDS = stands('event', 'NEW.seq');
const STEPS_OF_LABEL = `${OF_LABEL} AND type || '' IN (${quoteTexts(STATE_EVENTS)}) AND ${STANDS}`;
const exists = (which: string) => `EXISTS (SELECT 1 FROM event WHERE ${which})`;
const somePart = (which: string) =>
  `EXISTS (SELECT 1 FROM part_last(NEW.edition, NEW.label, NEW.seq) WHERE ${which})`;
/** As far as databases agree on names: outer spaces, runs of spaces, and the case of a to z. */
const person = (name: string) => `lower(regexp_replace(trim(${name}), ' +', ' ', 'g') COLLATE "C")`;

const FACTS: SqlFacts = {
  closed: exists(`${CLOSING} AND NOT ${passed('event', 'NEW.seq', reopens)}`),
  issued: exists(`type || '' = 'issued' AND ${OF_LABEL}`),
  void: exists(`type || '' = 'void' AND ${OF_LABEL} AND ${STANDS}`),
  ownWitness: `${person('NEW.who')} = ${person('NEW.witness')}`,
  otherNumber: exists(
    `${OF_LABEL} AND (series <> NEW.series OR number <> NEW.number) AND NOT ${passed('event')}`,
  ),
  otherLabel: exists(`${OF_NUMBER} AND label <> NEW.label AND NOT ${passed('event')}`),
  lastOf: (types, those, none) =>
    `coalesce((SELECT type FROM event WHERE ${OF_LABEL} AND type || '' IN (${quoteTexts(types)})
          AND ${STANDS} ORDER BY seq + 0 DESC LIMIT 1), '') IN (${quoteTexts(none ? [...those, ''] : those)})`,
  anyPart: (last) => somePart(`last IN (${quoteTexts(last)})`),
  namedPart: (last) => somePart(`(NEW.part IS NULL OR part = NEW.part) AND last IN (${quoteTexts(last)})`),
  noSuchEvent: `NOT ${exists(`seq = NEW.corrects AND label || '' = NEW.label AND ${BEFORE}
          AND type || '' IN (${quoteTexts(STATE_EVENTS)}) AND ${STANDS}
          AND (NEW.recipient IS NULL OR type || '' = 'delivered')`)}`,
  notLastEvent: `NEW.corrects IS DISTINCT FROM coalesce((SELECT CASE type WHEN 'issued' THEN -1 ELSE seq END FROM event
          WHERE ${STEPS_OF_LABEL} ORDER BY seq + 0 DESC LIMIT 1), -1)`,
  noSecondPerson: `NEW.witness IS NULL AND ${exists(`${OF_LABEL} AND NOT ${passed('event')} AND (type || '' = 'delivered'
          OR NEW.type = 'retracted' AND seq + 0 = NEW.corrects AND type || '' IN (${quoteTexts(FINAL_EVENTS)}))`)}`,
  wrongSerial:
    wrongSerialAfter(`(SELECT max(event.serial) FROM event WHERE ${OF_LABEL} AND type || '' = 'certified'
          AND NOT ${passed('event')})`),
  noSuchPart: `NEW.part IS NOT NULL AND NOT ${somePart('part = NEW.part')}`,
};

const TERMS_BEFORE = `terms IS NOT NULL AND edition = NEW.edition AND seq < NEW.seq AND NOT ${passed('event')}`;

/** How a series of the terms writes the number of NEW (`edition/labels.ts`). */
const LABEL_BY_TERMS = `concat(value ->> 'before', CASE value ->> 'figures'
          WHEN 'roman' THEN concat(to_char(NEW.number, 'FMRN'), value #>> '{total,joiner}',
            to_char((value #>> '{total,of}')::integer, 'FMRN'))
          ELSE concat(lpad(NEW.number::text, greatest((value ->> 'pad')::integer, length(NEW.number::text)), '0'),
            value #>> '{total,joiner}', value #>> '{total,of}') END, value ->> 'after')`;

const TERMS_FACTS: TermsFacts = {
  closed: FACTS.closed,
  opened: exists(`type = 'opened' AND edition = NEW.edition AND seq + 0 < NEW.seq`),
  nameElsewhere: exists(
    `terms IS NOT NULL AND edition <> NEW.edition AND seq < NEW.seq AND ${person('name')} = ${person('NEW.name')}
          AND NOT ${passed('event')}`,
  ),
  outsideTerms: `NOT EXISTS (
        SELECT 1 FROM json_array_elements(
          (SELECT terms -> 'series' FROM event WHERE ${TERMS_BEFORE} ORDER BY seq DESC LIMIT 1)) AS s (value)
        WHERE value ->> 'id' = NEW.series
          AND NEW.number BETWEEN (value ->> 'from')::integer AND (value ->> 'to')::integer
          AND NEW.label = ${LABEL_BY_TERMS})`,
};

/** A function of the register, as the server keeps it. */
export interface SqlFunction {
  readonly name: string;
  readonly parameters: string;
  readonly returns: string;
  readonly language: 'plpgsql' | 'sql';
  readonly body: string;
}

export interface SqlTrigger {
  readonly name: string;
  readonly table: 'event' | 'checkpoint';
  /** Each row, once it is in, or the statement, before it. */
  readonly at: 'AFTER INSERT' | 'BEFORE INSERT' | 'BEFORE UPDATE' | 'BEFORE DELETE' | 'BEFORE TRUNCATE';
}

/** Members that have no column of their own, by the name that the rules know them by. */
const IN_TEXT: Readonly<Record<string, string>> = {
  ...{ who: 'by', why: 'why', part: 'part', witness: 'witness', recipient: 'to', parts: 'parts', day: 'day' },
  ...{ statement: 'statement', salt: 'salt', occurred_on: 'on', station: 'station', digest: 'digest' },
  ...{ serial: 'serial', fault: 'fault', stated: 'stated' },
};
const NAMED_IN_TEXT = new RegExp(`\\b(NEW|event|[eipqr])\\.(${Object.keys(IN_TEXT).join('|')})\\b`, 'g');

/** The same with members read from the text where they have no column. */
const readingText = (sql: string): string =>
  sql.replaceAll(NAMED_IN_TEXT, (_, row: string, name: string) => {
    const member = `${row}.body::json ->> '${IN_TEXT[name]}'`;
    return name === 'serial' ? `(${member})::integer` : `(${member})`;
  });

/** A name that is a member's stands before a colon; within a value it does not, since a quote there is escaped. */
const mayName = (members: readonly string[]): string => `NEW.body ~ '"(${members.join('|')})":'`;

const exception = (message: string) =>
  `RAISE EXCEPTION USING MESSAGE = '${message}', ERRCODE = 'integrity_constraint_violation';`;

// What is not reached costs the server nothing; a condition that is, it makes ready anew in each transaction.
const raise = ({ refusedWhere, message, when }: SqlRule, indent = '    '): string =>
  when === undefined
    ? `
${indent}IF ${refusedWhere} THEN
${indent}  ${exception(message)}
${indent}END IF;`
    : `
${indent}IF ${when} THEN${raise({ refusedWhere, message }, `${indent}  `)}
${indent}END IF;`;

const bodyOf = (rules: readonly SqlRule[]): string => `
  BEGIN${rules.map((one) => raise(one)).join('')}
    RETURN NULL;
  END `;

const always = (sentence: string): SqlRule[] => [rule('true', sentence, 'register.append-only')];

const appendOnly = (table: 'event' | 'checkpoint', what: string): [SqlTrigger, string][] => [
  [{ name: `${table}_not_changed`, table, at: 'BEFORE UPDATE' }, bodyOf(always(`${what} is never changed`))],
  [{ name: `${table}_not_deleted`, table, at: 'BEFORE DELETE' }, bodyOf(always(`${what} is never deleted`))],
  [
    { name: `${table}_not_emptied`, table, at: 'BEFORE TRUNCATE' },
    bodyOf(always(`${what} is never deleted`)),
  ],
];

const RESUME_FACTS: ResumeFacts = {
  ownWitness: FACTS.ownWitness,
  noSuchEntry: `NEW.corrects IS NOT NULL AND NOT ${exists(
    `seq = NEW.corrects AND seq < NEW.seq AND encode(leaf, 'hex') = NEW.digest`,
  )}`,
  resumedBefore: exists(`type = 'resumed' AND seq < NEW.seq AND corrects IS NOT DISTINCT FROM NEW.corrects
          AND event.digest = NEW.digest AND NOT ${passed('event')}`),
};

/** Whoever may keep signed checkpoints is a keeper. */
const notKeeper = (sentence: string, where = 'true') =>
  rule(
    `${where} AND NOT has_column_privilege('${SCHEMA}.checkpoint', 'note', 'INSERT')`,
    sentence,
    'register.not-keeper',
  );

/** What only a keeper enters of a number: no serial is given twice, and after the largest there is none. */
const KEPT: Partial<Record<NumberEventType, SqlRule>> = {
  certified: notKeeper('only a keeper enters a certificate'),
  noted: notKeeper('only a keeper enters that events were lost', 'NEW.missing IS NOT NULL'),
};

const branch = (type: string, rules: readonly SqlRule[]) => `
    IF NEW.type = '${type}' THEN${rules.map((one) => raise(one, '      ')).join('')}
      RETURN NULL;
    END IF;`;

/** What is so where no event before names the label, as at most issues: little is left to be asked. */
const FACTS_OF_NEW_LABEL: SqlFacts = {
  ...FACTS,
  ...{
    issued: 'false',
    void: 'false',
    otherNumber: 'false',
    anyPart: () => 'false',
    namedPart: () => 'false',
  },
  lastOf: (_types, _those, none) => String(none),
};

// Nearly every issue is the first that is heard of its number, in an edition that is open; then no more is asked.
const ISSUED = `
    IF NEW.type = 'issued' THEN${memberRules('issued', mayName)
      .map((one) => raise(one, '      '))
      .join('')}
      IF ${exists(OF_LABEL)} OR ${exists(OF_NUMBER)} OR ${exists(CLOSING)} THEN
        IF ${exists(OF_LABEL)} THEN${sqlRules('issued', FACTS)
          .map((one) => raise(one, '          '))
          .join('')}
        ELSE${sqlRules('issued', FACTS_OF_NEW_LABEL)
          .filter(({ refusedWhere }) => refusedWhere !== 'false')
          .map((one) => raise(one, '          '))
          .join('')}
        END IF;
      END IF;${onTermsRules(TERMS_FACTS)
        .map((one) => raise(one, '      '))
        .join('')}
      RETURN NULL;
    END IF;`;

const ofNumber = (type: NumberEventType): SqlRule[] => {
  const kept = KEPT[type];
  return [...(kept ? [kept] : []), ...memberRules(type, mayName), ...sqlRules(type, FACTS)];
};

const ALLOWED = `
  BEGIN${ISSUED}${NUMBER_EVENTS.filter((type) => type !== 'issued')
    .map((type) => branch(type, ofNumber(type)))
    .join('')}${[
    branch('opened', [...memberRules('opened', mayName), ...openedRules(TERMS_FACTS)]),
    branch('amended', [
      ...memberRules('amended', mayName),
      notKeeper('only a keeper changes the terms of an edition'),
      ...amendedRules(TERMS_FACTS),
    ]),
    branch('resumed', [
      ...memberRules('resumed', mayName),
      notKeeper('only a keeper goes on past an entry'),
      ...resumedRules(RESUME_FACTS),
    ]),
    branch('closed', [notKeeper('only a keeper closes an edition'), ...closedRules(FACTS, mayName)]),
  ].join('')}
    RETURN NULL;
  END `;

const ON_DISK = rule(
  `current_setting('synchronous_commit') IN ('off', 'local')`,
  'this session does not wait for the disk (synchronous_commit)',
  'register.no-sync',
);

/** No check of the table: one that is passed over may have another, and is copied with it. */
const LEAF_OF_TEXT = rule(
  `NEW.leaf IS DISTINCT FROM sha256('\\x00'::bytea || convert_to(NEW.body, 'UTF8'))`,
  'the hash is not that of the text',
  'register.damaged-event',
);

/** Of an issue whose text is otherwise as it should be: what is asked of these values in any event. */
const WRONG_ORDINARY_VALUE = Object.entries(ORDINARY_VALUES)
  .map(([name, one]) => new Map(memberForms(POSTGRES_FORM, one)).get(name)!.refusedWhere)
  .join('\n          OR ');

const SAID_OF_EVERY_EVENT = rule(
  'NEW.who IS NULL OR NEW.why IS NULL',
  'an event says who entered it, and why',
  'register.malformed-event',
);

/** In the order in which a name is looked for: what every event has, and every issue, first. */
const OFTEN = [
  'at',
  'by',
  'edition',
  'type',
  'why',
  'salt',
  'label',
  'number',
  'series',
  'parts',
  'key',
  'nth',
];
const oftenFirst = <T>(named: readonly (readonly [string, T])[]) => {
  const place = ([name]: readonly [string, T]) => OFTEN.indexOf(name) + 1 || OFTEN.length + 1;
  return named.toSorted((one, other) => place(one) - place(other));
};

/**
 * Each member once, as it stands in the text: finding each by its name would read the text some hundred times. Nearly every issue
 * passes before that, so that what any event may look like is not made ready for it.
 */
const FORM = `
  DECLARE
    member record;
    name_before text;
    member_kind text;
    member_value text;${DECLARE_CUT_OUT}
  BEGIN${[ON_DISK, LEAF_OF_TEXT].map((one) => raise(one)).join('')}
    IF NEW.type = 'issued' THEN${CUT_OUT_OF_TEXT}
      IF ${ORDINARY_ISSUE}
        AND NOT (${WRONG_ORDINARY_VALUE}) THEN
        IF NEW.at::timestamptz > clock_timestamp() THEN${raise(timeRule(POSTGRES_FORM), '          ')}
        END IF;
        RETURN NULL;
      END IF;
    END IF;${[...formRulesBesideMembers(POSTGRES_FORM), SAID_OF_EVERY_EVENT].map((one) => raise(one)).join('')}
    FOR member IN SELECT key, value FROM json_each(${POSTGRES_FORM.body}) LOOP${raise(
      namesRule('member.key COLLATE "C" <= name_before COLLATE "C"'),
      '      ',
    )}
      name_before := member.key;
      member_kind := json_typeof(member.value);
      member_value := member.value #>> '{}';
      CASE member.key${oftenFirst(
        memberForms(POSTGRES_FORM, {
          ...{ kind: 'member_kind', value: 'member_value', json: 'member.value' },
        }),
      )
        .map(
          ([name, one]) => `
        WHEN '${name}' THEN${raise(one, '          ')}`,
        )
        .join('')}
        ELSE ${exception(namesRule('').message)}
      END CASE;
    END LOOP;
    RETURN NULL;
  END `;

/** Nearly every event follows another in time and is the first of its request, which is one question. */
const SEQUENCE = `
  BEGIN
    IF NEW.nth > 1 OR NOT EXISTS (SELECT 1 FROM event WHERE seq = NEW.seq - 1 AND at <= NEW.at) THEN${sequenceRules(
      POSTGRES_FORM,
    )
      .map((one) => raise(one, '      '))
      .join('')}
    END IF;
    RETURN NULL;
  END `;

const TRIGGERS_AND_BODIES: readonly (readonly [SqlTrigger, string])[] = [
  ...appendOnly('event', 'an event'),
  ...appendOnly('checkpoint', 'a checkpoint'),
  // Row triggers of one kind fire in the order of their names.
  [{ name: 'event_1_form', table: 'event', at: 'AFTER INSERT' }, FORM],
  [{ name: 'event_2_sequence', table: 'event', at: 'AFTER INSERT' }, SEQUENCE],
  [{ name: 'event_3_allowed', table: 'event', at: 'AFTER INSERT' }, ALLOWED],
  [
    { name: 'checkpoint_of_events', table: 'checkpoint', at: 'AFTER INSERT' },
    bodyOf([
      rule(
        'NEW.size > (SELECT coalesce(max(seq), -1) + 1 FROM event)',
        'there are not so many events',
        'register.checkpoint-too-large',
      ),
      // The second line of a signed note is the size (C2SP tlog-checkpoint).
      rule(
        `split_part(NEW.note, chr(10), 2) <> NEW.size::text`,
        'its note is for another size',
        'register.checkpoint-other-size',
      ),
    ]),
  ],
];

export const TRIGGERS: readonly SqlTrigger[] = TRIGGERS_AND_BODIES.map(([trigger]) => trigger);

/** Each part of an issued number, with the last event that touched it before a place in the sequence. */
const PART_LAST: SqlFunction = {
  name: 'part_last',
  parameters: 'of_edition text, of_label text, before integer',
  returns: 'TABLE (part text, last text)',
  language: 'sql',
  body: `
    SELECT p.value, coalesce(
      (SELECT e.type FROM event AS e
        WHERE e.label = i.label AND e.edition || '' = i.edition AND e.seq + 0 < before
          AND e.type IN (${quoteTexts(PART_EVENTS)}) AND (e.part IS NULL OR e.part = p.value)
          AND ${stands('e', 'before')}
        ORDER BY e.seq + 0 DESC LIMIT 1), 'issued')
    FROM event AS i, json_array_elements_text(coalesce(i.body::json -> 'parts', '[null]')) AS p (value)
    WHERE i.type || '' = 'issued' AND i.label = of_label AND i.edition || '' = of_edition AND i.seq + 0 < before
  `,
};

/** Functions and their texts, as the server keeps them to the letter. */
export const FUNCTIONS: readonly SqlFunction[] = [
  PART_LAST,
  ...TRIGGERS_AND_BODIES.map(([{ name }, body]) => ({
    ...{ name, parameters: '', returns: 'trigger', language: 'plpgsql' as const, body },
  })),
].map((one) => ({ ...one, body: readingText(one.body) }));

/**
 * Settings of every function. Names are looked up in the register's schema, whatever the session says. A function
 * keeps its plans from when the tables were small; those must not be to read them from end to end.
 */
export const FUNCTION_SETTINGS: Readonly<Record<string, string>> = {
  search_path: `${SCHEMA}, pg_catalog, pg_temp`,
  enable_seqscan: 'off',
};

/** Checks, by name. Few, since the server keeps a text of its own for them; the rest is in the functions. */
export const CHECKS: readonly { readonly table: string; readonly name: string; readonly check: string }[] = [
  { table: 'event', name: 'place', check: 'seq >= 0' },
  { table: 'event', name: 'body_is_object', check: `json_typeof(body::json) = 'object'` },
  { table: 'checkpoint', name: 'size_of_log', check: 'size >= 0' },
  { table: 'checkpoint', name: 'note_not_empty', check: 'length(note) > 0' },
  { table: 'checkpoint', name: 'frontier_of_hashes', check: 'length(frontier) % 32 = 0' },
];

const createFunction = ({ name, parameters, returns, language, body }: SqlFunction): string => `
  CREATE FUNCTION ${SCHEMA}.${name}(${parameters}) RETURNS ${returns} LANGUAGE ${language}${
    language === 'sql' ? ' STABLE' : ''
  }
    ${Object.entries(FUNCTION_SETTINGS)
      .map(([setting, value]) => `SET ${setting} = ${value}`)
      .join(' ')} AS $$${body}$$;`;

/** Fires also in sessions that copy from another server, where ordinary triggers rest (ENABLE ALWAYS). */
const createTrigger = ({ name, table, at }: SqlTrigger): string => `
  CREATE TRIGGER ${name} ${at} ON ${SCHEMA}.${table} FOR EACH ${at === 'AFTER INSERT' ? 'ROW' : 'STATEMENT'}
    EXECUTE FUNCTION ${SCHEMA}.${name}();
  ALTER TABLE ${SCHEMA}.${table} ENABLE ALWAYS TRIGGER ${name};`;

/** Makes the rules anew; they are no part of the numbered steps. */
export const CREATE_RULES: string = [
  ...FUNCTIONS.map(createFunction),
  ...TRIGGERS.map(createTrigger),
  ...CHECKS.map(
    ({ table, name, check }) => `
  ALTER TABLE ${SCHEMA}.${table} ADD CONSTRAINT ${name} CHECK (${check});`,
  ),
].join('\n');

/** Triggers of earlier forms. */
const EARLIER = [
  'event_on_disk',
  ...['event_names_once', 'event_names', 'event_of_issued_number', 'event_in_sequence', 'event_in_time'],
  ...[
    'issued_of_free_number',
    'issued_parts',
    'closed_before',
    'later_event_allowed',
    'released_from_withheld',
  ],
  ...[
    'withheld_before_delivery',
    'void_without_piece',
    'inspected_after_engraved',
    'delivered_after_inspected',
  ],
  ...['engraved_once', 'scrapped_once', 'destroyed_after_scrapped', 'destroyed_before_witness'],
  ...['recut_after_destroyed'],
];

/** Takes away the rules of any form. What the register did not make stays, for an audit to find. */
export const DROP_RULES: string = `
  DO $$
  DECLARE one record;
  BEGIN
    FOR one IN
      SELECT t.tgname AS trigger, t.tgrelid::regclass AS on_table FROM pg_trigger AS t
        JOIN pg_class AS c ON c.oid = t.tgrelid
        WHERE c.relnamespace = '${SCHEMA}'::regnamespace AND NOT t.tgisinternal
          AND t.tgname IN (${quoteTexts([...TRIGGERS.map(({ name }) => name), ...EARLIER])})
    LOOP
      EXECUTE format('DROP TRIGGER %I ON %s', one.trigger, one.on_table);
      EXECUTE format('DROP FUNCTION IF EXISTS ${SCHEMA}.%I()', one.trigger);
    END LOOP;
    FOR one IN
      SELECT conname AS name, conrelid::regclass AS on_table FROM pg_constraint
        WHERE connamespace = '${SCHEMA}'::regnamespace AND contype = 'c' AND conrelid <> 0
    LOOP
      EXECUTE format('ALTER TABLE %s DROP CONSTRAINT %I', one.on_table, one.name);
    END LOOP;
    DROP FUNCTION IF EXISTS ${SCHEMA}.part_last(text, text, integer);
  END $$;`;
