import { onlyAdded, refuses, SCHEMA, SETTINGS, trigger } from './trigger.js';

const column = (name: string, told: string) =>
  `ADD COLUMN ${name} text COLLATE "C" GENERATED ALWAYS AS (body::json ->> '${told}') STORED`;
/** The kind of a value in the text, nothing at all being a kind. */
const kind = (name: string) => `coalesce(json_typeof(body::json -> '${name}'), '')`;

// A function keeps the plans it made while the tables were small, when one index looked as good as another. So each
// condition is written for one index alone: what is joined with '' or 0 is compared row by row.
const BEFORE = `edition || '' = NEW.edition AND seq + 0 < NEW.seq`;
const OF_LABEL = `label = NEW.label AND ${BEFORE}`;
const OF_NUMBER = `number = NEW.number AND series || '' = NEW.series AND ${BEFORE}`;
const ISSUED = `EXISTS (SELECT 1 FROM event WHERE type || '' = 'issued' AND ${OF_LABEL})`;
const CLOSED = `EXISTS (SELECT 1 FROM event WHERE type = 'closed' AND edition = NEW.edition AND seq + 0 < NEW.seq)`;
/** The last of the later events of the number, of the types the condition leaves; '' when there is none. */
const last = (which: string) =>
  `coalesce((SELECT type FROM event WHERE type <> 'issued' AND ${OF_LABEL} AND ${which}
        ORDER BY seq + 0 DESC LIMIT 1), '')`;
const LAST_KEPT_BACK = last(`type IN ('withheld', 'released')`);
const LAST_OTHER = last(`type NOT IN ('withheld', 'released')`);
const somePart = (which: string) =>
  `EXISTS (SELECT 1 FROM part_last(NEW.edition, NEW.label, NEW.seq) WHERE ${which})`;
const someOfThese = (which: string) => somePart(`(NEW.part IS NULL OR part = NEW.part) AND ${which}`);
/** As far as databases agree on names: outer spaces, runs of spaces, and the case of a to z. */
const person = (name: string) => `lower(regexp_replace(trim(${name}), ' +', ' ', 'g') COLLATE "C")`;

const known = (of: string, but: string) => `EXISTS (SELECT 1 FROM event WHERE ${of} AND ${but})`;
const otherNumber = known(OF_LABEL, '(series <> NEW.series OR number <> NEW.number)');
const otherLabel = known(OF_NUMBER, 'label <> NEW.label');

const before = (name: string, type: string, body: string) =>
  trigger(name, { at: 'AFTER INSERT', when: `NEW.type = '${type}'` }, body);

/**
 * Second form of the tables: the whole life of a number. What an event may follow is asked of the events before it,
 * so that nothing beside them has to be kept right. Every trigger names the kinds it is for: issuing, which is what
 * benches wait for, passes all but its own.
 *
 * The state of a part is the last event that touched it. The text of a refusal is what an unaided hand at the
 * database reads; the program refuses first, in more words.
 */
