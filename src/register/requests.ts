import { z } from 'zod';
import { turningIn } from '../documents/invisible.js';
import { id } from '../documents/schema/scalar.js';
import type { Numbered } from '../edition/labels.js';
import { Refusal } from '../problem.js';
import {
  type EventOf,
  type Issued,
  isOfNumber,
  type NumberEvent,
  partIds,
  type RegisterEvent,
  readEvent,
} from './event.js';
import { issuePhrase, WITH_INPUT } from './issue-phrase.js';
import { problem, refuse } from './messages.js';
import { nonBlankLine } from './non-blank-line.js';
import { readAsked } from './plain-events.js';
import type {
  AmendRequest,
  CloseRequest,
  IssueRequest,
  PastEvent,
  Recordable,
  RecordRequest,
} from './register.js';
import type { NamedTerms } from './terms/schema.js';

export const WHY_ISSUED = 'next free number';
export const WHY_CHOSEN = 'chosen number';
export const WHY_RESERVED = 'issued as reserved';
export const WHY_ANEW = 'the terms of the edition, after those first entered were passed over';

const issueRequest = z.object({
  edition: id,
  series: id,
  count: z.number().int().min(1).max(99_999),
  parts: partIds.optional(),
  by: nonBlankLine(120),
  why: nonBlankLine(200).optional(),
  chosen: z.array(nonBlankLine(200)).min(1).optional(),
  key: nonBlankLine(200).optional(),
});

/** A request for numbers that was found to be well formed. */
export type IssueOrder = z.infer<typeof issueRequest> &
  Pick<IssueRequest, 'planned' | 'terms'> & { readonly why: string };

/** Throws a Refusal (exit 2) with every fault of the request. */
export function readIssueRequest(request: IssueRequest): IssueOrder {
  const read = issueRequest.safeParse(request, WITH_INPUT);
  if (read.success) {
    checkNames('issue', request.by);
    const { why = read.data.chosen ? WHY_CHOSEN : WHY_ISSUED } = read.data;
    return { ...read.data, why, planned: request.planned, terms: request.terms };
  }
  throw new Refusal(
    read.error.issues.map((issue) =>
      problem('register.malformed-request', 'issue', { fault: issuePhrase(issue) }),
    ),
  );
}

/** Throws a Refusal (exit 2) for a name that would not be read as it is written. */
export function checkNames(where: string, ...names: readonly (string | undefined)[]): void {
  const characters = names.flatMap((name) => turningIn(name ?? ''));
  if (characters.length > 0)
    throw refuse('register.name-invisible', where, { characters: [...new Set(characters)] });
}

export const SALT_BYTES = 16;

/** 16 bytes as the text of a salt. */
export const saltText = (bytes: Uint8Array): string => {
  if (bytes.length !== SALT_BYTES) throw new RangeError('a salt has 16 bytes');
  return Buffer.from(bytes).toString('base64').slice(0, 22);
};

/** The later of now and the event before: a clock set back must not turn the sequence round. */
export function monotonicTime(last: string | undefined, now: Date): string {
  const at = now.toISOString();
  return last !== undefined && last > at ? last : at;
}

const WHY: { readonly [T in Recordable | 'issued' | 'opened' | 'closed']: string } = {
  opened: 'the terms of the edition, as first entered',
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
  returned: 'the piece came back',
  lost: 'nobody knows where the piece is',
  stolen: 'the piece was taken',
  found: 'the piece is where it should be',
  noted: 'a remark',
  corrected: 'wrongly entered',
  retracted: 'wrongly entered: it did not happen',
  programmed: 'programs were made',
  certified: 'a certificate was made',
  closed: 'the edition is complete',
};

const keyMembers = (key: string | undefined, nth = 1) => (key === undefined ? {} : { key, nth });

/** A member that is undefined was not given. */
const withoutUndefined = (members: object): object =>
  Object.fromEntries(Object.entries(members).filter(([, value]) => value !== undefined));

/**
 * The event a request asks for, as of a moment; the register sets the final moment and the salt when it enters it.
 * Throws a Refusal (exit 2) when the request is not well formed.
 */
export function toEvent(
  request: Omit<RecordRequest, 'terms'> | PastEvent,
  now: Date,
  nth?: number,
): NumberEvent {
  const { event: type, why = WHY[request.event], ...rest } = request;
  const { key, ...own } = 'key' in rest ? rest : { key: undefined, ...rest };
  const where = `label ${request.label}`;
  checkNames(where, request.by);
  if (type === 'destroyed' && request.witness === undefined) {
    throw refuse('register.no-witness', where, {});
  }
  const read = readAsked(
    withoutUndefined({ type, why, at: now.toISOString(), ...own, ...keyMembers(key, nth) }),
    where,
  );
  if (!isOfNumber(read)) throw new TypeError('no request of a number is of an edition as a whole');
  return read;
}

export function toClosingEvent(request: CloseRequest, now: Date): EventOf<'closed'> {
  const { edition, statement, stated, by, why = WHY.closed, key } = request;
  const closedEvent = {
    type: 'closed',
    edition,
    statement,
    stated,
    by,
    why,
    at: now.toISOString(),
    ...keyMembers(key),
  };
  checkNames(`edition ${edition}`, by);
  const read = readEvent(closedEvent, `edition ${edition}`);
  if (read.type !== 'closed') throw new TypeError('a closing is of no other kind');
  return read;
}

/** The event by which an edition comes into the register, as of a moment. */
export const toOpeningEvent = (edition: string, terms: NamedTerms, by: string, at: string) =>
  ({ type: 'opened', edition, name: terms.name, terms: terms.terms, by, at, why: WHY.opened }) as const;

export function toAmendment(request: AmendRequest, now: Date): EventOf<'amended'> {
  const { edition, terms, by, why, key } = request;
  const amendment = {
    ...{ type: 'amended', edition, name: terms.name, terms: terms.terms },
    ...{ by, why, at: now.toISOString() },
    ...keyMembers(key),
  };
  checkNames(`edition ${edition}`, by);
  const read = readEvent(amendment, `edition ${edition}`);
  if (read.type !== 'amended') throw new TypeError('an amendment is of no other kind');
  return read;
}

/** Whether two events come from the same request: they are equal apart from their time of entry and salt. */
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
  refuse('register.key-reused', where, { key });

/** The numbers that an earlier request of this key was given. Throws a Refusal (exit 3) if it was another request. */
export function repeatedIssue(order: IssueOrder, key: string, events: readonly RegisterEvent[]): Numbered[] {
  const same = events.filter(
    (event): event is Issued =>
      event.type === 'issued' &&
      event.edition === order.edition &&
      event.series === order.series &&
      event.by === order.by &&
      event.why === order.why,
  );
  // A reserved number is released by the same request.
  const others = events.filter(({ type }) => type !== 'issued' && type !== 'released');
  const chosen = order.chosen?.every((label) => same.some((event) => event.label === label)) ?? true;
  if (same.length !== order.count || others.length > 0 || !chosen) {
    throw keyReused(`edition ${order.edition}: series ${order.series}`, key);
  }
  return same.map(({ series, number, label }) => ({ series, number, label }));
}

/** Names the event, of many, that was refused. */
export function locateInRow(error: unknown, row: number): unknown {
  if (!(error instanceof Refusal)) return error;
  return new Refusal(
    error.problems.map((fault) =>
      problem('register.import-refused', `event ${row}`, { row, place: fault.where, fault }),
    ),
  );
}
