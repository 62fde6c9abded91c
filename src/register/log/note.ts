import { createPublicKey, hash, type KeyObject, sign, verify } from 'node:crypto';
import { HASH_BYTES } from './tree.js';

/** C2SP signed-note and tlog-checkpoint, from memory; the form is pinned down in tests/published. */

/** The algorithm byte of Ed25519 in C2SP signed-note. */
const ED25519 = 1;
const KEY_HASH_BYTES = 4;
/** More than any note needs: a longer list only costs whoever reads it. */
const MOST_SIGNATURES = 100;
/** RFC 8410, section 4: what stands before the 32 bytes of an Ed25519 key in its SubjectPublicKeyInfo. */
const SPKI_HEAD = Buffer.from('302a300506032b6570032100', 'hex');

/** A key that can be asked whether it signed something. */
export interface Verifier {
  /** The name of the key, which is the origin of its log. */
  readonly name: string;
  readonly keyHash: Buffer;
  readonly publicKey: KeyObject;
}

/** A key that can sign. The private part cannot be read out of it. */
export interface Signer extends Verifier {
  sign(message: Uint8Array): Buffer;
}

/** What a checkpoint says. */
export interface Checkpoint {
  readonly origin: string;
  readonly size: number;
  readonly root: Buffer;
}

export interface Note {
  /** Everything that is signed, its last line end included. */
  readonly text: string;
  readonly signatures: readonly NoteSignature[];
}

export interface NoteSignature {
  readonly name: string;
  readonly keyHash: Buffer;
  readonly signature: Buffer;
}

type Fault = { readonly ok: false; readonly what: string };
export type Opened<T> = ({ readonly ok: true } & T) | Fault;

const fault = (what: string): Fault => ({ ok: false, what });

/** Not empty, no space of any script, no plus, no control character. */
export const isKeyName = (name: string): boolean => /^[^\s+\p{C}]+$/u.test(name);

const rawOf = (key: KeyObject): Buffer =>
  key.export({ format: 'der', type: 'spki' }).subarray(SPKI_HEAD.length);

const coded = (publicKey: KeyObject): Buffer => Buffer.concat([Buffer.of(ED25519), rawOf(publicKey)]);

/** Signed-note: the first four bytes of SHA-256 of the name, a line end, the algorithm and the key. */
const keyHashOf = (name: string, algorithmAndKey: Uint8Array): Buffer =>
  hash('sha256', Buffer.concat([Buffer.from(`${name}\n`, 'utf8'), algorithmAndKey]), 'buffer').subarray(
    0,
    KEY_HASH_BYTES,
  );

export function verifierOf(name: string, publicKey: KeyObject): Verifier {
  if (!isKeyName(name)) throw new RangeError('a key has a name without spaces and plus');
  if (publicKey.asymmetricKeyType !== 'ed25519') throw new RangeError('not an Ed25519 key');
  return { name, keyHash: keyHashOf(name, coded(publicKey)), publicKey };
}

export function signerOf(name: string, privateKey: KeyObject): Signer {
  // A closure, not a field: a signer that is printed or logged by mistake shows no private key.
  return {
    ...verifierOf(name, createPublicKey(privateKey)),
    sign: (message) => sign(null, message, privateKey),
  };
}

export const hasSigned = (verifier: Verifier, message: Uint8Array, signature: Uint8Array): boolean =>
  verify(null, message, verifier.publicKey, signature);

/** The public key as one line, for others: name, key hash and key, with a plus between. */
export const verifierLine = ({ name, keyHash, publicKey }: Verifier): string =>
  `${name}+${keyHash.toString('hex')}+${coded(publicKey).toString('base64')}`;

/** Reads such a line; one line end after it is no harm. */
export function readVerifier(line: string): Opened<{ verifier: Verifier }> {
  const read = /^([^+]+)\+([0-9a-f]{8})\+([A-Za-z0-9+/]+={0,2})\n?$/.exec(line);
  const bytes = read && base64(read[3]!);
  if (!read || !bytes || !isKeyName(read[1]!)) return fault('It is not a public key of a log.');
  if (bytes[0] !== ED25519) return fault('It is not an Ed25519 key.');
  if (bytes.length !== 1 + 32) return fault('It is not as long as an Ed25519 key.');
  if (keyHashOf(read[1]!, bytes).toString('hex') !== read[2])
    return fault('Its hash does not fit its name and key: it was copied wrongly or altered.');
  const der = Buffer.concat([SPKI_HEAD, bytes.subarray(1)]);
  return {
    ok: true,
    verifier: verifierOf(read[1]!, createPublicKey({ key: der, format: 'der', type: 'spki' })),
  };
}

