import { CREATE_RULES, DROP_RULES, SCHEMA } from './rules.js';

/** A column computed from the text. "C": bytes are compared, whatever the language of the server or its next version. */
export const textColumn = (member: string) =>
  `text COLLATE "C" GENERATED ALWAYS AS (body::json ->> '${member}') STORED`;

/** The table that counts the steps. */
export const SCHEMA_VERSION = `CREATE TABLE ${SCHEMA}.schema_version (version integer PRIMARY KEY, at text NOT NULL)`;

/**
 * Tables and indexes, in the numbered steps of the SQLite register. A step that was ever released is never changed.
 * Functions, triggers and checks are no part of them: they are taken away before the steps and made anew after
 * (`rules.ts`).
 *
 * The text is `text`, not a JSON type: its bytes are hashed.
 *
 * Writers that know nothing of each other do no harm. An event is refused unless its trigger sees the one before it in
 * the sequence, and so, by induction, every one before it; and only one event can have the next place, which the
 * primary key sees to. Of two transactions that decide by the same past, one fails.
 */
export const STEPS: readonly string[] = [
  `
  CREATE TABLE ${SCHEMA}.event (
    seq     integer PRIMARY KEY,
    body    text COLLATE "C" NOT NULL,
    leaf    bytea NOT NULL,
    type    ${textColumn('type')} NOT NULL,
    edition ${textColumn('edition')} NOT NULL,
    series  ${textColumn('series')},
    number  integer GENERATED ALWAYS AS ((body::json ->> 'number')::integer) STORED,
    label   ${textColumn('label')},
    who     ${textColumn('by')} NOT NULL,
    at      ${textColumn('at')} NOT NULL,
    why     ${textColumn('why')} NOT NULL,
    key     ${textColumn('key')},
    nth     integer GENERATED ALWAYS AS ((body::json ->> 'nth')::integer) STORED
  );

  CREATE UNIQUE INDEX issued_label  ON ${SCHEMA}.event (edition, label)          WHERE type = 'issued';
  CREATE UNIQUE INDEX issued_number ON ${SCHEMA}.event (edition, series, number) WHERE type = 'issued';
  CREATE UNIQUE INDEX request_nth   ON ${SCHEMA}.event (key, nth)                WHERE key IS NOT NULL;
  -- Of every event, and what tells most first: the triggers are to find a number by no other (see \`rules.ts\`).
  CREATE INDEX event_of_label ON ${SCHEMA}.event (label, edition, seq);
  `,
  // The whole life of a number, and checkpoints.
  `
  ALTER TABLE ${SCHEMA}.event
    ADD COLUMN part ${textColumn('part')},
    ADD COLUMN witness ${textColumn('witness')},
    ADD COLUMN recipient ${textColumn('to')},
    ADD COLUMN parts json GENERATED ALWAYS AS (body::json -> 'parts') STORED,
    ADD COLUMN statement ${textColumn('statement')},
    ADD COLUMN salt ${textColumn('salt')},
    ADD COLUMN told ${textColumn('on')},
    ADD COLUMN of_number boolean GENERATED ALWAYS AS ((body::json ->> 'series') IS NOT NULL) STORED;

  CREATE INDEX event_of_number ON ${SCHEMA}.event (number, series, edition, seq);
  CREATE UNIQUE INDEX closed_once ON ${SCHEMA}.event (edition) WHERE type = 'closed';

  -- Signed states of the log. The frontier is the roots of its complete subtrees, largest first, end to end.
  CREATE TABLE ${SCHEMA}.checkpoint (
    size     integer PRIMARY KEY,
    note     text COLLATE "C" NOT NULL,
    frontier bytea NOT NULL
  );
  `,
  // A register file that was moved says so; a server's has no such step, and keeps the number free.
  '',
  // Checks moved to the triggers, which can be changed later.
  `
  ALTER TABLE ${SCHEMA}.event DROP COLUMN of_number;
  ALTER TABLE ${SCHEMA}.event RENAME COLUMN told TO occurred_on;
  `,
  // The terms of editions.
  `
  ALTER TABLE ${SCHEMA}.event
    ADD COLUMN name ${textColumn('name')},
    ADD COLUMN terms json GENERATED ALWAYS AS (body::json -> 'terms') STORED;

  CREATE UNIQUE INDEX opened_once ON ${SCHEMA}.event (edition) WHERE type = 'opened';
  CREATE INDEX terms_of_edition ON ${SCHEMA}.event (edition, seq) WHERE terms IS NOT NULL;
  `,
  // Corrections, and traces of programs and certificates.
  `
  ALTER TABLE ${SCHEMA}.event
    ADD COLUMN corrects integer GENERATED ALWAYS AS ((body::json ->> 'corrects')::integer) STORED,
    ADD COLUMN day ${textColumn('day')},
    ADD COLUMN station ${textColumn('station')},
    ADD COLUMN digest ${textColumn('digest')},
    ADD COLUMN serial integer GENERATED ALWAYS AS ((body::json ->> 'serial')::integer) STORED;

  CREATE INDEX correction ON ${SCHEMA}.event (corrects) WHERE corrects IS NOT NULL;
  `,
  // Going on past a bad entry, and after a loss.
  `
  ALTER TABLE ${SCHEMA}.event
    ADD COLUMN fault ${textColumn('fault')},
    ADD COLUMN missing integer GENERATED ALWAYS AS ((body::json ->> 'missing')::integer) STORED;

  CREATE INDEX loss ON ${SCHEMA}.event (seq) WHERE missing IS NOT NULL;
  CREATE INDEX resumption ON ${SCHEMA}.event (seq) WHERE type = 'resumed';
  `,
  // What a statement was made from. A closing that is passed over lets the edition be closed again.
  `
  ALTER TABLE ${SCHEMA}.event
    ADD COLUMN stated json GENERATED ALWAYS AS (body::json -> 'stated') STORED;

  DROP INDEX ${SCHEMA}.closed_once;
  CREATE INDEX closing ON ${SCHEMA}.event (edition) WHERE type = 'closed';
  `,
  // The same rules in other words, which the server goes through in half the time. The tables are as they were.
  '',
  // No serial and no loss so large that a certificate could not have the next. The tables are as they were.
  '',
  // A column is computed only for an index or a question: each one costs every entry. The rules read the text.
  `
  ALTER TABLE ${SCHEMA}.event
    DROP COLUMN who, DROP COLUMN why, DROP COLUMN part, DROP COLUMN witness, DROP COLUMN recipient, DROP COLUMN parts,
    DROP COLUMN statement, DROP COLUMN salt, DROP COLUMN occurred_on, DROP COLUMN day, DROP COLUMN station,
    DROP COLUMN digest, DROP COLUMN serial, DROP COLUMN fault, DROP COLUMN stated;
  `,
  // One trigger less, and no kind of event is asked for another. The tables are as they were.
  '',
  // A number is written as its terms have it, and only a keeper changes them. The tables are as they were.
  '',
];

/** Brings tables from one form to the newest. Runs in one transaction. */
export function migrationFrom(form: number): string {
  return [DROP_RULES, ...STEPS.slice(form), CREATE_RULES].join('\n');
}
