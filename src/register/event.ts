import { hash } from 'node:crypto';
import canonicalizeModule from 'canonicalize';
import { z } from 'zod';
import { id } from '../documents/schema/scalar.js';
import { parseJson } from '../parse-json.js';
import { issuePhrase, WITH_INPUT } from './issue-phrase.js';
import { refuse } from './messages.js';
import { nonBlankLine } from './non-blank-line.js';
import { CONDITIONS } from './phrases.js';
import { editionTerms } from './terms/schema.js';

// The package's types describe an ES module, but what it holds is the function itself.
export const canonicalize = canonicalizeModule as unknown as (value: unknown) => string | undefined;

/** A day or a moment given by a person, for what was entered later than it happened. */
const day = z.union([z.iso.date(), z.iso.datetime({ precision: 3 })]);

const common = {
  by: nonBlankLine(120).describe('who'),
  at: z.iso.datetime({ precision: 3 }).describe('when it was entered, UTC, to the millisecond'),
  on: day.optional().describe('when it happened, where that is not when it was entered'),
  why: nonBlankLine(200),
  key: nonBlankLine(200).optional().describe('the request this belongs to'),
  nth: z
    .number()
    .int()
    .min(1)
    .max(2_147_483_647)
    .optional()
    .describe('its place among the events of that request, from 1'),
  salt: z
    .string()
    .regex(/^[A-Za-z0-9+/]{22}$/)
    .optional()
    .describe('128 bits of chance, base64: a leaf hash seen in a proof lets nobody guess the event'),
};

const ofNumber = {
  edition: id,
  series: id,
  number: z.number().int().min(1).max(99_999),
  label: nonBlankLine(200),
};
/** As far as a column of a server counts. */
const LARGEST_COUNT = 2_147_483_647;
/** No loss is larger: with more, nobody would have a register left. */
export const LARGEST_LOSS = 100_000_000;
/**
 * After a loss the serial of a certificate goes on beyond all that may have been made, but never beyond this: from here on
 * each is one more than the last, so that there is always a next one.
 */
export const LARGEST_LEAP = 2_000_000_000;
/** Tells certificates of one number apart. */
export const certificateSerial = z.number().int().min(1).max(LARGEST_COUNT);
/** Of a statement of edition: with the names of three people and a reason, each of its characters written out. */
const LONGEST_REMARK = 4000;
/** SHA-256, lower-case hex. */
const hexDigest = z.string().regex(/^[0-9a-f]{64}$/);
const ofCorrection = {
  corrects: z
    .number()
    .int()
    .min(0)
    .max(2_147_483_647)
    .describe('place in the sequence of an event of this number'),
  witness: nonBlankLine(120).optional().describe('a second person, after the piece has left the maker'),
};
const ofPart = { part: id.optional().describe('a part of the piece; every part when left out') };

/** What can be wrong with an entry, or with a kept checkpoint, that the register goes on past. */
export const FAULTS = ['text', 'rule', 'time', 'checkpoint'] as const;
export type EntryFault = (typeof FAULTS)[number];
/** With these an entry is passed over: it changes nothing. With a wrong time it stands. */
export const PASSING_FAULTS = ['text', 'rule'] as const satisfies readonly EntryFault[];
export const isPassing = (fault: EntryFault): boolean => PASSING_FAULTS.some((one) => one === fault);

/**
 * What a statement of edition says that no other event tells, and of how much of the log it was made. With this the
 * statement can be made again from the register, byte for byte.
 */
export const stated = z.strictObject({
  at: z.iso.datetime({ precision: 3 }).describe('when it was made'),
  document: hexDigest.describe('of the meaning of the document of the edition'),
  maker: nonBlankLine(120),
  remarks: z.array(nonBlankLine(LONGEST_REMARK)).max(1000),
  size: z.number().int().min(0).max(LARGEST_COUNT).describe('how many events the log had'),
  root: hexDigest.describe('of the log of so many events'),
  signature: nonBlankLine(400)
    .optional()
    .describe('the line under the checkpoint of that log, where it was signed'),
});
export type Stated = z.infer<typeof stated>;

