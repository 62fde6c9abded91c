import type { NumberEvent } from './event.js';

/** The fields of an event that the rules look at. `parts` is as in the text: ids in quotes, with commas between. */
export interface EventFields {
  readonly type: NumberEvent['type'];
  readonly at: string;
  readonly by: string;
  readonly edition: string;
  readonly series: string;
  readonly number: number;
  readonly label: string;
  readonly key?: string;
  readonly nth?: number;
  readonly part?: string;
  readonly parts?: string;
  readonly witness?: string;
  readonly corrects?: number;
  readonly serial?: number;
  readonly to?: string;
}

const ID = '[a-z0-9][a-z0-9-]{0,62}';
const TIME_OF_DAY = 'T(?:[01]\\d|2[0-3]):[0-5]\\d:[0-5]\\d\\.\\d{3}Z';
/** A day, or a moment of it. */
const DAY = `\\d{4}-\\d\\d-\\d\\d(?:${TIME_OF_DAY})?`;
/** Text that JSON writes without escapes and that does not begin with a blank; the ordinary reader takes any other. */
const text = (longest: number): string =>
  `[!#-\\[\\]-~\\u00a1-\\u167f][ !#-\\[\\]-~\\u00a1-\\u2027\\u202a-\\ud7ff\\ue000-\\ufffd]{0,${longest - 1}}`;

/** The canonical JSON of an event of a number: the members in their one order, each value as the schema wants it. */
const EVENT = new RegExp(
  `^\\{"at":"(\\d{4}-\\d\\d-\\d\\d)${TIME_OF_DAY}","by":"(${text(120)})"(?:,"corrects":(0|[1-9]\\d{0,8}))?` +
    `(?:,"day":"(${DAY})")?(?:,"digest":"([0-9a-f]{64})")?,"edition":"(${ID})"` +
    `(?:,"key":"(${text(200)})")?,"label":"(${text(200)})"(?:,"nth":([1-9]\\d{0,8}))?,"number":([1-9]\\d{0,4})` +
    `(?:,"on":"(${DAY})")?(?:,"part":"(${ID})")?` +
    `(?:,"parts":\\[("${ID}"(?:,"${ID}"){0,19})\\])?(?:,"salt":"([A-Za-z0-9+/]{22})")?(?:,"serial":([1-9]\\d{0,8}))?` +
    `,"series":"(${ID})"(?:,"station":"(${ID})")?(?:,"to":"(${text(200)})")?,"type":"([a-z]+)",` +
    `"why":"(${text(200)})"(?:,"witness":"(${text(120)})")?\\}$`,
);

const WITH_PART: ReadonlySet<string> = new Set(['engraved', 'scrapped', 'destroyed', 'recut', 'programmed']);
const PLAIN: ReadonlySet<string> = new Set([
  ...WITH_PART,
  'issued',
  'inspected',
  'delivered',
  'withheld',
  'released',
  'void',
  'returned',
  'lost',
  'stolen',
  'found',
  'noted',
  'corrected',
  'retracted',
  'certified',
]);

/**
 * Reads the fields of an event with one regular expression, or gives undefined: then the ordinary reader (`fromLeaf`)
 * decides. It never accepts what the ordinary reader refuses. `npm run bench -- audit-parts` shows what it saves.
 */
export function parseEventFast(body: string): EventFields | undefined {
  const m = matchPlain(body);
  if (m === undefined) return undefined;
  return {
    type: m[TYPE] as NumberEvent['type'],
    at: body.slice(AT, AT_END),
    by: m[BY]!,
    edition: m[EDITION]!,
    series: m[SERIES]!,
    number: Number(m[NUMBER]),
    label: m[LABEL]!,
    key: m[KEY],
    nth: countOf(m[NTH]),
    part: m[PART],
    parts: m[PARTS],
    witness: m[WITNESS],
    corrects: countOf(m[CORRECTS]),
    serial: countOf(m[SERIAL]),
    to: m[TO],
  };
}

