import { DROP_RULES } from './rules.js';

/** Marks the file as a register ("buri"), so that another program's database is not written into. */
export const APPLICATION_ID = 0x62757269;

/** The table that counts the steps. */
export const SCHEMA_VERSION =
  'CREATE TABLE schema_version (version INTEGER PRIMARY KEY, at TEXT NOT NULL) STRICT';

/**
 * Tables and indexes, in numbered steps that only go forward. A step that was ever released is never changed. Triggers
 * are no part of them: they are taken away before the steps and made anew after (`rules.ts`).
 */
export const STEPS: readonly string[] = [
  `
  CREATE TABLE event (
    seq     INTEGER PRIMARY KEY CHECK (seq >= 0),
    body    TEXT NOT NULL CHECK (json_valid(body) AND json_type(body) = 'object'),
    leaf    BLOB NOT NULL CHECK (length(leaf) = 32),
    type    TEXT    GENERATED ALWAYS AS (body ->> '$.type') VIRTUAL CHECK (json_type(body, '$.type') IS 'text'),
    edition TEXT    GENERATED ALWAYS AS (body ->> '$.edition') VIRTUAL CHECK (json_type(body, '$.edition') IS 'text'),
    series  TEXT    GENERATED ALWAYS AS (body ->> '$.series') VIRTUAL,
    number  INTEGER GENERATED ALWAYS AS (body ->> '$.number') VIRTUAL,
    label   TEXT    GENERATED ALWAYS AS (body ->> '$.label') VIRTUAL,
    who     TEXT    GENERATED ALWAYS AS (body ->> '$.by') VIRTUAL CHECK (json_type(body, '$.by') IS 'text'),
    at      TEXT    GENERATED ALWAYS AS (body ->> '$.at') VIRTUAL
            CHECK (json_type(body, '$.at') IS 'text' AND at GLOB '[0-9][0-9][0-9][0-9]-[0-1][0-9]-[0-3][0-9]T[0-2][0-9]:[0-5][0-9]:[0-5][0-9].[0-9][0-9][0-9]Z'),
    why     TEXT    GENERATED ALWAYS AS (body ->> '$.why') VIRTUAL CHECK (json_type(body, '$.why') IS 'text'),
    key     TEXT    GENERATED ALWAYS AS (body ->> '$.key') VIRTUAL,
    nth     INTEGER GENERATED ALWAYS AS (body ->> '$.nth') VIRTUAL,
    -- An event of a number names it wholly; one of the edition as a whole does not name any.
    CHECK (
      (json_type(body, '$.series') IS 'text' AND json_type(body, '$.number') IS 'integer' AND number >= 1
        AND json_type(body, '$.label') IS 'text')
      OR (type <> 'issued' AND series IS NULL AND number IS NULL AND label IS NULL)
    ),
    CHECK (
      (json_type(body, '$.key') IS 'text' AND json_type(body, '$.nth') IS 'integer' AND nth >= 1)
      OR (key IS NULL AND nth IS NULL)
    )
  ) STRICT;

  CREATE UNIQUE INDEX issued_label  ON event (edition, label)          WHERE type = 'issued';
  CREATE UNIQUE INDEX issued_number ON event (edition, series, number) WHERE type = 'issued';
  CREATE UNIQUE INDEX request_nth   ON event (key, nth)                WHERE key IS NOT NULL;
  -- What happens after the issue; apart, so that issuing need not write it.
  CREATE INDEX later_event ON event (edition, label) WHERE type <> 'issued';
  `,
  // The whole life of a number, and checkpoints.
  `
  ALTER TABLE event ADD COLUMN part TEXT GENERATED ALWAYS AS (body ->> '$.part') VIRTUAL CHECK (
    json_type(body, '$.part') IS NULL
    OR (json_type(body, '$.part') IS 'text' AND type IN ('engraved', 'scrapped', 'destroyed', 'recut')));
  ALTER TABLE event ADD COLUMN witness TEXT GENERATED ALWAYS AS (body ->> '$.witness') VIRTUAL
    CHECK (json_type(body, '$.witness') IS CASE type WHEN 'destroyed' THEN 'text' END);
  ALTER TABLE event ADD COLUMN recipient TEXT GENERATED ALWAYS AS (body ->> '$.to') VIRTUAL CHECK (
    json_type(body, '$.to') IS NULL OR (json_type(body, '$.to') IS 'text' AND type IS 'delivered'));
  ALTER TABLE event ADD COLUMN parts TEXT GENERATED ALWAYS AS (body -> '$.parts') VIRTUAL CHECK (
    json_type(body, '$.parts') IS NULL
    OR (json_type(body, '$.parts') IS 'array' AND type IS 'issued' AND json_array_length(body, '$.parts') > 0));
  ALTER TABLE event ADD COLUMN statement TEXT GENERATED ALWAYS AS (body ->> '$.statement') VIRTUAL CHECK (
    CASE type WHEN 'closed'
      THEN json_type(body, '$.statement') IS 'text' AND length(statement) = 64 AND statement NOT GLOB '*[^0-9a-f]*'
      ELSE json_type(body, '$.statement') IS NULL END);
  ALTER TABLE event ADD COLUMN salt TEXT GENERATED ALWAYS AS (body ->> '$.salt') VIRTUAL CHECK (
    json_type(body, '$.salt') IS NULL
    OR (json_type(body, '$.salt') IS 'text' AND length(salt) = 22 AND salt NOT GLOB '*[^A-Za-z0-9+/]*'));
  ALTER TABLE event ADD COLUMN told TEXT GENERATED ALWAYS AS (body ->> '$.on') VIRTUAL
    CHECK (json_type(body, '$.on') IS NULL OR json_type(body, '$.on') IS 'text');
  ALTER TABLE event ADD COLUMN of_number INTEGER GENERATED ALWAYS AS (series IS NOT NULL) VIRTUAL CHECK (
    of_number = (type <> 'closed')
    AND type IN ('issued', 'engraved', 'inspected', 'delivered', 'withheld', 'released', 'scrapped', 'destroyed',
      'recut', 'void', 'closed'));

  CREATE INDEX later_number ON event (edition, series, number) WHERE type <> 'issued';
  CREATE UNIQUE INDEX closed_once ON event (edition) WHERE type = 'closed';

  -- Signed states of the log. The frontier is the roots of its complete subtrees, largest first, end to end.
  CREATE TABLE checkpoint (
    size     INTEGER PRIMARY KEY CHECK (size >= 0),
    note     TEXT NOT NULL CHECK (length(note) > 0),
    frontier BLOB NOT NULL CHECK (length(frontier) % 32 = 0)
  ) STRICT;
  `,
  // A register that was moved to a server says where to.
  `
  CREATE TABLE moved (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    -- Host and database, without user or password.
    register TEXT NOT NULL CHECK (length(register) > 0),
    at TEXT NOT NULL
  ) STRICT;
  `,
  // What may stand in which kind of event is left to the triggers: a check in a table cannot be changed later.
  `
  ALTER TABLE event DROP COLUMN of_number;
  ALTER TABLE event DROP COLUMN part;
  ALTER TABLE event DROP COLUMN witness;
  ALTER TABLE event DROP COLUMN recipient;
  ALTER TABLE event DROP COLUMN parts;
  ALTER TABLE event DROP COLUMN statement;
  ALTER TABLE event DROP COLUMN told;
  ALTER TABLE event ADD COLUMN part TEXT GENERATED ALWAYS AS (body ->> '$.part') VIRTUAL
    CHECK (json_type(body, '$.part') IS NULL OR json_type(body, '$.part') IS 'text');
  ALTER TABLE event ADD COLUMN witness TEXT GENERATED ALWAYS AS (body ->> '$.witness') VIRTUAL
    CHECK (json_type(body, '$.witness') IS NULL OR json_type(body, '$.witness') IS 'text');
  ALTER TABLE event ADD COLUMN recipient TEXT GENERATED ALWAYS AS (body ->> '$.to') VIRTUAL
    CHECK (json_type(body, '$.to') IS NULL OR json_type(body, '$.to') IS 'text');
  ALTER TABLE event ADD COLUMN parts TEXT GENERATED ALWAYS AS (body -> '$.parts') VIRTUAL
    CHECK (json_type(body, '$.parts') IS NULL OR json_type(body, '$.parts') IS 'array');
  ALTER TABLE event ADD COLUMN statement TEXT GENERATED ALWAYS AS (body ->> '$.statement') VIRTUAL CHECK (
    json_type(body, '$.statement') IS NULL OR (json_type(body, '$.statement') IS 'text'
      AND length(statement) = 64 AND statement NOT GLOB '*[^0-9a-f]*'));
  ALTER TABLE event ADD COLUMN occurred_on TEXT GENERATED ALWAYS AS (body ->> '$.on') VIRTUAL
    CHECK (json_type(body, '$.on') IS NULL OR json_type(body, '$.on') IS 'text');
  `,
  // The terms of editions.
  `
  ALTER TABLE event ADD COLUMN name TEXT GENERATED ALWAYS AS (body ->> '$.name') VIRTUAL
    CHECK (json_type(body, '$.name') IS NULL OR json_type(body, '$.name') IS 'text');
  ALTER TABLE event ADD COLUMN terms TEXT GENERATED ALWAYS AS (body -> '$.terms') VIRTUAL
    CHECK (json_type(body, '$.terms') IS NULL OR json_type(body, '$.terms') IS 'object');

  CREATE UNIQUE INDEX opened_once ON event (edition) WHERE type = 'opened';
  CREATE INDEX terms_of_edition ON event (edition, seq) WHERE terms IS NOT NULL;
  `,
  // Corrections, and traces of programs and certificates.
  `
  ALTER TABLE event ADD COLUMN corrects INTEGER GENERATED ALWAYS AS (body ->> '$.corrects') VIRTUAL
    CHECK (json_type(body, '$.corrects') IS NULL OR (json_type(body, '$.corrects') IS 'integer' AND corrects >= 0));
  ALTER TABLE event ADD COLUMN day TEXT GENERATED ALWAYS AS (body ->> '$.day') VIRTUAL
    CHECK (json_type(body, '$.day') IS NULL OR json_type(body, '$.day') IS 'text');
  ALTER TABLE event ADD COLUMN station TEXT GENERATED ALWAYS AS (body ->> '$.station') VIRTUAL
    CHECK (json_type(body, '$.station') IS NULL OR json_type(body, '$.station') IS 'text');
  ALTER TABLE event ADD COLUMN digest TEXT GENERATED ALWAYS AS (body ->> '$.digest') VIRTUAL CHECK (
    json_type(body, '$.digest') IS NULL OR (json_type(body, '$.digest') IS 'text'
      AND length(digest) = 64 AND digest NOT GLOB '*[^0-9a-f]*'));
  ALTER TABLE event ADD COLUMN serial INTEGER GENERATED ALWAYS AS (body ->> '$.serial') VIRTUAL
    CHECK (json_type(body, '$.serial') IS NULL OR (json_type(body, '$.serial') IS 'integer' AND serial >= 1));

  CREATE INDEX correction ON event (corrects) WHERE corrects IS NOT NULL;
  `,
  // Going on past a bad entry, and after a loss. Without a check: what is there may be such an entry.
  `
  ALTER TABLE event ADD COLUMN fault TEXT GENERATED ALWAYS AS (body ->> '$.fault') VIRTUAL;
  ALTER TABLE event ADD COLUMN missing INTEGER GENERATED ALWAYS AS (body ->> '$.missing') VIRTUAL;

  CREATE INDEX resumption ON event (seq) WHERE type = 'resumed';
  CREATE INDEX loss ON event (seq) WHERE missing IS NOT NULL;
  `,
  // What a statement was made from. A closing that is passed over lets the edition be closed again.
  `
  ALTER TABLE event ADD COLUMN stated TEXT GENERATED ALWAYS AS (body -> '$.stated') VIRTUAL;

  DROP INDEX closed_once;
  CREATE INDEX closing ON event (edition) WHERE type = 'closed';
  `,
  // A server has a step here, for rules in other words.
  '',
  // No serial and no loss so large that a certificate could not have the next. The tables are as they were.
  '',
  // A number is written as its terms have it. The tables are as they were.
  '',
];

/** Brings tables from one form to the newest, without their rules, which are made anew after. */
export function migrationFrom(form: number): string {
  return [DROP_RULES, ...STEPS.slice(form)].join('\n');
}
