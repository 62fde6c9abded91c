import { createHash } from 'node:crypto';
import canonicalizeModule from 'canonicalize';
import { z } from 'zod';
import { id, line } from '../documents/schema/scalar.js';
import { refuse } from '../problem.js';

// The package's types describe an ES module, but what it holds is the function itself.
const canonicalize = canonicalizeModule as unknown as (value: unknown) => string | undefined;

/** One line that says something, in whole characters: half a surrogate pair has no canonical JSON. */
export const said = (longest: number) =>
  line(longest)
    .regex(/\S/u, 'must not be blank')
    .refine((text) => !/\p{Surrogate}/u.test(text), 'must be whole characters');

const told = {
  by: said(120).describe('who'),
  at: z.iso.datetime({ precision: 3 }).describe('when, UTC, to the millisecond'),
  why: said(200),
  key: said(200).optional().describe('the request this belongs to'),
  part: z.number().int().min(1).optional().describe('its place among the events of that request'),
};

const ofNumber = {
  edition: id,
  series: id,
  number: z.number().int().min(1).max(99_999),
  label: said(200),
};

/** The number was taken from its series; once in its life. */
const issued = z.strictObject({ type: z.literal('issued'), ...ofNumber, ...told });

/** One member for each kind of event; each is one flat object, so that the store can compute columns from it. */
export const registerEvent = z
  .discriminatedUnion('type', [issued])
  .refine((event) => (event.key === undefined) === (event.part === undefined), 'key and part go together');

export type RegisterEvent = z.infer<typeof registerEvent>;
export type Issued = Extract<RegisterEvent, { type: 'issued' }>;

/** An event as kept: its canonical JSON (RFC 8785) and its leaf in the log. */
export interface Leaf {
  readonly body: string;
  readonly leaf: Buffer;
}

/** RFC 9162, 2.1.1: SHA-256 of a zero byte and the entry. */
export const leafHash = (body: string): Buffer =>
  createHash('sha256').update('\0').update(body, 'utf8').digest();

export function toLeaf(event: RegisterEvent): Leaf {
  const read = registerEvent.safeParse(event);
  const body = read.success ? canonicalize(read.data) : undefined;
  if (body === undefined) {
    const what = read.error?.issues.map((issue) => `${issue.path.join('.')} ${issue.message}`).join('; ');
    throw refuse(
      2,
      `label ${event.label}`,
      `It cannot be entered: ${what}.`,
      'Correct the request or the edition.',
    );
  }
  return { body, leaf: leafHash(body) };
}

/** Reads a kept event, and does not believe it: text, hash and form must still fit each other. */
export function fromLeaf(seq: number, kept: Leaf): RegisterEvent {
  const damaged = (what: string) =>
    refuse(3, `register event ${seq}`, what, 'Issue nothing; compare the register with your last good copy.');
  if (!leafHash(kept.body).equals(kept.leaf)) throw damaged('Its text does not fit its hash.');
  const value = parse(kept.body);
  if (canonicalize(value) !== kept.body) throw damaged('Its text is not canonical JSON.');
  const read = registerEvent.safeParse(value);
  if (!read.success) throw damaged('It is of no kind this program knows.');
  return read.data;
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