/** The whole event, as the ordinary reader gives it, where `parseEventFast` gives its fields. */
export function readEventFast(body: string): NumberEvent | undefined {
  const m = matchPlain(body);
  if (m === undefined) return undefined;
  // In the order of its text. What is kept long is detached.
  const event: Record<string, unknown> = { at: detach(body.slice(AT, AT_END)), by: m[BY] };
  if (m[CORRECTS] !== undefined) event.corrects = Number(m[CORRECTS]);
  if (m[DAY_CORRECTED] !== undefined) event.day = detach(m[DAY_CORRECTED]);
  if (m[DIGEST] !== undefined) event.digest = m[DIGEST];
  event.edition = m[EDITION];
  if (m[KEY] !== undefined) event.key = m[KEY];
  event.label = detach(m[LABEL]!);
  if (m[NTH] !== undefined) event.nth = Number(m[NTH]);
  event.number = Number(m[NUMBER]);
  if (m[ON] !== undefined) event.on = detach(m[ON]);
  if (m[PART] !== undefined) event.part = m[PART];
  if (m[PARTS] !== undefined) event.parts = m[PARTS].split(',').map((part) => detach(part.slice(1, -1)));
  if (m[SALT] !== undefined) event.salt = m[SALT];
  if (m[SERIAL] !== undefined) event.serial = Number(m[SERIAL]);
  event.series = detach(m[SERIES]!);
  if (m[STATION] !== undefined) event.station = m[STATION];
  if (m[TO] !== undefined) event.to = m[TO];
  event.type = m[TYPE];
  event.why = m[WHY];
  if (m[WITNESS] !== undefined) event.witness = m[WITNESS];
  return event as unknown as NumberEvent;
}

const countOf = (digits: string | undefined): number | undefined =>
  digits === undefined ? undefined : Number(digits);

/** Where the time stands in the text. */
const [AT, AT_END] = [7, 31];

/** The places of the members in what the expression finds. */
const [BY, CORRECTS, DAY_CORRECTED, DIGEST, EDITION, KEY, LABEL, NTH, NUMBER] = [2, 3, 4, 5, 6, 7, 8, 9, 10];
const [ON, PART, PARTS, SALT, SERIAL, SERIES, STATION, TO, TYPE] = [11, 12, 13, 14, 15, 16, 17, 18, 19];
const [WHY, WITNESS] = [20, 21];

/** What the expression finds of an event with the members that its kind must and may have. */
function matchPlain(body: string): RegExpExecArray | undefined {
  const m = EVENT.exec(body);
  if (m === null) return undefined;
  const type = m[TYPE]!;
  if (!PLAIN.has(type)) return undefined;
  const isCorrection = type === 'corrected' || type === 'retracted';
  if (m[PART] !== undefined && !WITH_PART.has(type)) return undefined;
  if (m[PARTS] !== undefined && (type !== 'issued' || !areDifferent(m[PARTS]))) return undefined;
  if (m[TO] !== undefined && type !== 'delivered' && type !== 'corrected') return undefined;
  if ((m[CORRECTS] !== undefined) !== isCorrection) return undefined;
  if (m[DAY_CORRECTED] !== undefined && type !== 'corrected') return undefined;
  if (type === 'corrected' && m[TO] === undefined && m[DAY_CORRECTED] === undefined) return undefined;
  if ((m[DIGEST] !== undefined) !== (type === 'programmed' || type === 'certified')) return undefined;
  if ((m[STATION] !== undefined) !== (type === 'programmed')) return undefined;
  if ((m[SERIAL] !== undefined) !== (type === 'certified')) return undefined;
  if (m[WITNESS] === undefined ? type === 'destroyed' : type !== 'destroyed' && !isCorrection)
    return undefined;
  if ((m[KEY] === undefined) !== (m[NTH] === undefined)) return undefined;
  return isCalendarDay(m[1]!) && isAbsentOrDay(m[ON]) && isAbsentOrDay(m[DAY_CORRECTED]) ? m : undefined;
}

const isAbsentOrDay = (day: string | undefined): boolean => day === undefined || isCalendarDay(day);

const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Whether the Gregorian calendar has the day that a text begins with, `YYYY-MM-DD`. */
function isCalendarDay(day: string): boolean {
  const date = twoDigits(day, 8);
  // Every month has 28 days: the rest is asked of few.
  if (date < 1) return false;
  const month = twoDigits(day, 5);
  if (date <= 28) return month >= 1 && month <= 12;
  const year = twoDigits(day, 0) * 100 + twoDigits(day, 2);
  const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return date <= (month === 2 && isLeap ? 29 : (MONTH_DAYS[month - 1] ?? 0));
}

/** The number of two digits of a text. */
const twoDigits = (text: string, at: number): number =>
  text.charCodeAt(at) * 10 + text.charCodeAt(at + 1) - 11 * 48;

function areDifferent(parts: string): boolean {
  const names = parts.split(',');
  return new Set(names).size === names.length;
}

/**
 * A copy of a text that was cut out of a longer one: the cut text keeps the longer one in memory, the copy does not. Of a
 * short text the runtime makes a copy anyway.
 */
export const detach = (text: string): string =>
  text.length < 13 ? text : Buffer.from(text, 'utf8').toString('utf8');
