import { LIFE } from './life.js';
import { onlyAdded, refuses, SCHEMA, trigger } from './trigger.js';

export { SCHEMA };

/** A column computed from the text. "C": bytes are compared, whatever the language of the server or its next version. */
const told = (name: string) => `text COLLATE "C" GENERATED ALWAYS AS (body::json ->> '${name}') STORED`;
const isText = (name: string) => `json_typeof(body::json -> '${name}') = 'string'`;
const isNumber = (name: string) => `json_typeof(body::json -> '${name}') = 'number'`;

/**
 * The tables, in the numbered steps of the SQLite register. A step that was ever released is never changed.
 *
 * The text is \`text\`, not a JSON type: its bytes are hashed. Triggers look at a row once it is in, and at the events
 * before it in the sequence only, so that it does not matter how many rows come in one statement.
 *
 * Writers that know nothing of each other do no harm. An event is refused unless its trigger sees the one before it in
 * the sequence, and so, by induction, every one before it; and only one event can have the next place, which the
 * primary key sees to. Of two transactions that judge by the same past, one fails.
 */
export const MIGRATIONS: readonly string[] = [
  `
  CREATE TABLE ${SCHEMA}.event (
    seq     integer PRIMARY KEY CHECK (seq >= 0),
    body    text COLLATE "C" NOT NULL CHECK (json_typeof(body::json) = 'object'),
    leaf    bytea NOT NULL CONSTRAINT leaf_of_text CHECK (leaf = sha256('\\x00'::bytea || convert_to(body, 'UTF8'))),
    type    ${told('type')} NOT NULL CHECK (${isText('type')}),
    edition ${told('edition')} NOT NULL CHECK (${isText('edition')}),
    series  ${told('series')},
    number  integer GENERATED ALWAYS AS ((body::json ->> 'number')::integer) STORED,
    label   ${told('label')},
    who     ${told('by')} NOT NULL CHECK (${isText('by')}),
    at      ${told('at')} NOT NULL CHECK (${isText('at')}
            AND at ~ '^[0-9]{4}-[01][0-9]-[0-3][0-9]T[0-2][0-9]:[0-5][0-9]:[0-5][0-9][.][0-9]{3}Z$'),
    why     ${told('why')} NOT NULL CHECK (${isText('why')}),
    key     ${told('key')},
    nth     integer GENERATED ALWAYS AS ((body::json ->> 'nth')::integer) STORED,
    -- An event of a number names it wholly; one of the edition as a whole does not name any.
    CHECK (
      CASE WHEN series IS NULL AND number IS NULL AND label IS NULL THEN type <> 'issued'
        ELSE coalesce(${isText('series')} AND ${isNumber('number')} AND number >= 1 AND ${isText('label')}, false) END
    ),
    CHECK (
      CASE WHEN key IS NULL AND nth IS NULL THEN true
        ELSE coalesce(${isText('key')} AND ${isNumber('nth')} AND nth >= 1, false) END
    )
  );

  CREATE UNIQUE INDEX issued_label  ON ${SCHEMA}.event (edition, label)          WHERE type = 'issued';
  CREATE UNIQUE INDEX issued_number ON ${SCHEMA}.event (edition, series, number) WHERE type = 'issued';
  CREATE UNIQUE INDEX request_nth   ON ${SCHEMA}.event (key, nth)                WHERE key IS NOT NULL;
  -- Of every event, and what tells most first: the triggers are to find a number by no other (see \`life.ts\`).
  CREATE INDEX event_of_label ON ${SCHEMA}.event (label, edition, seq);
  ${onlyAdded('event', 'an event')}
  ${trigger(
    'event_on_disk',
    { at: 'BEFORE INSERT' },
    refuses(
      'this session does not wait for the disk (synchronous_commit)',
      `current_setting('synchronous_commit') IN ('off', 'local')`,
    ),
  )}
  ${trigger(
    'event_names_once',
    { at: 'AFTER INSERT' },
    refuses(
      'a name stands twice in the text of the event',
      'EXISTS (SELECT 1 FROM json_object_keys(NEW.body::json) AS name GROUP BY name HAVING count(*) > 1)',
    ),
  )}
  ${trigger(
    'event_of_issued_number',
    { at: 'AFTER INSERT', when: `NEW.type <> 'issued' AND NEW.label IS NOT NULL` },
    refuses(
      'no such number was issued',
      `NOT EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND edition = NEW.edition AND label = NEW.label
        AND series = NEW.series AND number = NEW.number AND seq < NEW.seq)`,
    ),
  )}
  ${trigger(
    'event_in_sequence',
    { at: 'AFTER INSERT', when: 'NEW.seq <> 0' },
    refuses(
      'the sequence of events would have a gap',
      'NOT EXISTS (SELECT 1 FROM event WHERE seq = NEW.seq - 1)',
    ),
  )}
  `,
  LIFE,
  // A register file that was moved says so; a server's has no such step, and keeps the number free.
  '-- nothing to be done here',
];
