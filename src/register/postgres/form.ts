import type { FormDialect, SqlValue } from '../form-sql.js';
import { quoteTexts } from '../rule-sql.js';

const KINDS = {
  text: 'string',
  whole: 'number',
  truth: 'boolean',
  list: 'array',
  members: 'object',
} as const;

const CLOCK = 'T([01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9][.][0-9]{3}Z';
/** A day of the Gregorian calendar. */
const DAY =
  '([0-9]{4}-((0[13578]|1[02])-(0[1-9]|[12][0-9]|3[01])|(0[469]|11)-(0[1-9]|[12][0-9]|30)|02-(0[1-9]|1[0-9]|2[0-8]))' +
  '|([0-9]{2}([2468][048]|[13579][26]|0[48])|([02468][048]|[13579][26])00)-02-29)';
const FIGURE = '[1-9][0-9]{0,4}(-[1-9][0-9]{0,4})?';

/** The text without quotes and backslashes inside its values. A literal backslash would depend on a setting. */
const WITHOUT_ESCAPES = `replace(replace(NEW.body, repeat(chr(92), 2), ''), chr(92) || '"', '')`;

export const POSTGRES_FORM: FormDialect = {
  isNot: (kind, one) => `${one.kind} <> '${KINDS[kind]}'`,
  member: (json, name): SqlValue => ({
    kind: `json_typeof(${json} -> '${name}')`,
    value: `(${json} ->> '${name}')`,
    json: `(${json} -> '${name}')`,
  }),
  someEntry: (json, name, condition) =>
    `EXISTS (SELECT 1 FROM json_array_elements(${json}) AS ${name} (value) WHERE ${condition({
      kind: `json_typeof(${name}.value)`,
      value: `(${name}.value #>> '{}')`,
      json: `${name}.value`,
    })})`,
  entries: (json) => `json_array_length(${json})`,
  hasDouble: (json) =>
    `EXISTS (SELECT 1 FROM json_array_elements_text(${json}) AS one (value) GROUP BY value HAVING count(*) > 1)`,
  wrongNames: (json, names) =>
    `EXISTS (SELECT 1 FROM (SELECT name, lag(name) OVER (ORDER BY place) AS before
          FROM json_object_keys(${json}) WITH ORDINALITY AS k (name, place)) AS k
          WHERE name COLLATE "C" <= before COLLATE "C" OR name NOT IN (${quoteTexts(names)}))`,
  hasOneOf: (text, characters) => `${text} COLLATE "C" ~ '[${characters}]'`,
  hasOtherThan: (text, characters) => `${text} COLLATE "C" ~ '[^${characters}]'`,
  beginsWithout: (text, characters) => `${text} COLLATE "C" !~ '^[${characters}]'`,
  lengthOf: (text) => `length(${text})`,
  isNoTime: (text) => `${text} !~ '^${DAY}${CLOCK}$'`,
  isNoDay: (text) => `${text} !~ '^${DAY}$'`,
  isNoRanges: (text) => `${text} !~ '^${FIGURE}(, ${FIGURE})*$'`,
  isOutside: ({ value }, least, most) =>
    `CASE WHEN ${value} !~ '^(0|[1-9][0-9]{0,15})$' THEN true ELSE ${value}::numeric NOT BETWEEN ${least} AND ${most} END`,
  // Blanks stand in texts only.
  notCanonical: `position(chr(92) IN ${WITHOUT_ESCAPES}) > 0
      OR ${WITHOUT_ESCAPES} !~ '^([^"[:space:]]|"[^"]*")*$'`,
  clock: (days) =>
    `to_char((clock_timestamp() + interval '${days} day') AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`,
  body: 'NEW.body::json',
};
