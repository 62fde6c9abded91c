import { createPublicKey, hash, type KeyObject, sign, verify } from 'node:crypto';
import type { Problem } from '../../problem.js';
import { HASH_BYTES } from './merkle-accumulator.js';
import { problem } from './messages.js';

/** C2SP signed-note and tlog-checkpoint, from memory; the form is pinned down in tests/published. */

/** The algorithm byte of Ed25519 in C2SP signed-note. */
const ED25519 = 1;
const KEY_HASH_BYTES = 4;
/** More than any note needs; reading a longer list would only cost time. */
const MOST_SIGNATURES = 100;
/** RFC 8410, section 4: what stands before the 32 bytes of an Ed25519 key in its SubjectPublicKeyInfo. */
const SPKI_HEAD = Buffer.from('302a300506032b6570032100', 'hex');

/** A public key, with which a signature is checked. */
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
  /** What is signed, its last line end included. */
  readonly text: string;
  readonly signatures: readonly NoteSignature[];
}

export interface NoteSignature {
  readonly name: string;
  readonly keyHash: Buffer;
  readonly signature: Buffer;
}

type Failed = { readonly ok: false; readonly problem: Problem };
/** What was read, or what is wrong with it; the problem has no place, which is known to whoever opened it. */
export type Opened<T> = ({ readonly ok: true } & T) | Failed;

const failed = (found: Problem): Failed => ({ ok: false, problem: found });
/** A problem of the thing itself, wherever it is. */
const fault = (code: NoteFault): Failed => failed(problem(code, '', {}));
type NoteFault =
  | 'log.key-not-readable'
  | 'log.key-not-ed25519'
  | 'log.key-wrong-length'
  | 'log.key-hash-differs'
  | 'log.note-characters'
  | 'log.note-no-blank-line'
  | 'log.note-empty'
  | 'log.note-cut-short'
  | 'log.note-unsigned'
  | 'log.note-signature-unreadable'
  | 'log.checkpoint-lines-missing'
  | 'log.checkpoint-origin'
  | 'log.checkpoint-size'
  | 'log.checkpoint-root'
  | 'log.checkpoint-blank-line';

/** Not empty, no space of any script, no plus, no control character. */
export const isKeyName = (name: string): boolean => /^[^\s+\p{C}]+$/u.test(name);

const rawOf = (key: KeyObject): Buffer =>
  key.export({ format: 'der', type: 'spki' }).subarray(SPKI_HEAD.length);

const algorithmAndKeyOf = (publicKey: KeyObject, algorithm: number): Buffer =>
  Buffer.concat([Buffer.of(algorithm), rawOf(publicKey)]);

/** Signed-note: the first four bytes of SHA-256 of the name, a line end, the algorithm and the key. */
const keyHashOf = (name: string, algorithmAndKey: Uint8Array): Buffer =>
  hash('sha256', Buffer.concat([Buffer.from(`${name}\n`, 'utf8'), algorithmAndKey]), 'buffer').subarray(
    0,
    KEY_HASH_BYTES,
  );

export const verifierOf = (name: string, publicKey: KeyObject): Verifier =>
  publicKeyOf(name, publicKey, ED25519);