/** The text with the signatures of these keys under it. */
export function signNote(text: string, signers: readonly Signer[]): string {
  const lines = signers.map((signer) => {
    const signature = Buffer.concat([signer.keyHash, signer.sign(Buffer.from(text, 'utf8'))]);
    return `\u2014 ${signer.name} ${signature.toString('base64')}\n`;
  });
  return `${text}\n${lines.join('')}`;
}

/** Takes a note apart, whoever signed it. */
export function readNote(note: string): Opened<{ note: Note }> {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is refused
  if (/[\u0000-\u0009\u000b-\u001f]|\p{Surrogate}/u.test(note))
    return fault('It holds characters that a note cannot have.');
  const end = note.lastIndexOf('\n\n');
  if (end < 0) return fault('There is no empty line before its signatures.');
  const text = note.slice(0, end + 1);
  if (end === 0) return fault('It says nothing.');
  const lines = note.slice(end + 2).split('\n');
  if (lines.pop() !== '') return fault('Its last line has no end.');
  if (lines.length === 0) return fault('It has no signature.');
  if (lines.length > MOST_SIGNATURES) return fault('It has more signatures than any note needs.');
  const signatures = lines.map(readSignature);
  if (!signatures.every((one) => one !== undefined)) return fault('A line under it is no signature.');
  return { ok: true, note: { text, signatures } };
}

function readSignature(line: string): NoteSignature | undefined {
  const read = /^\u2014 ([^ ]+) ([A-Za-z0-9+/]+={0,2})$/.exec(line);
  const bytes = read && base64(read[2]!);
  if (!read || !isKeyName(read[1]!) || !bytes || bytes.length <= KEY_HASH_BYTES) return undefined;
  return {
    name: read[1]!,
    keyHash: bytes.subarray(0, KEY_HASH_BYTES),
    signature: bytes.subarray(KEY_HASH_BYTES),
  };
}

/** Undefined when the key signed the note, else why not. Signatures of other keys are passed over. */
export function signatureFault({ text, signatures }: Note, verifier: Verifier): string | undefined {
  const own = signatures.filter(
    ({ name, keyHash }) => name === verifier.name && keyHash.equals(verifier.keyHash),
  );
  if (own.length === 0) return `It is not signed with this key of ${verifier.name}.`;
  const message = Buffer.from(text, 'utf8');
  return own.every(({ signature }) => hasSigned(verifier, message, signature))
    ? undefined
    : 'The signature under it does not fit it.';
}

/** What a log signs: its origin, how many entries it has and its root, a line each. */
export const checkpointText = ({ origin, size, root }: Checkpoint): string =>
  `${origin}\n${size}\n${root.toString('base64')}\n`;

/** Reads what a log signed. Further lines are an extension of the form, and passed over. */
export function readCheckpoint({ text }: Note): Opened<{ checkpoint: Checkpoint }> {
  const [origin, size, rootLine, ...more] = text.slice(0, -1).split('\n');
  if (!origin || size === undefined || rootLine === undefined)
    return fault('It does not tell an origin, a size and a root.');
  if (!isKeyName(origin)) return fault('Its origin cannot be the name of a log.');
  if (!/^(0|[1-9][0-9]*)$/.test(size)) return fault('Its size is not a plain decimal number.');
  if (!Number.isSafeInteger(Number(size))) return fault('Its size is larger than any log.');
  const root = base64(rootLine);
  if (root?.length !== HASH_BYTES) return fault('Its root is not a hash of 32 bytes in base64.');
  if (more.includes('')) return fault('It has an empty line.');
  return { ok: true, checkpoint: { origin, size: Number(size), root } };
}

/** Reads a checkpoint that must be signed by this key, for the log of its own name. */
export function openCheckpoint(signed: string, verifier: Verifier): Opened<{ checkpoint: Checkpoint }> {
  const read = readNote(signed);
  if (!read.ok) return read;
  const unsigned = signatureFault(read.note, verifier);
  if (unsigned) return fault(unsigned);
  const opened = readCheckpoint(read.note);
  if (opened.ok && opened.checkpoint.origin !== verifier.name)
    return fault('It is of another log than the key.');
  return opened;
}

export const signCheckpoint = (checkpoint: Omit<Checkpoint, 'origin'>, signer: Signer): string =>
  signNote(checkpointText({ ...checkpoint, origin: signer.name }), [signer]);

/** Base64 of RFC 4648, section 4, in its one form: whole, and with nothing in the bits to spare. */
function base64(text: string): Buffer | undefined {
  const bytes = Buffer.from(text, 'base64');
  return bytes.toString('base64') === text ? bytes : undefined;
}
