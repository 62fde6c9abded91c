import { createPublicKey, type KeyObject, sign, verify } from 'node:crypto';
import type { Problem } from '../../problem.js';
import { problem } from './messages.js';
import {
  type Note,
  type NoteSignature,
  type Opened,
  publicKeyLine,
  publicKeyOf,
  readPublicKey,
  signatureLine,
} from './note.js';

/** C2SP tlog-cosignature, cosignature/v1, from memory; the form is pinned down in tests/published. */

/** The algorithm byte of cosignature/v1 with Ed25519: its key is no key of a log. */
const COSIGNATURE = 4;
const TIME_BYTES = 8;
/** The end of the year 9999: a later time is no time that anyone saw. */
const LATEST = 253_402_300_799;

/** The public key of a witness. */
export interface Witness {
  readonly name: string;
  readonly keyHash: Buffer;
  readonly publicKey: KeyObject;
}

/** A witness that can cosign. The private part cannot be read out of it. */
export interface Cosigner extends Witness {
  sign(message: Uint8Array): Buffer;
}

const witnessOf = (name: string, publicKey: KeyObject): Witness => publicKeyOf(name, publicKey, COSIGNATURE);

export function cosignerOf(name: string, privateKey: KeyObject): Cosigner {
  return {
    ...witnessOf(name, createPublicKey(privateKey)),
    sign: (message) => sign(null, message, privateKey),
  };
}

/** The public key of a witness as one line, for others. */
export const witnessLine = (witness: Witness): string => publicKeyLine(witness, COSIGNATURE);

/** Reads such a line; one line end after it is accepted. */
export function readWitness(line: string): Opened<{ witness: Witness }> {
  const read = readPublicKey(line, COSIGNATURE);
  return read.ok ? { ok: true, witness: read.key } : read;
}

/** What a witness signs: that it saw this at that time, as the newest of its log. */
const cosignedMessage = (text: string, seconds: number): Buffer =>
  Buffer.from(`cosignature/v1\ntime ${seconds}\n${text}`, 'utf8');

/** The note with the cosignature of a witness under it, in place of an earlier one of the same key. */
export function cosign({ text, signatures }: Note, by: Cosigner, seconds: number): string {
  if (!isTime(seconds)) throw new RangeError('a time is whole seconds since 1970');
  const time = Buffer.alloc(TIME_BYTES);
  time.writeBigUInt64BE(BigInt(seconds));
  const { name, keyHash } = by;
  const own = { name, keyHash, signature: Buffer.concat([time, by.sign(cosignedMessage(text, seconds))]) };
  return formatNote({ text, signatures: [...signatures.filter((one) => !isOf(one, by)), own] });
}

const isTime = (seconds: number): boolean =>
  Number.isSafeInteger(seconds) && seconds > 0 && seconds <= LATEST;

const isOf = (one: NoteSignature, { name, keyHash }: Witness): boolean =>
  one.name === name && one.keyHash.equals(keyHash);

export const formatNote = ({ text, signatures }: Note): string =>
  `${text}\n${signatures.map(signatureLine).join('')}`;

/** When a witness saw a note, in seconds since 1970, or why its cosignature does not count. */
export function cosignedAt({ text, signatures }: Note, witness: Witness): Opened<{ seconds: number }> {
  const failed = (found: Problem) => ({ ok: false, problem: found }) as const;
  const own = signatures.filter((one) => isOf(one, witness));
  const { name } = witness;
  if (own.length === 0) return failed(problem('witness.not-cosigned', '', { name }));
  const times: number[] = [];
  for (const { signature } of own) {
    if (signature.length <= TIME_BYTES) return failed(problem('witness.cosignature-wrong', '', { name }));
    const seconds = Number(signature.readBigUInt64BE());
    const message = isTime(seconds) && cosignedMessage(text, seconds);
    if (!message || !verify(null, message, witness.publicKey, signature.subarray(TIME_BYTES)))
      return failed(problem('witness.cosignature-wrong', '', { name }));
    times.push(seconds);
  }
  // Seen once, seen from then on.
  return { ok: true, seconds: Math.min(...times) };
}

/** Two notes of one text as one, each signature once. A key that signed both keeps what the first has. */
export function mergeSignatures(first: Note, second: Note): Note {
  if (first.text !== second.text) throw new RangeError('only notes of one text can be merged');
  const more = second.signatures.filter(
    ({ name, keyHash }) => !first.signatures.some((one) => one.name === name && one.keyHash.equals(keyHash)),
  );
  return { text: first.text, signatures: [...first.signatures, ...more] };
}