/** The parts of a piece that carry its number. */
export const partIds = z
  .array(id)
  .min(1)
  .max(20)
  .refine((ids) => new Set(ids).size === ids.length, CONDITIONS.partTwice);

const event = <T extends string, S extends z.ZodRawShape>(type: T, own: S) =>
  z.strictObject({ type: z.literal(type), ...own, ...common });

/**
 * One member for each kind of event; each is one flat object, so that a store can compute columns from it. Only
 * `parts` is a list, and only `terms` and `stated` are objects.
 */
export const registerEvent = z
  .discriminatedUnion('type', [
    /** The number was taken from its series, for a piece of these parts; once in its life. */
    event('issued', { ...ofNumber, parts: partIds.optional() }),
    /** One part (or every part) of the piece now carries the number. */
    event('engraved', { ...ofNumber, ...ofPart }),
    /** The complete piece was looked at and the number read back from it. */
    event('inspected', ofNumber),
    /** The piece left the maker; `to` says to whom, if that is to be kept. */
    event('delivered', { ...ofNumber, to: nonBlankLine(200).optional() }),
    /** Held back for a reason, before it is issued or after. */
    event('withheld', ofNumber),
    /** No longer held back: in its former state. */
    event('released', ofNumber),
    /** A part (or the whole piece) is spoiled and must be destroyed. */
    event('scrapped', { ...ofNumber, ...ofPart }),
    /** What was scrapped no longer exists; someone other than `by` saw it destroyed. */
    event('destroyed', { ...ofNumber, ...ofPart, witness: nonBlankLine(120) }),
    /** The number goes to a second piece (or part) in place of the destroyed one. */
    event('recut', { ...ofNumber, ...ofPart }),
    /** The number will never be on any piece. Final. */
    event('void', ofNumber),
    /** A delivered piece came back to the maker; it is inspected again before it leaves again. */
    event('returned', ofNumber),
    /** Nobody knows where the piece is. */
    event('lost', ofNumber),
    /** It was taken from where it was. */
    event('stolen', ofNumber),
    /** A lost or stolen piece is known to be where it should: in its former state. */
    event('found', ofNumber),
    /** A remark of a person. */
    event('noted', {
      ...ofNumber,
      missing: z
        .number()
        .int()
        .min(1)
        .max(LARGEST_LOSS)
        .optional()
        .describe('how many events were lost before it, of which nobody knows what they said'),
    }),
    /** What event `corrects` says of the buyer or the day was wrong; both stay to be seen. */
    event('corrected', {
      ...ofNumber,
      ...ofCorrection,
      to: nonBlankLine(200).optional(),
      day: day.optional(),
    }),
    /** Event `corrects`, the last that changed the state, did not happen: the state before it holds again. */
    event('retracted', { ...ofNumber, ...ofCorrection }),
    /** Programs were made, under this digest, for a part (or every part) still to be cut. */
    event('programmed', { ...ofNumber, ...ofPart, station: id, digest: hexDigest }),
    /** A certificate was made; its serial is larger than that of each one before. */
    event('certified', { ...ofNumber, serial: certificateSerial, digest: hexDigest }),
    /** The edition came into the register, under this name and on these terms; once, before anything else of it. */
    event('opened', { edition: id, name: nonBlankLine(200), terms: editionTerms }),
    /** From here on these are its name and terms. */
    event('amended', { edition: id, name: nonBlankLine(200), terms: editionTerms }),
    /**
     * The edition is complete: nothing is issued after. `statement` is the SHA-256, hex, of its statement, which `stated`
     * and the events before it make again. Only a closing of an older register is without `stated`.
     */
    event('closed', { edition: id, statement: hexDigest, stated: stated.optional() }),
    /** The register goes on past entry `corrects`, or past a kept checkpoint, with which something is wrong. */
    event('resumed', {
      edition: id,
      corrects: ofCorrection.corrects.optional(),
      digest: hexDigest.describe('of the entry in the log, or of the checkpoint'),
      fault: z.enum(FAULTS),
      witness: nonBlankLine(120),
    }),
  ])
  .refine((e) => (e.key === undefined) === (e.nth === undefined), 'key and nth go together')
  .refine(
    (e) => e.type !== 'corrected' || e.to !== undefined || e.day !== undefined,
    CONDITIONS.nothingCorrected,
  )
  .refine(
    (e) => e.type !== 'resumed' || (e.corrects === undefined) === (e.fault === 'checkpoint'),
    'an entry has a place in the sequence, and a checkpoint has none',
  );

