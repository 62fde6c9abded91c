import type { Numbered } from '../edition/labels.js';
import { problem, Refusal, refuse } from '../problem.js';
import { type EventOf, type Issued, type NumberEvent, type RegisterEvent, readEvent } from './event.js';
import type { CloseRequest, IssueOrder, PastEvent, Recordable, RecordRequest } from './register.js';

export const RECORDABLE = [
  'engraved',
  'inspected',
  'delivered',
  'withheld',
  'released',
  'scrapped',
  'destroyed',
  'recut',
  'void',
] as const satisfies readonly Recordable[];

/** 16 bytes as the text of a salt. */
export const saltText = (bytes: Uint8Array): string => {
  if (bytes.length !== 16) throw new RangeError('a salt has 16 bytes');
  return Buffer.from(bytes).toString('base64').slice(0, 22);
};

/** The later of now and the event before: a clock set back must not turn the sequence round. */
export function timeAfter(last: string | undefined, now: Date): string {
  const at = now.toISOString();
  return last !== undefined && last > at ? last : at;
}

const WHY: { readonly [T in Recordable | 'issued' | 'closed']: string } = {
  issued: 'brought in from an older register',
  engraved: 'the number was cut',
  inspected: 'the number was read back from the piece',
  delivered: 'the piece left the maker',
  withheld: 'kept back',
  released: 'no longer kept back',
  scrapped: 'spoiled',
  destroyed: 'spoiled and destroyed',
  recut: 'second piece for a destroyed one',
  void: 'not to be used',
  closed: 'the edition is complete',
};

const keyed = (key: string | undefined) => (key === undefined ? {} : { key, nth: 1 });

/** A member left undefined is one not given. */
const given = (members: object): object =>
  Object.fromEntries(Object.entries(members).filter(([, value]) => value !== undefined));

/**
 * The event a request asks for, as of a moment; the register sets the final moment and the salt when it enters it.
 * Throws a Refusal (exit 2) when the request is not well formed.
 */
export function toEvent(request: RecordRequest | PastEvent, now: Date): NumberEvent {
  const { event: type, why = WHY[request.event], ...rest } = request;
  const { key, ...own } = 'key' in rest ? rest : { ...rest, key: undefined };
  const where = `label ${request.label}`;
  if (type === 'destroyed' && request.witness === undefined) {
    throw refuse(
      2,
      where,
      'No witness of the destruction is named.',
      'Name who saw it: not the one who records it.',
    );
  }
  const read = readEvent(given({ ...own, type, why, at: now.toISOString(), ...keyed(key) }), where);
  if (read.type === 'closed') throw new TypeError('no request of a number closes an edition');
  return read;
}

export function toClosing(request: CloseRequest, now: Date): EventOf<'closed'> {
  const { edition, statement, by, why = WHY.closed, key } = request;
  const closing = { type: 'closed', edition, statement, by, why, at: now.toISOString(), ...keyed(key) };
  const read = readEvent(closing, `edition ${edition}`);
  if (read.type !== 'closed') throw new TypeError('a closing is of no other kind');
  return read;
}

/** Whether two events come from the same request: alike but for when they were entered and their salt. */
export function sameRequest(one: object, other: object): boolean {
  const asked = (event: object) =>
    JSON.stringify(
      Object.entries(event)
        .filter(([name, value]) => name !== 'at' && name !== 'salt' && value !== undefined)
        .sort(([a], [b]) => (a < b ? -1 : 1)),
    );
  return asked(one) === asked(other);
}

export const keyReused = (where: string, key: string): Refusal =>
  refuse(
    3,
    where,
    `The key ${key} was used for another request.`,
    'Ask with a new key, or repeat that request exactly.',
  );

/** What a request got that was carried out before, if it is the same request. Throws a Refusal (exit 3) if not. */
export function repeatedIssue(order: IssueOrder, key: string, events: readonly RegisterEvent[]): Numbered[] {
  const same = events.filter(
    (event): event is Issued =>
      event.type === 'issued' &&
      event.edition === order.edition &&
      event.series === order.series &&
      event.by === order.by &&
      event.why === order.why,
  );
  if (events.length !== order.count || same.length !== events.length) {
    throw keyReused(`edition ${order.edition}: series ${order.series}`, key);
  }
  return same.map(({ series, number, label }) => ({ series, number, label }));
}

/** Says which of many events was refused. */
export function atRow(error: unknown, row: number): unknown {
  if (!(error instanceof Refusal)) return error;
  return new Refusal(
    error.exit,
    error.problems.map(({ where, what, cure }) =>
      problem(`event ${row}: ${where}`, what, `${cure} Nothing was brought in.`),
    ),
  );
}
