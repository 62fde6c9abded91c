import type { NumberEvent } from '../event.js';

/** An event read at a glance: what the rules look at. `parts` is as it stands in the text. */
export interface Glance {
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
}

const ID = '[a-z0-9][a-z0-9-]{0,62}';
const TIME = 'T(?:[01]\\d|2[0-3]):[0-5]\\d:[0-5]\\d\\.\\d{3}Z';
/** Text whose JSON is itself between quotes, not beginning blank; any other is read the long way. */
const said = (longest: number): string =>
  `[!#-\\[\\]-~\\u00a1-\\u167f][ !#-\\[\\]-~\\u00a1-\\u2027\\u202a-\\ud7ff\\ue000-\\ufffd]{0,${longest - 1}}`;

/** The canonical JSON of an event of a number, its names in their one order, each value as the form wants it. */
const EVENT = new RegExp(
  `^\\{"at":"(\\d{4}-\\d\\d-\\d\\d)${TIME}","by":"(${said(120)})","edition":"(${ID})"` +
    `(?:,"key":"(${said(200)})")?,"label":"(${said(200)})"(?:,"nth":([1-9]\\d{0,8}))?,"number":([1-9]\\d{0,4})` +
    `(?:,"on":"(\\d{4}-\\d\\d-\\d\\d)(?:${TIME})?")?(?:,"part":"(${ID})")?` +
    `(?:,"parts":\\[("${ID}"(?:,"${ID}"){0,19})\\])?(?:,"salt":"[A-Za-z0-9+/]{22}")?,"series":"(${ID})"` +
    `(,"to":"${said(200)}")?,"type":"([a-z]+)","why":"${said(200)}"(?:,"witness":"(${said(120)})")?\\}$`,
);

const WITH_PART = new Set(['engraved', 'scrapped', 'destroyed', 'recut']);
const PLAIN = new Set([...WITH_PART, 'issued', 'inspected', 'delivered', 'withheld', 'released', 'void']);

/**
 * Reads an event, or gives undefined for the long way, which then judges. It never takes what the long way refuses:
 * a million events are read in the time of their hashes, and nothing is believed for the sake of speed.
 */
export function glance(body: string): Glance | undefined {
  const m = EVENT.exec(body);
  if (m === null) return undefined;
  const [, day, by, edition, key, label, nth, number, on, part, parts, series, to, type, witness] = m;
  if (!PLAIN.has(type!)) return undefined;
  if (part !== undefined && !WITH_PART.has(type!)) return undefined;
  if (parts !== undefined && (type !== 'issued' || !areDifferent(parts))) return undefined;
  if (to !== undefined && type !== 'delivered') return undefined;
  if ((witness !== undefined) !== (type === 'destroyed')) return undefined;
  if ((key === undefined) !== (nth === undefined)) return undefined;
  if (!isDay(day!) || (on !== undefined && !isDay(on))) return undefined;
  return {
    type: type as NumberEvent['type'],
    at: body.slice(7, 31),
    by: by!,
    edition: edition!,
    series: series!,
    number: Number(number),
    label: label!,
    key,
    nth: nth === undefined ? undefined : Number(nth),
    part,
    parts,
    witness,
  };
}

let lastDay = '';

/** Whether the calendar has the day. Most events share theirs with the one before. */
function isDay(day: string): boolean {
  if (day === lastDay) return true;
  const date = new Date(`${day}T00:00:00.000Z`);
  if (Number.isNaN(date.getTime()) || date.toISOString().slice(0, 10) !== day) return false;
  lastDay = own(day);
  return true;
}

let lastParts = '';

function areDifferent(parts: string): boolean {
  if (parts === lastParts) return true;
  const names = parts.split(',');
  if (new Set(names).size !== names.length) return false;
  lastParts = own(parts);
  return true;
}

/**
 * A text cut out of a longer one keeps the longer one in memory; its own copy does not. A short one is a copy
 * anyway.
 */
export const own = (text: string): string =>
  text.length < 13 ? text : Buffer.from(text, 'utf8').toString('utf8');
