import { CLOCKS_DIFFER_DAYS } from './clock.js';
import { EVENT_MEMBERS, FAULTS, LARGEST_LOSS } from './event.js';
import { MEMBERS, quoteTexts, rule, type SqlRule } from './rule-sql.js';

/**
 * The form of an event, once more as SQL: what `registerEvent` accepts and nothing else, in the one text that RFC 8785
 * gives it. An event that a store took and no program can read would stop every later entry that meets it. That both say
 * the same, `tests/register/form-rules.ts` tries with thousands of altered events.
 */

/** How a value may look. */
type Shape =
  | { readonly is: 'line' | 'affix'; readonly longest: number }
  | { readonly is: 'id' | 'hash' | 'salt' | 'time' | 'day' | 'ranges' | 'digits' | 'truth' }
  | { readonly is: 'choice'; readonly of: readonly string[] }
  | { readonly is: 'whole'; readonly least: number; readonly most: number }
  | {
      readonly is: 'list';
      readonly of: Shape;
      readonly least: number;
      readonly most: number;
      readonly distinct?: true;
    }
  | { readonly is: 'members'; readonly required: Shapes; readonly optional?: Shapes };
type Shapes = { readonly [name: string]: Shape };

/** A JSON value in SQL; each is NULL where there is none. */
export interface SqlValue {
  /** Its kind, as the database names it. */
  readonly kind: string;
  /** As text or a number. */
  readonly value: string;
  /** As JSON. */
  readonly json: string;
}

type Kind = 'text' | 'whole' | 'truth' | 'list' | 'members';

/** What differs between databases. Each gives an SQL condition unless it says otherwise. */
export interface FormDialect {
  isNot(kind: Kind, one: SqlValue): string;
  /** The value of a member. */
  member(json: string, name: string): SqlValue;
  /** Whether an entry of a list, called `name` in the condition, meets a condition. */
  someEntry(json: string, name: string, condition: (entry: SqlValue) => string): string;
  /** How many entries a list has. */
  entries(json: string): string;
  /** Whether a list has an entry twice. */
  hasDouble(json: string): string;
  /** Whether names of members are out of order, stand twice, or are others than these. */
  wrongNames(json: string, names: readonly string[]): string;
  /** Whether a text has a character of this class; written as in `[...]`. */
  hasOneOf(text: string, characters: string): string;
  /** Whether a text has a character that is not of this class. */
  hasOtherThan(text: string, characters: string): string;
  beginsWithout(text: string, characters: string): string;
  /** How many characters a text has. */
  lengthOf(text: string): string;
  isNoTime(text: string): string;
  isNoDay(text: string): string;
  isNoRanges(text: string): string;
  /** Whether a number is not written in its one way, or outside these. */
  isOutside(one: SqlValue, least: number, most: number): string;
  /** Whether the text of the event has blanks between its values, or a character written in another way than it is. */
  readonly notCanonical: string;
  /** A time, as events have it, so many days from the clock of the database. */
  clock(days: number): string;
  readonly body: string;
}

const CONTROLS = '\u007f-\u009f';
const LINE_ENDS = '\u2028\u2029';
/** What `\s` stands for, but for what no text may have anyway. */
const BLANKS = ' \u00a0\u1680\u2000-\u200a\u202f\u205f\u3000\ufeff';

const line = (longest: number): Shape => ({ is: 'line', longest });
const whole = (least: number, most: number): Shape => ({ is: 'whole', least, most });
const NUMBER = whole(1, 99_999);
const COUNT = whole(1, 2_147_483_647);
const ID: Shape = { is: 'id' };
const AFFIX: Shape = { is: 'affix', longest: 40 };

const EXCLUSION: Shape = {
  is: 'members',
  required: { why: line(200) },
  optional: { numbers: { is: 'ranges' }, containing: { is: 'digits' } },
};
const SERIES: Shape = {
  is: 'members',
  required: {
    ...{ id: ID, title: line(200), from: NUMBER, to: NUMBER, pad: whole(1, 6) },
    figures: { is: 'choice', of: ['arabic', 'roman'] },
    exclude: { is: 'list', of: EXCLUSION, least: 0, most: 100 },
  },
  optional: {
    total: { is: 'members', required: { joiner: AFFIX, of: NUMBER } },
    before: AFFIX,
    after: AFFIX,
  },
};
const PART: Shape = { is: 'members', required: { part: ID, material: ID, numbered: { is: 'truth' } } };
const TERMS: Shape = {
  is: 'members',
  required: {
    series: { is: 'list', of: SERIES, least: 1, most: 20 },
    parts: { is: 'list', of: PART, least: 0, most: 20 },
    approvers: { is: 'list', of: line(120), least: 0, most: 20 },
  },
};

