import { createHash, createPublicKey, type KeyObject, verify } from 'node:crypto';

/** A maker's public key in the text form of C2SP signed-note: `name+hash+key`. */
export interface Verifier {
  readonly name: string;
  /** Eight hexadecimal figures. */
  readonly id: string;
  readonly key: KeyObject;
}

/** A signed state of the register. */
export interface Signed {
  readonly origin: string;
  readonly size: number;
  readonly root: Uint8Array;
}

/** The algorithm byte of Ed25519 in C2SP signed-note. */
const ED25519 = 1;
/** RFC 8410, section 4: what stands before the 32 bytes of an Ed25519 key in its SubjectPublicKeyInfo. */
const SPKI_HEAD = Buffer.from('302a300506032b6570032100', 'hex');

/** The key, or undefined when the text is none: its hash must be that of its own name and bytes. */
export function verifierOf(text: string): Verifier | undefined {
  const read = /^([^\s+]+)\+([0-9a-f]{8})\+([A-Za-z0-9+/]{44})$/.exec(text.trim());
  if (!read) return undefined;
  const [, name, id, coded] = read as unknown as [string, string, string, string];
  const bytes = Buffer.from(coded, 'base64');
  if (bytes.length !== 33 || bytes[0] !== ED25519 || bytes.toString('base64') !== coded) return undefined;
  const hash = createHash('sha256').update(`${name}\n`, 'utf8').update(bytes).digest();
  if (hash.toString('hex', 0, 4) !== id) return undefined;
  const key = createPublicKey({
    key: Buffer.concat([SPKI_HEAD, bytes.subarray(1)]),
    format: 'der',
    type: 'spki',
  });
  return { name, id, key };
}

export const signedBy = ({ key }: Verifier, message: Uint8Array, signature: Uint8Array): boolean =>
  verify(null, message, key, signature);

export type Checked =
  | { ok: true; signed: Signed }
  | {
      ok: false;
      reason: 'checkpoint' | 'signer' | 'checkpoint signature' | 'origin';
      what: string;
    };

/** C2SP tlog-checkpoint: the body of the note and its signature by this key; signatures of others are passed over. */
export function checkedCheckpoint(note: string, verifier: Verifier): Checked {
  const malformed = (what: string): Checked => ({ ok: false, reason: 'checkpoint', what });
  const end = note.lastIndexOf('\n\n');
  if (end < 0) return malformed('Its checkpoint has no empty line before the signatures.');
  const text = note.slice(0, end + 1);
  const lines = note.slice(end + 2).split('\n');
  if (lines.pop() !== '' || lines.length === 0)
    return malformed('Its checkpoint has no whole signature line.');
  const signatures = lines.map(signatureLine);
  if (signatures.includes(undefined)) return malformed('A signature line of its checkpoint is not one.');
  const body = /^([^\n]+)\n(0|[1-9][0-9]{0,15})\n([A-Za-z0-9+/]{43}=)\n([^\n]+\n)*$/.exec(text);
  if (!body) return malformed('Its checkpoint does not tell an origin, a size and a root.');
  const root = Buffer.from(body[3]!, 'base64');
  if (root.toString('base64') !== body[3]) return malformed('The root of its checkpoint is not base64.');
  const named = signatures.filter((one) => one!.name === verifier.name);
  const own = named.find((one) => one!.id === verifier.id);
  if (!own) {
    const what = 'Its checkpoint is not signed with this key, but with another.';
    return { ok: false, reason: 'signer', what };
  }
  if (!signedBy(verifier, Buffer.from(text, 'utf8'), own.signature))
    return {
      ok: false,
      reason: 'checkpoint signature',
      what: 'The signature under its checkpoint does not fit it.',
    };
  if (body[1] !== verifier.name)
    return { ok: false, reason: 'origin', what: 'Its checkpoint is of another register than the key.' };
  return { ok: true, signed: { origin: body[1]!, size: Number(body[2]), root } };
}

/** C2SP signed-note: `— name base64`, of which the first four bytes are the hash of the key. */
function signatureLine(line: string): { name: string; id: string; signature: Uint8Array } | undefined {
  const read = /^\u2014 ([^\s+]+) ([A-Za-z0-9+/]+={0,2})$/.exec(line);
  if (!read) return undefined;
  const bytes = Buffer.from(read[2]!, 'base64');
  if (bytes.length < 5 || bytes.toString('base64') !== read[2]) return undefined;
  return { name: read[1]!, id: bytes.toString('hex', 0, 4), signature: bytes.subarray(4) };
}

const parent = (left: Uint8Array, right: Uint8Array): Buffer =>
  createHash('sha256').update('\u0001').update(left).update(right).digest();

/** RFC 9162, 2.1.3.2: whether a leaf at this place stands in a tree of this size and root. */
export function includes(
  root: Uint8Array,
  size: number,
  index: number,
  leaf: Uint8Array,
  proof: readonly Uint8Array[],
): boolean {
  if (index < 0 || index >= size) return false;
  let [fn, sn] = [index, size - 1];
  let hash: Uint8Array = leaf;
  for (const sibling of proof) {
    if (sn === 0) return false;
    if (fn % 2 === 1 || fn === sn) {
      hash = parent(sibling, hash);
      while (fn % 2 === 0 && fn !== 0) {
        fn /= 2;
        sn = Math.floor(sn / 2);
      }
    } else hash = parent(hash, sibling);
    fn = Math.floor(fn / 2);
    sn = Math.floor(sn / 2);
  }
  return sn === 0 && Buffer.from(hash).equals(root);
}