export type RegisterEvent = z.infer<typeof registerEvent>;
export type EventType = RegisterEvent['type'];
export type EventOf<T extends EventType> = Extract<RegisterEvent, { type: T }>;
/** An event of an edition as a whole. */
export type EditionEvent = EventOf<'opened' | 'amended' | 'closed' | 'resumed'>;
export type NumberEvent = Exclude<RegisterEvent, EditionEvent>;
/** An event that says on which terms an edition stands. */
export type TermsEvent = EventOf<'opened' | 'amended'>;
export type Issued = EventOf<'issued'>;

/** Whether an event names a number; the others are of an edition as a whole. */
export const isOfNumber = (event: RegisterEvent): event is NumberEvent => 'number' in event;

/** An event as stored: its canonical JSON (RFC 8785) and its leaf in the log. */
export interface Leaf {
  readonly body: string;
  readonly leaf: Buffer;
}

/** RFC 9162, 2.1.1: SHA-256 of a zero byte and the entry. */
export const leafHash = (body: string): Buffer => hash('sha256', `\0${body}`, 'buffer');

/** The same as hexadecimal text. */
export const leafHashHex = (body: string): string => hash('sha256', `\0${body}`, 'hex');

/** Reads what is to become an event. Throws a Refusal (exit 2) when it is not of the form of one. */
export function readEvent(value: unknown, where: string): RegisterEvent {
  const read = registerEvent.safeParse(value, WITH_INPUT);
  if (read.success) return read.data;
  throw refuse('register.malformed-event', where, { faults: read.error.issues.map(issuePhrase) });
}

export const whereOf = (event: RegisterEvent): string =>
  isOfNumber(event) ? `label ${event.label}` : `edition ${event.edition}`;

export function toLeaf(event: RegisterEvent): Leaf {
  const body = canonicalize(readEvent(event, whereOf(event)));
  if (body === undefined) throw new TypeError('an event always has a text');
  return { body, leaf: leafHash(body) };
}

/** The canonical text of a value; undefined where it is nested deeper than can be gone through, as no event is. */
function canonicalText(value: unknown): string | undefined {
  try {
    return canonicalize(value);
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

/** Reads a stored event. Throws a Refusal (exit 3) unless its text, hash and form agree with each other. */
export function fromLeaf(seq: number, { body, leaf }: Leaf): RegisterEvent {
  const damaged = (fault: 'hash' | 'canonical' | 'form') =>
    refuse('register.damaged-event', `register event ${seq}`, { fault });
  if (!leafHash(body).equals(leaf)) throw damaged('hash');
  const value = parseJson(body);
  if (canonicalText(value) !== body) throw damaged('canonical');
  const read = registerEvent.safeParse(value);
  if (!read.success) throw damaged('form');
  return read.data;
}

/** What events of each kind may and must say, read from the schema above. */
export interface EventMembers {
  readonly required: readonly string[];
  readonly optional: readonly string[];
}

export const EVENT_MEMBERS: { readonly [T in EventType]: EventMembers } = Object.fromEntries(
  registerEvent.options.map(({ shape }) => {
    const names = Object.entries<z.ZodType>(shape);
    const optional = names.filter(([, schema]) => schema instanceof z.ZodOptional).map(([name]) => name);
    const required = names.map(([name]) => name).filter((name) => !optional.includes(name));
    return [shape.type.value, { required, optional }];
  }),
) as unknown as { [T in EventType]: EventMembers };