const STATED: Shape = {
  is: 'members',
  required: {
    ...{ at: { is: 'time' }, document: { is: 'hash' }, maker: line(120), root: { is: 'hash' } },
    ...{ remarks: { is: 'list', of: line(4000), least: 0, most: 1000 }, size: whole(0, 2_147_483_647) },
  },
  optional: { signature: line(400) },
};

/** Each member has one form, in whatever kind of event; which kinds have it, `memberRules` says. */
const EVENT: Shapes = {
  ...{ type: { is: 'choice', of: Object.keys(EVENT_MEMBERS) }, edition: ID, series: ID, number: NUMBER },
  ...{ label: line(200), by: line(120), at: { is: 'time' }, on: { is: 'day' }, why: line(200) },
  ...{ key: line(200), nth: whole(1, 2_147_483_647), salt: { is: 'salt' }, part: ID },
  ...{ parts: { is: 'list', of: ID, least: 1, most: 20, distinct: true }, witness: line(120), to: line(200) },
  ...{
    statement: { is: 'hash' },
    stated: STATED,
    name: line(200),
    terms: TERMS,
    corrects: whole(0, 2_147_483_647),
  },
  ...{ day: { is: 'day' }, station: ID, digest: { is: 'hash' }, serial: COUNT },
  ...{ fault: { is: 'choice', of: FAULTS }, missing: whole(1, LARGEST_LOSS) },
};

/** Whether a value, where there is one, is not as it may be. */
function fault(sql: FormDialect, shape: Shape, one: SqlValue, depth = 0): string {
  const { value, json, kind } = one;
  const either = (...conditions: string[]) => `(${conditions.join(' OR ')})`;
  const text = (...conditions: string[]) =>
    `(${kind} IS NOT NULL AND ${either(sql.isNot('text', one), ...conditions)})`;
  const outsideLength = (least: number, most: number) =>
    `${sql.lengthOf(value)} NOT BETWEEN ${least} AND ${most}`;
  switch (shape.is) {
    case 'line':
      return text(
        `${value} = ''`,
        `${sql.lengthOf(value)} > ${shape.longest}`,
        sql.hasOneOf(value, CONTROLS + LINE_ENDS),
        `NOT ${sql.hasOtherThan(value, BLANKS)}`,
      );
    case 'affix':
      return text(
        `${value} = ''`,
        `${sql.lengthOf(value)} > ${shape.longest}`,
        sql.hasOneOf(value, CONTROLS),
      );
    case 'id':
      return text(
        outsideLength(1, 63),
        sql.hasOtherThan(value, 'a-z0-9-'),
        sql.beginsWithout(value, 'a-z0-9'),
      );
    case 'hash':
      return text(outsideLength(64, 64), sql.hasOtherThan(value, '0-9a-f'));
    case 'salt':
      return text(outsideLength(22, 22), sql.hasOtherThan(value, 'A-Za-z0-9+/'));
    case 'digits':
      return text(outsideLength(1, 5), sql.hasOtherThan(value, '0-9'));
    case 'time':
      return text(sql.isNoTime(value));
    case 'day':
      return text(`(${sql.isNoTime(value)} AND ${sql.isNoDay(value)})`);
    case 'ranges':
      return text(`${sql.lengthOf(value)} > 100000`, sql.isNoRanges(value));
    case 'choice':
      return text(`${value} NOT IN (${quoteTexts(shape.of)})`);
    case 'truth':
      return `(${kind} IS NOT NULL AND ${sql.isNot('truth', one)})`;
    case 'whole':
      return `(${kind} IS NOT NULL AND ${either(sql.isNot('whole', one), sql.isOutside(one, shape.least, shape.most))})`;
    case 'list': {
      const { least, most, distinct } = shape;
      const within = [
        `${sql.entries(json)} NOT BETWEEN ${least} AND ${most}`,
        sql.someEntry(json, `entry_${depth}`, (entry) => fault(sql, shape.of, entry, depth + 1)),
        ...(distinct ? [sql.hasDouble(json)] : []),
      ];
      return `(CASE WHEN ${kind} IS NULL THEN false WHEN ${sql.isNot('list', one)} THEN true
        ELSE ${either(...within)} END)`;
    }
    case 'members':
      return `(CASE WHEN ${kind} IS NULL THEN false WHEN ${sql.isNot('members', one)} THEN true
        ELSE ${either(...memberFaults(sql, shape, json, depth))} END)`;
  }
}

