import canonicalizeModule from 'canonicalize';
import { z } from 'zod';
import { id, title } from '../../documents/schema/scalar.js';
import { certificateSerial } from '../event.js';
import { nonBlankLine } from '../non-blank-line.js';

// The package's types describe an ES module, but what it holds is the function itself.
const canonicalize = canonicalizeModule as unknown as (value: unknown) => string | undefined;

/** Far above any certificate: a number with sixty events in a log of a thousand million is not half of it. */
export const LARGEST_CERTIFICATE = 262_144;

/** With the cosignatures of some twenty witnesses. */
export const LONGEST_CHECKPOINT = 4000;

export const PROVES =
  'The maker signed this certificate, and a register in which, at the checkpoint, these events of this number stood.';
export const DOES_NOT_PROVE =
  'What was entered later or is left out here, where the piece is now, or that an object shown with this is that piece.';

/** 32 bytes as base64: 43 characters of which the last has two bits to spare, and one sign of padding. */
const hash = z
  .string()
  .regex(/^[A-Za-z0-9+/]{42}[AEIMQUYcgkosw048]=$/, 'must be 32 bytes, base64')
  .describe('SHA-256, base64');

const dates = z.strictObject({
  issued: z.iso.date(),
  engraved: z.iso.date().describe('when the last of its parts was'),
  inspected: z.iso.date().optional(),
  delivered: z.iso.date().optional(),
});

const event = z.strictObject({
  seq: z.number().int().min(0).max(Number.MAX_SAFE_INTEGER).describe('its place in the register, from 0'),
  body: z.string().min(2).max(8000).describe('the event as the register keeps it: canonical JSON, RFC 8785'),
  proof: z.array(hash).max(64).describe('inclusion proof in the checkpoint, RFC 9162, 2.1.3'),
});

/** What one piece's certificate holds. A file of it is its canonical JSON (RFC 8785) and a line end. */
export const certificate = z.strictObject({
  kind: z.literal('certificate'),
  version: z.union([z.literal(1), z.literal(2)]).describe('1 has neither serial nor amendments'),
  maker: title,
  edition: z.strictObject({ id, name: title }),
  series: z.strictObject({ id, title }),
  number: z.number().int().min(1).max(99_999),
  label: nonBlankLine(200),
  serial: certificateSerial
    .optional()
    .describe('tells the certificates of this number apart, from 1; in version 2'),
  parts: z
    .array(z.strictObject({ id, name: title, material: title }))
    .min(1)
    .max(20)
    .describe('the parts that carry the number, and what they are made of'),
  dates: dates.describe('days of the events below'),
  owner: nonBlankLine(200).optional().describe('to whom it was delivered, if that was asked for'),
  events: z.array(event).min(1).max(100).describe('of this number, in order'),
  amendments: z
    .array(event)
    .min(1)
    .max(50)
    .optional()
    .describe('what changed the terms of the edition, in order; in version 2'),
  checkpoint: z.string().min(1).max(LONGEST_CHECKPOINT).describe('signed note, C2SP tlog-checkpoint'),
  proves: z.literal(PROVES),
  doesNotProve: z.literal(DOES_NOT_PROVE),
  signature: z
    .string()
    .regex(/^[A-Za-z0-9+/]{85}[AQgw]==$/, 'must be 64 bytes, base64')
    .describe("the maker's, Ed25519, over the canonical JSON of all the rest"),
});

/** The highest version that this program makes and reads. */
export const CERTIFICATE_VERSION = 2;

export type Certificate = z.infer<typeof certificate>;
export type Unsigned = Omit<Certificate, 'signature'>;
export type Dates = Certificate['dates'];

/** Canonical JSON, RFC 8785; undefined for a value that has none. */
export const canonicalJson = (value: unknown): string | undefined => canonicalize(value);

/**
 * What the maker's key signs. It is one line that begins with a brace, which no checkpoint does: a signature of the one
 * can never be shown as one of the other.
 */
export function signedBytes({ signature: _left, ...rest }: Unsigned & { signature?: string }): Uint8Array {
  const text = canonicalJson(rest);
  if (text === undefined) throw new RangeError('the certificate has no canonical JSON');
  return Buffer.from(text, 'utf8');
}

/** The file of a certificate. */
export const fileOf = (one: Certificate): Uint8Array => Buffer.from(`${canonicalJson(one)}\n`, 'utf8');
