import type { FormDialect, SqlValue } from '../form-sql.js';
import { quoteTexts } from '../rule-sql.js';

const KINDS = {
  text: (kind: string) => `${kind} <> 'text'`,
  whole: (kind: string) => `${kind} <> 'integer'`,
  truth: (kind: string) => `${kind} NOT IN ('true', 'false')`,
  list: (kind: string) => `${kind} <> 'array'`,
  members: (kind: string) => `${kind} <> 'object'`,
};

/** Of the characters of a text, what is asked of each; only inside a subquery may a trigger have such a table. */
const ofCharacters = (text: string, what: string): string =>
  `(WITH RECURSIVE place (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM place WHERE i < length(${text}))
        SELECT ${what} FROM place)`;

const isNoFigure = (text: string): string =>
  `(${text} NOT GLOB '[1-9]*' OR ${text} GLOB '*[^0-9]*' OR length(${text}) > 5)`;
/** The part of a range before its hyphen, and after. */
const FIRST = `substr(piece.value, 1, instr(piece.value || '-', '-') - 1)`;
const LAST = `substr(piece.value, instr(piece.value, '-') + 1)`;

const TIME = '%Y-%m-%dT%H:%M:%fZ';
/** A backslash, twice or before a quote, as JSON writes one or the other. */
const WITHOUT_ESCAPES = `replace(replace(NEW.body, '\\\\', ''), '\\"', '')`;

export const SQLITE_FORM: FormDialect = {
  isNot: (kind, one) => KINDS[kind](one.kind),
  member: (json, name): SqlValue => ({
    kind: `json_type(${json}, '$.${name}')`,
    value: `(${json} ->> '$.${name}')`,
    json: `(${json} -> '$.${name}')`,
  }),
  someEntry: (json, name, condition) =>
    `EXISTS (SELECT 1 FROM json_each(${json}) AS ${name} WHERE ${condition({
      ...{ kind: `${name}.type`, value: `${name}.value`, json: `${name}.value` },
    })})`,
  entries: (json) => `json_array_length(${json})`,
  hasDouble: (json) => `EXISTS (SELECT 1 FROM json_each(${json}) GROUP BY value HAVING count(*) > 1)`,
  wrongNames: (json, names) =>
    `EXISTS (SELECT 1 FROM (SELECT key, lag(key) OVER (ORDER BY id) AS before FROM json_each(${json}))
          WHERE key <= before OR key NOT IN (${quoteTexts(names)}))`,
  hasOneOf: (text, characters) => `${text} GLOB '*[${characters}]*'`,
  hasOtherThan: (text, characters) => `${text} GLOB '*[^${characters}]*'`,
  beginsWithout: (text, characters) => `${text} NOT GLOB '[${characters}]*'`,
  lengthOf: (text) => `length(${text})`,
  isNoTime: (text) => `(strftime('${TIME}', ${text}) IS NOT ${text} OR substr(${text}, 12, 2) = '24')`,
  isNoDay: (text) => `strftime('%Y-%m-%d', ${text}) IS NOT ${text}`,
  isNoRanges: (text) =>
    `(${text} GLOB '*[^0-9, -]*' OR EXISTS (SELECT 1 FROM json_each('["' || replace(${text}, ', ', '","') || '"]') AS piece
          WHERE ${isNoFigure(FIRST)} OR ${isNoFigure(LAST)}))`,
  isOutside: ({ value, json }, least, most) =>
    `(${value} NOT BETWEEN ${least} AND ${most} OR CAST(${value} AS TEXT) <> ${json})`,
  // Text that is not UTF-8 reads as other characters than it has; json() writes JSON without blanks.
  notCanonical: `json(NEW.body) <> NEW.body OR instr(${WITHOUT_ESCAPES}, '\\') > 0
      OR length(CAST(NEW.body AS BLOB)) > length(NEW.body) AND ${ofCharacters(
        'NEW.body',
        `group_concat(char(unicode(substr(NEW.body, i, 1))), '')`,
      )} <> NEW.body`,
  clock: (days) => `strftime('${TIME}', 'now', '${days} day')`,
  body: 'NEW.body',
};
