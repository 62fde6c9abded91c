import { LIFE } from './life.js';
import { MOVED } from './moved.js';

/**
 * The tables, in numbered steps that only go forward. A step that was ever released is never changed.
 *
 * Inserts are looked at before SQLite resolves conflicts: `INSERT OR REPLACE` would otherwise delete a kept event
 * without any delete trigger firing.
 */
export const MIGRATIONS: readonly string[] = [
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

  CREATE TRIGGER event_not_changed BEFORE UPDATE ON event
  BEGIN SELECT RAISE(ABORT, 'an event is never changed'); END;

  CREATE TRIGGER event_not_deleted BEFORE DELETE ON event
  BEGIN SELECT RAISE(ABORT, 'an event is never deleted'); END;

  CREATE TRIGGER event_not_replaced BEFORE INSERT ON event
  BEGIN
    SELECT RAISE(ABORT, 'this place in the sequence is taken')
      WHERE EXISTS (SELECT 1 FROM event WHERE seq = NEW.seq);
    SELECT RAISE(ABORT, 'this label was issued before')
      WHERE NEW.type = 'issued'
        AND EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND edition = NEW.edition AND label = NEW.label);
    SELECT RAISE(ABORT, 'this number was issued before')
      WHERE NEW.type = 'issued'
        AND EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND edition = NEW.edition
                      AND series = NEW.series AND number = NEW.number);
    SELECT RAISE(ABORT, 'this request was carried out before')
      WHERE NEW.key IS NOT NULL
        AND EXISTS (SELECT 1 FROM event WHERE key IS NOT NULL AND key = NEW.key AND nth = NEW.nth);
  END;

  -- A name given twice would let a reader of the text and the computed columns see different values.
  CREATE TRIGGER event_names_once BEFORE INSERT ON event
  WHEN EXISTS (SELECT 1 FROM json_each(NEW.body) GROUP BY key HAVING count(*) > 1)
  BEGIN SELECT RAISE(ABORT, 'a name stands twice in the text of the event'); END;

  CREATE TRIGGER event_of_issued_number BEFORE INSERT ON event
  WHEN NEW.type <> 'issued' AND NEW.label IS NOT NULL
    AND NOT EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND edition = NEW.edition AND label = NEW.label
                      AND series = NEW.series AND number = NEW.number)
  BEGIN SELECT RAISE(ABORT, 'no such number was issued'); END;

  -- After, not before: only then is a place that was left to the database known.
  CREATE TRIGGER event_in_sequence AFTER INSERT ON event
  WHEN NEW.seq <> 0 AND NOT EXISTS (SELECT 1 FROM event WHERE seq = NEW.seq - 1)
  BEGIN SELECT RAISE(ABORT, 'the sequence of events would have a gap'); END;
  `,
  LIFE,
  MOVED,
];