function memberFaults(
  sql: FormDialect,
  { required, optional = {} }: { readonly required: Shapes; readonly optional?: Shapes },
  json: string,
  depth: number,
): string[] {
  return [
    sql.wrongNames(json, Object.keys({ ...required, ...optional })),
    ...Object.keys(required).map((name) => `${sql.member(json, name).kind} IS NULL`),
    ...Object.entries({ ...required, ...optional }).map(([name, shape]) =>
      fault(sql, shape, sql.member(json, name), depth + 1),
    ),
  ];
}

/**
 * What is asked of the place of an event in the sequence, in its request, and of its time. Times run with the sequence; only a `resumed`
 * event begins them anew, after one that is ahead of the clock, and with a time by that clock.
 */
export const sequenceRules = ({ clock }: Pick<FormDialect, 'clock'>): SqlRule[] => [
  rule(
    'NOT EXISTS (SELECT 1 FROM event WHERE seq = NEW.seq - 1)',
    'the sequence of events would have a gap',
    'register.sequence-gap',
    'NEW.seq <> 0',
  ),
  rule(
    `NOT (NEW.type = 'resumed'
        AND (SELECT at FROM event WHERE seq = NEW.seq - 1) > ${clock(0)}
        AND NEW.at >= ${clock(-CLOCKS_DIFFER_DAYS)})`,
    'the event would be earlier than the one before it',
    'register.time-runs-back',
    'NEW.at < (SELECT at FROM event WHERE seq = NEW.seq - 1)',
  ),
  rule(
    'NOT EXISTS (SELECT 1 FROM event WHERE seq = NEW.seq - 1 AND key = NEW.key AND nth = NEW.nth - 1)',
    'the events of a request are together, counted from 1',
    'register.request-order',
    'NEW.nth > 1',
  ),
];

const MALFORMED = 'register.malformed-event';

const canonicalRule = ({ notCanonical }: FormDialect): SqlRule =>
  rule(
    notCanonical,
    'the text of the event has blanks between its values, or characters written in another way than burin does',
    MALFORMED,
  );
/** Refuses members by their names. */
export const namesRule = (wrongNames: string): SqlRule =>
  rule(
    wrongNames,
    'a name stands twice in the text of the event, is out of order, or is of no use there',
    MALFORMED,
  );
const valueRule = (wrongValue: string): SqlRule =>
  rule(wrongValue, 'a value in the text of the event cannot be', MALFORMED);

/** What a member of an event, where there is one, must look like, by its name. */
export const memberForms = (sql: FormDialect, one: SqlValue): readonly (readonly [string, SqlRule])[] =>
  Object.entries(EVENT).map(([name, shape]) => [name, valueRule(fault(sql, shape, one))]);

/** What an event of any kind must look like. */
export const formRules = (sql: FormDialect): SqlRule[] => [
  canonicalRule(sql),
  namesRule(sql.wrongNames(sql.body, MEMBERS)),
  valueRule(
    Object.entries(EVENT)
      .map(([name, shape]) => fault(sql, shape, sql.member(sql.body, name)))
      .join('\n      OR '),
  ),
  ...wholeRules(sql),
];

/** The same without its members, for a store that looks at them one by one. */
export const formRulesBesideMembers = (sql: FormDialect): SqlRule[] => [
  canonicalRule(sql),
  ...wholeRules(sql),
];

/** No event is from far ahead, whatever the clock of whoever enters it says. */
export const timeRule = ({ clock }: Pick<FormDialect, 'clock'>): SqlRule =>
  rule(
    `NEW.at > ${clock(CLOCKS_DIFFER_DAYS)}`,
    'the time of the event is more than a day ahead of the clock of the database',
    'register.time-far-ahead',
  );

/** What members say together. */
const wholeRules = (sql: FormDialect): SqlRule[] => [
  rule(
    `(NEW.key IS NULL) <> (NEW.nth IS NULL)
      OR NEW.type = 'corrected' AND NEW.recipient IS NULL AND NEW.day IS NULL
      OR NEW.type = 'resumed' AND (NEW.corrects IS NULL) <> (NEW.fault IS NOT NULL AND NEW.fault = 'checkpoint')`,
    'a value is missing in the text of the event, or must not be there',
    MALFORMED,
  ),
  timeRule(sql),
];