export const LIFE = `
  ALTER TABLE ${SCHEMA}.event
    ${column('part', 'part')},
    ${column('witness', 'witness')},
    ${column('recipient', 'to')},
    ADD COLUMN parts json GENERATED ALWAYS AS (body::json -> 'parts') STORED,
    ${column('statement', 'statement')},
    ${column('salt', 'salt')},
    ${column('told', 'on')},
    ADD COLUMN of_number boolean GENERATED ALWAYS AS ((body::json ->> 'series') IS NOT NULL) STORED,
    ADD CHECK (${kind('part')} = ''
      OR (${kind('part')} = 'string' AND type IN ('engraved', 'scrapped', 'destroyed', 'recut'))),
    ADD CHECK (${kind('witness')} = CASE type WHEN 'destroyed' THEN 'string' ELSE '' END),
    ADD CHECK (${kind('to')} = '' OR (${kind('to')} = 'string' AND type = 'delivered')),
    ADD CHECK (CASE ${kind('parts')} WHEN '' THEN true
      WHEN 'array' THEN type = 'issued' AND json_array_length(body::json -> 'parts') > 0 ELSE false END),
    ADD CHECK (CASE type WHEN 'closed' THEN ${kind('statement')} = 'string' AND statement ~ '^[0-9a-f]{64}$'
      ELSE ${kind('statement')} = '' END),
    ADD CHECK (${kind('salt')} = '' OR (${kind('salt')} = 'string' AND salt ~ '^[A-Za-z0-9+/]{22}$')),
    ADD CHECK (${kind('on')} IN ('', 'string')),
    ADD CHECK (of_number = (type <> 'closed') AND type IN ('issued', 'engraved', 'inspected', 'delivered',
      'withheld', 'released', 'scrapped', 'destroyed', 'recut', 'void', 'closed'));

  CREATE INDEX event_of_number ON ${SCHEMA}.event (number, series, edition, seq);
  CREATE UNIQUE INDEX closed_once ON ${SCHEMA}.event (edition) WHERE type = 'closed';

  -- Each part of an issued number, with the last event that touched it before a place in the sequence.
  CREATE FUNCTION ${SCHEMA}.part_last(of_edition text, of_label text, before integer)
    RETURNS TABLE (part text, last text) LANGUAGE sql STABLE
    ${SETTINGS} AS $$
    SELECT p.value, coalesce(
      (SELECT e.type FROM event AS e
        WHERE e.label = i.label AND e.edition || '' = i.edition AND e.seq + 0 < before
          AND e.type IN ('engraved', 'scrapped', 'destroyed', 'recut') AND (e.part IS NULL OR e.part = p.value)
        ORDER BY e.seq + 0 DESC LIMIT 1), 'issued')
    FROM event AS i, json_array_elements_text(coalesce(i.parts, '[null]')) AS p (value)
    WHERE i.type || '' = 'issued' AND i.label = of_label AND i.edition || '' = of_edition AND i.seq + 0 < before
  $$;

  DROP TRIGGER event_names_once ON ${SCHEMA}.event;
  DROP FUNCTION ${SCHEMA}.event_names_once();
  ${trigger(
    'event_names',
    { at: 'AFTER INSERT' },
    refuses(
      'a name stands twice in the text of the event, or is of no use there',
      `EXISTS (SELECT 1 FROM json_object_keys(NEW.body::json) AS name GROUP BY name HAVING count(*) > 1
      OR name NOT IN ('at', 'by', 'edition', 'key', 'label', 'nth', 'number', 'on', 'part', 'parts', 'salt',
        'series', 'statement', 'to', 'type', 'why', 'witness'))`,
    ),
  )}
  ${trigger(
    'event_in_time',
    { at: 'AFTER INSERT' },
    refuses(
      'the event would be earlier than the one before it',
      'NEW.at < (SELECT at FROM event WHERE seq = NEW.seq - 1)',
    ),
  )}
  ${before(
    'issued_of_free_number',
    'issued',
    refuses('this edition is closed', CLOSED) +
      refuses('this number is withheld or void', `${last('true')} IN ('withheld', 'void')`) +
      refuses('this label belongs to another number', otherNumber) +
      refuses('this number has another label', otherLabel),
  )}
  ${trigger(
    'issued_parts',
    { at: 'AFTER INSERT', when: 'NEW.parts IS NOT NULL' },
    refuses(
      'the parts are to be names, each once',
      `EXISTS (SELECT 1 FROM json_array_elements(NEW.parts) AS p (value)
        GROUP BY value #>> '{}' HAVING count(*) > 1 OR min(json_typeof(value)) <> 'string')`,
    ),
  )}
  ${before('closed_before', 'closed', refuses('this edition was closed before', CLOSED))}

  DROP TRIGGER event_of_issued_number ON ${SCHEMA}.event;
  DROP FUNCTION ${SCHEMA}.event_of_issued_number();
  ${trigger(
    'later_event_allowed',
    { at: 'AFTER INSERT', when: `NEW.type NOT IN ('issued', 'closed')` },
    refuses('this label belongs to another number', otherNumber) +
      refuses('this number has another label', otherLabel) +
      refuses('this edition is closed and the number was not issued', `${CLOSED} AND NOT ${ISSUED}`) +
      refuses(
        'no such number was issued',
        `NEW.type NOT IN ('withheld', 'released', 'void') AND NOT ${ISSUED}`,
      ) +
      refuses('this number is void', `EXISTS (SELECT 1 FROM event WHERE type = 'void' AND ${OF_LABEL})`) +
      refuses(
        'this number is withheld',
        `NEW.type NOT IN ('released', 'void') AND ${LAST_KEPT_BACK} = 'withheld'`,
      ) +
      refuses('the piece has no such part', `NEW.part IS NOT NULL AND NOT ${somePart('part = NEW.part')}`),
  )}
  ${before(
    'released_from_withheld',
    'released',
    refuses('this number is not withheld', `${LAST_KEPT_BACK} <> 'withheld'`),
  )}
  ${before(
    'withheld_before_delivery',
    'withheld',
    refuses(
      'this number is delivered, scrapped or destroyed',
      `${LAST_OTHER} = 'delivered' OR ${somePart(`last IN ('scrapped', 'destroyed')`)}`,
    ),
  )}
  ${before(
    'void_without_piece',
    'void',
    refuses('something still bears this number', somePart(`last IN ('engraved', 'scrapped')`)),
  )}
  ${before(
    'inspected_after_engraved',
    'inspected',
    refuses(
      'this piece is not just engraved',
      `${LAST_OTHER} <> 'engraved' OR ${somePart(`last <> 'engraved'`)}`,
    ),
  )}
  ${before(
    'delivered_after_inspected',
    'delivered',
    refuses('this piece is not just inspected', `${LAST_OTHER} <> 'inspected'`),
  )}
  ${before(
    'engraved_once',
    'engraved',
    refuses('this part is not blank', someOfThese(`last NOT IN ('issued', 'recut')`)),
  )}
  ${before(
    'scrapped_once',
    'scrapped',
    refuses('this part was scrapped before', someOfThese(`last IN ('scrapped', 'destroyed')`)),
  )}
  ${before(
    'destroyed_after_scrapped',
    'destroyed',
    refuses('this part is not scrapped', someOfThese(`last <> 'scrapped'`)),
  )}
  ${before(
    'destroyed_before_witness',
    'destroyed',
    refuses('the witness is the one who records', `${person('NEW.who')} = ${person('NEW.witness')}`),
  )}
  ${before(
    'recut_after_destroyed',
    'recut',
    refuses(
      'this part is not destroyed: the number would be on two pieces',
      someOfThese(`last <> 'destroyed'`),
    ),
  )}

  -- Signed states of the log. The frontier is the roots of its complete subtrees, largest first, end to end.
  CREATE TABLE ${SCHEMA}.checkpoint (
    size     integer PRIMARY KEY CHECK (size >= 0),
    note     text COLLATE "C" NOT NULL CHECK (length(note) > 0),
    frontier bytea NOT NULL CHECK (length(frontier) % 32 = 0)
  );
  ${onlyAdded('checkpoint', 'a checkpoint')}
  ${trigger(
    'checkpoint_of_events',
    { table: 'checkpoint', at: 'AFTER INSERT' },
    refuses('there are not so many events', 'NEW.size > (SELECT coalesce(max(seq), -1) + 1 FROM event)'),
  )}
  `;
