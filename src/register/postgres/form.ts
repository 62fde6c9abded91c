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

/** What an issue says in no column, cut out of its text as it would stand there. */
export const CUT_OUT = ['by', 'parts', 'salt', 'why'] as const;
const variableOf = (name: (typeof CUT_OUT)[number]) => `said_${name}`;

export const DECLARE_CUT_OUT = CUT_OUT.map((name) => `\n    ${variableOf(name)} text;`).join('');

const cutOut = (before: string, after: string) =>
  `split_part(split_part(NEW.body, '${before}', 2), '${after}', 1)`;
export const CUT_OUT_OF_TEXT = CUT_OUT.map((name) => {
  const [before, after] = name === 'parts' ? ['"parts":[', ']'] : [`"${name}":"`, '"'];
  return `
      ${variableOf(name)} := ${cutOut(before, after)};`;
}).join('');

const ID_CHARACTERS = 'abcdefghijklmnopqrstuvwxyz0123456789-';

/**
 * Whether a text is that of an issue as nearly all are: made of its own values again it is the same, no character in it is
 * written otherwise than it is, and it has at most two parts. What is left to be asked is how its values look.
 */
export const ORDINARY_ISSUE = `NEW.body = concat('{"at":"', NEW.at, '","by":"', said_by, '","edition":"', NEW.edition, '",',
          '"key":"' || NEW.key || '",', '"label":"', NEW.label, '",', '"nth":' || NEW.nth || ',', '"number":', NEW.number, ',',
          '"parts":[' || nullif(said_parts, '') || '],', '"salt":"' || nullif(said_salt, '') || '",',
          '"series":"', NEW.series, '","type":"issued","why":"', said_why, '"}')
        AND position(chr(92) IN NEW.body) = 0 AND NEW.at > '1000' AND (NEW.key IS NULL) = (NEW.nth IS NULL)
        AND NEW.number BETWEEN 1 AND 99999 AND coalesce(NEW.nth, 1) >= 1
        AND (said_parts = '' OR translate(said_parts, '${ID_CHARACTERS}', '') IN ('""', '"",""')
          AND length(said_parts) <= 63 AND position('""' IN said_parts) = 0 AND position('"-' IN said_parts) = 0
          AND split_part(said_parts, '"', 2) <> split_part(said_parts, '"', 4))`;

const text = (value: string): SqlValue => ({ kind: `'string'`, value, json: '' });
const textOrNone = (value: string): SqlValue => ({
  ...text(value),
  kind: `CASE WHEN ${value} IS NOT NULL THEN 'string' END`,
});

/** The texts in it that may still be anything, by the names of their members. */
export const ORDINARY_VALUES: Readonly<Record<string, SqlValue>> = {
  ...{ at: text('NEW.at'), by: text('said_by'), edition: text('NEW.edition'), key: textOrNone('NEW.key') },
  ...{ label: text('NEW.label'), salt: textOrNone(`nullif(said_salt, '')`), series: text('NEW.series') },
  why: text('said_why'),
};
