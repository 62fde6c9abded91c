/**
 * Second form of the tables: the whole life of a number. What an event may follow is asked of the events before it,
 * so that nothing beside them has to be kept right. Every trigger names the kinds it is for: issuing, which is what
 * benches wait for, passes all but its own.
 *
 * The state of a part is the last event that touched it. The text of a refusal is what an unaided hand at the
 * database reads; the program refuses first, in more words.
 */
export const LIFE = `
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

  -- Each part of each issued number, with the last event that touched it.
  CREATE VIEW part_last AS
    SELECT i.edition, i.label, p.value AS part, coalesce(
      (SELECT e.type FROM event AS e
        WHERE e.type <> 'issued' AND e.edition = i.edition AND e.label = i.label
          AND e.type IN ('engraved', 'scrapped', 'destroyed', 'recut') AND (e.part IS NULL OR e.part = p.value)
        ORDER BY e.seq DESC LIMIT 1), 'issued') AS last
    FROM event AS i, json_each(coalesce(i.parts, '[null]')) AS p
    WHERE i.type = 'issued';

  DROP TRIGGER event_names_once;
  CREATE TRIGGER event_names BEFORE INSERT ON event
  WHEN EXISTS (SELECT 1 FROM json_each(NEW.body) GROUP BY key HAVING count(*) > 1 OR key NOT IN ('at', 'by',
    'edition', 'key', 'label', 'nth', 'number', 'on', 'part', 'parts', 'salt', 'series', 'statement', 'to', 'type',
    'why', 'witness'))
  BEGIN SELECT RAISE(ABORT, 'a name stands twice in the text of the event, or is of no use there'); END;

  CREATE TRIGGER event_in_time AFTER INSERT ON event
  WHEN NEW.at < (SELECT at FROM event WHERE seq = NEW.seq - 1)
  BEGIN SELECT RAISE(ABORT, 'the event would be earlier than the one before it'); END;

  CREATE TRIGGER issued_of_free_number BEFORE INSERT ON event WHEN NEW.type = 'issued'
  BEGIN
    SELECT RAISE(ABORT, 'this edition is closed')
      WHERE EXISTS (SELECT 1 FROM event WHERE type = 'closed' AND edition = NEW.edition);
    SELECT RAISE(ABORT, 'this number is withheld or void')
      WHERE (SELECT type FROM event WHERE type <> 'issued' AND edition = NEW.edition AND label = NEW.label
               ORDER BY seq DESC LIMIT 1) IN ('withheld', 'void');
    SELECT RAISE(ABORT, 'this label belongs to another number')
      WHERE EXISTS (SELECT 1 FROM event WHERE type <> 'issued' AND edition = NEW.edition AND label = NEW.label
                      AND (series <> NEW.series OR number <> NEW.number));
    SELECT RAISE(ABORT, 'this number has another label')
      WHERE EXISTS (SELECT 1 FROM event WHERE type <> 'issued' AND edition = NEW.edition AND series = NEW.series
                      AND number = NEW.number AND label <> NEW.label);
  END;

  CREATE TRIGGER issued_parts BEFORE INSERT ON event WHEN NEW.parts IS NOT NULL
    AND EXISTS (SELECT 1 FROM json_each(NEW.parts) GROUP BY value HAVING count(*) > 1 OR type <> 'text')
  BEGIN SELECT RAISE(ABORT, 'the parts are to be names, each once'); END;

  CREATE TRIGGER closed_before BEFORE INSERT ON event WHEN NEW.type = 'closed'
  BEGIN
    SELECT RAISE(ABORT, 'this edition was closed before')
      WHERE EXISTS (SELECT 1 FROM event WHERE type = 'closed' AND edition = NEW.edition);
  END;

  DROP TRIGGER event_of_issued_number;
  CREATE TRIGGER later_event_allowed BEFORE INSERT ON event WHEN NEW.type NOT IN ('issued', 'closed')
  BEGIN
    SELECT RAISE(ABORT, 'this label belongs to another number')
      WHERE EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND edition = NEW.edition AND label = NEW.label
                      AND (series <> NEW.series OR number <> NEW.number))
        OR EXISTS (SELECT 1 FROM event WHERE type <> 'issued' AND edition = NEW.edition AND label = NEW.label
                      AND (series <> NEW.series OR number <> NEW.number));
    SELECT RAISE(ABORT, 'this number has another label')
      WHERE EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND edition = NEW.edition AND series = NEW.series
                      AND number = NEW.number AND label <> NEW.label)
        OR EXISTS (SELECT 1 FROM event WHERE type <> 'issued' AND edition = NEW.edition AND series = NEW.series
                      AND number = NEW.number AND label <> NEW.label);
    SELECT RAISE(ABORT, 'this edition is closed and the number was not issued')
      WHERE EXISTS (SELECT 1 FROM event WHERE type = 'closed' AND edition = NEW.edition)
        AND NOT EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND edition = NEW.edition AND label = NEW.label);
    SELECT RAISE(ABORT, 'this number is void')
      WHERE EXISTS (SELECT 1 FROM event WHERE type <> 'issued' AND edition = NEW.edition AND label = NEW.label
                      AND type = 'void');
    SELECT RAISE(ABORT, 'this number is withheld')
      WHERE NEW.type NOT IN ('released', 'void')
        AND (SELECT type FROM event WHERE type <> 'issued' AND edition = NEW.edition AND label = NEW.label
               AND type IN ('withheld', 'released') ORDER BY seq DESC LIMIT 1) IS 'withheld';
    SELECT RAISE(ABORT, 'no such number was issued')
      WHERE NEW.type NOT IN ('withheld', 'released', 'void')
        AND NOT EXISTS (SELECT 1 FROM event WHERE type = 'issued' AND edition = NEW.edition AND label = NEW.label);
    SELECT RAISE(ABORT, 'the piece has no such part')
      WHERE NEW.part IS NOT NULL
        AND NOT EXISTS (SELECT 1 FROM part_last WHERE edition = NEW.edition AND label = NEW.label
                          AND part = NEW.part);
  END;

  CREATE TRIGGER released_from_withheld BEFORE INSERT ON event WHEN NEW.type = 'released'
    AND (SELECT type FROM event WHERE type <> 'issued' AND edition = NEW.edition AND label = NEW.label
           AND type IN ('withheld', 'released') ORDER BY seq DESC LIMIT 1) IS NOT 'withheld'
  BEGIN SELECT RAISE(ABORT, 'this number is not withheld'); END;

  CREATE TRIGGER withheld_before_delivery BEFORE INSERT ON event WHEN NEW.type = 'withheld'
    AND ((SELECT type FROM event WHERE type <> 'issued' AND edition = NEW.edition AND label = NEW.label
            AND type NOT IN ('withheld', 'released') ORDER BY seq DESC LIMIT 1) IS 'delivered'
      OR EXISTS (SELECT 1 FROM part_last WHERE edition = NEW.edition AND label = NEW.label
                   AND last IN ('scrapped', 'destroyed')))
  BEGIN SELECT RAISE(ABORT, 'this number is delivered, scrapped or destroyed'); END;

  CREATE TRIGGER void_without_piece BEFORE INSERT ON event WHEN NEW.type = 'void'
    AND EXISTS (SELECT 1 FROM part_last WHERE edition = NEW.edition AND label = NEW.label
                  AND last IN ('engraved', 'scrapped'))
  BEGIN SELECT RAISE(ABORT, 'something still bears this number'); END;

  CREATE TRIGGER inspected_after_engraved BEFORE INSERT ON event WHEN NEW.type = 'inspected'
    AND (EXISTS (SELECT 1 FROM part_last WHERE edition = NEW.edition AND label = NEW.label AND last <> 'engraved')
      OR (SELECT type FROM event WHERE type <> 'issued' AND edition = NEW.edition AND label = NEW.label
            AND type NOT IN ('withheld', 'released') ORDER BY seq DESC LIMIT 1) IS NOT 'engraved')
  BEGIN SELECT RAISE(ABORT, 'this piece is not just engraved'); END;

  CREATE TRIGGER delivered_after_inspected BEFORE INSERT ON event WHEN NEW.type = 'delivered'
    AND (SELECT type FROM event WHERE type <> 'issued' AND edition = NEW.edition AND label = NEW.label
           AND type NOT IN ('withheld', 'released') ORDER BY seq DESC LIMIT 1) IS NOT 'inspected'
  BEGIN SELECT RAISE(ABORT, 'this piece is not just inspected'); END;

  CREATE TRIGGER engraved_once BEFORE INSERT ON event WHEN NEW.type = 'engraved'
    AND EXISTS (SELECT 1 FROM part_last WHERE edition = NEW.edition AND label = NEW.label
                  AND (NEW.part IS NULL OR part = NEW.part) AND last NOT IN ('issued', 'recut'))
  BEGIN SELECT RAISE(ABORT, 'this part is not blank'); END;

  CREATE TRIGGER scrapped_once BEFORE INSERT ON event WHEN NEW.type = 'scrapped'
    AND EXISTS (SELECT 1 FROM part_last WHERE edition = NEW.edition AND label = NEW.label
                  AND (NEW.part IS NULL OR part = NEW.part) AND last IN ('scrapped', 'destroyed'))
  BEGIN SELECT RAISE(ABORT, 'this part was scrapped before'); END;

  CREATE TRIGGER destroyed_after_scrapped BEFORE INSERT ON event WHEN NEW.type = 'destroyed'
    AND EXISTS (SELECT 1 FROM part_last WHERE edition = NEW.edition AND label = NEW.label
                  AND (NEW.part IS NULL OR part = NEW.part) AND last <> 'scrapped')
  BEGIN SELECT RAISE(ABORT, 'this part is not scrapped'); END;

  -- Spaces and the case of a to z alone: the database knows no more of names. The program compares all letters.
  CREATE TRIGGER destroyed_before_witness BEFORE INSERT ON event WHEN NEW.type = 'destroyed'
    AND lower(replace(replace(replace(trim(NEW.who), ' ', char(1, 2)), char(2, 1), ''), char(1, 2), ' '))
      = lower(replace(replace(replace(trim(NEW.witness), ' ', char(1, 2)), char(2, 1), ''), char(1, 2), ' '))
  BEGIN SELECT RAISE(ABORT, 'the witness is the one who records'); END;

  CREATE TRIGGER recut_after_destroyed BEFORE INSERT ON event WHEN NEW.type = 'recut'
    AND EXISTS (SELECT 1 FROM part_last WHERE edition = NEW.edition AND label = NEW.label
                  AND (NEW.part IS NULL OR part = NEW.part) AND last <> 'destroyed')
  BEGIN SELECT RAISE(ABORT, 'this part is not destroyed: the number would be on two pieces'); END;

  -- Signed states of the log. The frontier is the roots of its complete subtrees, largest first, end to end.
  CREATE TABLE checkpoint (
    size     INTEGER PRIMARY KEY CHECK (size >= 0),
    note     TEXT NOT NULL CHECK (length(note) > 0),
    frontier BLOB NOT NULL CHECK (length(frontier) % 32 = 0)
  ) STRICT;

  CREATE TRIGGER checkpoint_not_changed BEFORE UPDATE ON checkpoint
  BEGIN SELECT RAISE(ABORT, 'a checkpoint is never changed'); END;

  CREATE TRIGGER checkpoint_not_deleted BEFORE DELETE ON checkpoint
  BEGIN SELECT RAISE(ABORT, 'a checkpoint is never deleted'); END;

  CREATE TRIGGER checkpoint_of_events BEFORE INSERT ON checkpoint
  BEGIN
    SELECT RAISE(ABORT, 'there is a checkpoint of this size')
      WHERE EXISTS (SELECT 1 FROM checkpoint WHERE size = NEW.size);
    SELECT RAISE(ABORT, 'there are not so many events')
      WHERE NEW.size > (SELECT coalesce(max(seq), -1) + 1 FROM event);
  END;
  `;