/** A public key of that name, for signatures of an algorithm: the byte is part of what its hash is made of. */
export function publicKeyOf(name: string, publicKey: KeyObject, algorithm: number): Verifier {
  if (!isKeyName(name)) throw new RangeError('a key has a name without spaces and plus');
  if (publicKey.asymmetricKeyType !== 'ed25519') throw new RangeError('not an Ed25519 key');
  return { name, keyHash: keyHashOf(name, algorithmAndKeyOf(publicKey, algorithm)), publicKey };
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
export const verifierLine = (verifier: Verifier): string => publicKeyLine(verifier, ED25519);

export const publicKeyLine = ({ name, keyHash, publicKey }: Verifier, algorithm: number): string =>
  `${name}+${keyHash.toString('hex')}+${algorithmAndKeyOf(publicKey, algorithm).toString('base64')}`;

/** Reads such a line; one line end after it is accepted. */
export function readVerifier(line: string): Opened<{ verifier: Verifier }> {
  const read = readPublicKey(line, ED25519);
  return read.ok ? { ok: true, verifier: read.key } : read;
}

/** The same for signatures of another algorithm. */
export function readPublicKey(line: string, algorithm: number): Opened<{ key: Verifier }> {
  const read = /^([^+]+)\+([0-9a-f]{8})\+([A-Za-z0-9+/]+={0,2})\n?$/.exec(line);
  const bytes = read && base64(read[3]!);
  if (!read || !bytes || !isKeyName(read[1]!)) return fault('log.key-not-readable');
  if (bytes[0] !== algorithm) return fault('log.key-not-ed25519');
  if (bytes.length !== 1 + 32) return fault('log.key-wrong-length');
  if (keyHashOf(read[1]!, bytes).toString('hex') !== read[2]) return fault('log.key-hash-differs');
  const der = Buffer.concat([SPKI_HEAD, bytes.subarray(1)]);
  return {
    ok: true,
    key: publicKeyOf(read[1]!, createPublicKey({ key: der, format: 'der', type: 'spki' }), algorithm),
  };
}

/** The text with the signatures of these keys under it. */
export function signNote(text: string, signers: readonly Signer[]): string {
  const signed = signers.map(({ name, keyHash, sign: by }) =>
    signatureLine({ name, keyHash, signature: by(Buffer.from(text, 'utf8')) }),
  );
  return `${text}\n${signed.join('')}`;
}

/** A signature as a line under a note. */
export const signatureLine = ({ name, keyHash, signature }: NoteSignature): string =>
  `\u2014 ${name} ${Buffer.concat([keyHash, signature]).toString('base64')}\n`;

/** Reads a note, whoever signed it. */
export function readNote(note: string): Opened<{ note: Note }> {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is refused
  if (/[\u0000-\u0009\u000b-\u001f]|\p{Surrogate}/u.test(note)) return fault('log.note-characters');
  const end = note.lastIndexOf('\n\n');
  if (end < 0) return fault('log.note-no-blank-line');
  const text = note.slice(0, end + 1);
  if (end === 0) return fault('log.note-empty');
  const lines = note.slice(end + 2).split('\n');
  if (lines.pop() !== '') return fault('log.note-cut-short');
  if (lines.length === 0) return fault('log.note-unsigned');
  if (lines.length > MOST_SIGNATURES)
    return failed(problem('log.note-too-many-signatures', '', { n: lines.length, most: MOST_SIGNATURES }));
  const signatures = lines.map(readSignature);
  if (!signatures.every((one) => one !== undefined)) return fault('log.note-signature-unreadable');
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

/** Undefined when the key signed the note, else why not. Signatures of other keys are ignored. */
export function signatureProblem({ text, signatures }: Note, verifier: Verifier): Problem | undefined {
  const own = signatures.filter(
    ({ name, keyHash }) => name === verifier.name && keyHash.equals(verifier.keyHash),
  );
  if (own.length === 0) return problem('log.other-signer', '', { name: verifier.name });
  const message = Buffer.from(text, 'utf8');
  return own.every(({ signature }) => hasSigned(verifier, message, signature))
    ? undefined
    : problem('log.signature-wrong', '', {});
}

/** What a log signs: its origin, how many entries it has and its root, a line each. */
export const checkpointText = ({ origin, size, root }: Checkpoint): string =>
  `${origin}\n${size}\n${root.toString('base64')}\n`;

/** Reads what a log signed. Further lines are an extension of the form, and are ignored. */
export function readCheckpoint({ text }: Note): Opened<{ checkpoint: Checkpoint }> {
  const [origin, size, rootLine, ...more] = text.slice(0, -1).split('\n');
  if (!origin || size === undefined || rootLine === undefined) return fault('log.checkpoint-lines-missing');
  if (!isKeyName(origin)) return fault('log.checkpoint-origin');
  if (!/^(0|[1-9][0-9]*)$/.test(size)) return fault('log.checkpoint-size');
  if (!Number.isSafeInteger(Number(size))) return fault('log.checkpoint-size');
  const root = base64(rootLine);
  if (root?.length !== HASH_BYTES) return fault('log.checkpoint-root');
  if (more.includes('')) return fault('log.checkpoint-blank-line');
  return { ok: true, checkpoint: { origin, size: Number(size), root } };
}

/** Reads a checkpoint that must be signed by this key, for the log of its own name. */
export function openCheckpoint(signed: string, verifier: Verifier): Opened<{ checkpoint: Checkpoint }> {
  const read = readNote(signed);
  if (!read.ok) return read;
  const unsigned = signatureProblem(read.note, verifier);
  if (unsigned) return failed(unsigned);
  const opened = readCheckpoint(read.note);
  if (!opened.ok || opened.checkpoint.origin === verifier.name) return opened;
  const { origin } = opened.checkpoint;
  return failed(problem('log.checkpoint-other-log', '', { origin, name: verifier.name }));
}

export const signCheckpoint = (checkpoint: Omit<Checkpoint, 'origin'>, signer: Signer): string =>
  signNote(checkpointText({ ...checkpoint, origin: signer.name }), [signer]);

/** Base64 of RFC 4648, section 4, in its one form: whole, and with nothing in the bits to spare. */
export function base64(text: string): Buffer | undefined {
  const bytes = Buffer.from(text, 'base64');
  return bytes.toString('base64') === text ? bytes : undefined;
}
