import { createHash, createPrivateKey, createPublicKey, sign } from 'node:crypto';
import {
  type Certificate,
  canonicalJson,
  signedBytes,
} from '../../../src/register/certificate/certificate-form.js';
import { makeCertificate } from '../../../src/register/certificate/make.js';
import { isOfNumber, type NumberEvent, type RegisterEvent, toLeaf } from '../../../src/register/event.js';

/**
 * A maker with a key and a log, written plainly from the standards and sharing no code with the register's own: RFC
 * 9162, 2.1.1 and 2.1.3.1 for the tree, C2SP signed-note and tlog-checkpoint (from memory) for the note, RFC 8032 keys.
 */

const sha256 = (...parts: Uint8Array[]): Buffer =>
  parts.reduce((hash, part) => hash.update(part), createHash('sha256')).digest();

/** The largest power of two smaller than n. */
const split = (n: number): number => 2 ** Math.floor(Math.log2(n - 1));

/** RFC 9162, 2.1.1. */
export function rootOf(leaves: readonly Uint8Array[]): Buffer {
  if (leaves.length === 1) return Buffer.from(leaves[0]!);
  const k = split(leaves.length);
  return sha256(Buffer.of(1), rootOf(leaves.slice(0, k)), rootOf(leaves.slice(k)));
}

/** RFC 9162, 2.1.3.1. */
export function pathOf(m: number, leaves: readonly Uint8Array[]): Buffer[] {
  if (leaves.length === 1) return [];
  const k = split(leaves.length);
  return m < k
    ? [...pathOf(m, leaves.slice(0, k)), rootOf(leaves.slice(k))]
    : [...pathOf(m - k, leaves.slice(k)), rootOf(leaves.slice(0, k))];
}

export interface Maker {
  readonly name: string;
  readonly publicKey: string;
  readonly keyHash: Buffer;
  sign(message: Uint8Array): Buffer;
  note(text: string): string;
}

/** RFC 8410: a private key is its 32 bytes behind a fixed head. */
export function makerOf(name: string, seed: number): Maker {
  const head = Buffer.from('302e020100300506032b657004220420', 'hex');
  const key = createPrivateKey({
    key: Buffer.concat([head, Buffer.alloc(32, seed)]),
    format: 'der',
    type: 'pkcs8',
  });
  const spki = createPublicKey(key).export({ format: 'der', type: 'spki' });
  const bytes = Buffer.concat([Buffer.of(1), spki.subarray(-32)]);
  const keyHash = sha256(Buffer.from(`${name}\n`), bytes).subarray(0, 4);
  const signed = (message: Uint8Array): Buffer => sign(null, message, key);
  return {
    name,
    publicKey: `${name}+${keyHash.toString('hex')}+${bytes.toString('base64')}`,
    keyHash,
    sign: signed,
    note: (text) =>
      `${text}\n\u2014 ${name} ${Buffer.concat([keyHash, signed(Buffer.from(text))]).toString('base64')}\n`,
  };
}

export const ORIGIN = 'lantern-coast.example/register';
export const maker = makerOf(ORIGIN, 7);
export const stranger = makerOf(ORIGIN, 8);

/** A salt as the register makes them, but the same in every run. */
export const saltOf = (n: number): string =>
  sha256(Buffer.from(`salt ${n}`))
    .subarray(0, 16)
    .toString('base64')
    .slice(0, 22);

const at = (seq: number): string => new Date(Date.UTC(2021, 2, 1, 9, seq)).toISOString();

interface Entry {
  readonly type: NumberEvent['type'];
  readonly number: number;
  readonly more?: object;
}

const entered = ({ type, number, more }: Entry, seq: number): RegisterEvent =>
  ({
    type,
    edition: 'nine-lights',
    series: 'main',
    number,
    label: `${String(number).padStart(2, '0')}/90`,
    by: 'E. Marrow',
    at: at(seq),
    why: 'as planned',
    salt: saltOf(seq),
    ...(type === 'issued' && { parts: ['cap', 'barrel'] }),
    ...more,
  }) as RegisterEvent;

const numbers = Array.from({ length: 40 }, (_, i) => i + 1);
export const OTHER_OWNER = 'Ottilie Vanterpool';
export const OWNER = 'Łucja Dalgaard';

/** The life of forty numbers, mixed as a bench does them; 12 is the piece the tests are about. */
export const events: readonly RegisterEvent[] = [
  ...numbers.map((number): Entry => ({ type: 'issued', number })),
  ...numbers.flatMap((number): Entry[] => [
    { type: 'engraved', number, more: { part: 'cap' } },
    { type: 'engraved', number, more: { part: 'barrel' } },
  ]),
  ...numbers.map((number): Entry => ({ type: 'inspected', number })),
  ...numbers.map((number): Entry => {
    const to = number === 12 ? OWNER : `${OTHER_OWNER} ${number}`;
    return { type: 'delivered', number, more: { to, on: '2021-03-09' } };
  }),
].map(entered);

export interface Log {
  readonly events: readonly RegisterEvent[];
  readonly leaves: readonly Buffer[];
  readonly checkpoint: string;
}

export function logOf(told: readonly RegisterEvent[], by: Maker = maker, origin = ORIGIN): Log {
  const leaves = told.map((event) => toLeaf(event).leaf);
  const text = `${origin}\n${leaves.length}\n${rootOf(leaves).toString('base64')}\n`;
  return { events: told, leaves, checkpoint: by.note(text) };
}

export const log = logOf(events);

export const described = {
  maker: 'Lantern Coast, makers of writing instruments',
  edition: { id: 'nine-lights', name: 'Nine Lights' },
  series: { id: 'main', title: 'Numbered edition' },
  number: 12,
  label: '12/90',
  parts: [
    { id: 'cap', name: 'Cap', material: 'Sterling silver 925' },
    { id: 'barrel', name: 'Barrel', material: 'Cast acrylic resin, lantern amber' },
  ],
};

/** The events of number 12 with their proofs; deliveries only when asked for. */
export const provedIn = (from: Log, withDelivery = false) =>
  from.events.flatMap((event, seq) => {
    if (!isOfNumber(event) || event.number !== 12) return [];
    return event.type === 'delivered' && !withDelivery ? [] : [provedAt(from, seq)];
  });

/** One event with its proof. */
export function provedAt(from: Log, seq: number) {
  const event = from.events[seq] as NumberEvent;
  return { seq, event, body: toLeaf(event).body, proof: pathOf(seq, from.leaves) };
}

export const genuine = (withDelivery = false) =>
  makeCertificate(described, provedIn(log, withDelivery), [], log.checkpoint, maker.sign);

/** A certificate changed by hand, signed again by whoever holds this key: only what is wrong inside can tell. */
export function resigned(change: (draft: Draft) => void, by: Maker = maker): Uint8Array {
  const draft = copyOf(genuine(true).certificate);
  change(draft);
  draft.signature = by.sign(signedBytes(draft)).toString('base64');
  return written(draft);
}

/** The same, but with the maker's signature left as it was. */
export function altered(change: (draft: Draft) => void): Uint8Array {
  const draft = copyOf(genuine(true).certificate);
  change(draft);
  return written(draft);
}

/** `delete` is wanted on what may be missing. */
export type Draft = Certificate;

const copyOf = (one: Certificate): Draft => JSON.parse(JSON.stringify(one)) as Draft;
export const written = (value: unknown): Uint8Array => Buffer.from(`${canonicalJson(value)}\n`);

/** Puts another text in place of an event, with the leaf put into a new log: the whole proof fits again. */
export function relogged(change: (told: RegisterEvent[]) => void): Log {
  const told = events.map((event) => ({ ...event }));
  change(told);
  return logOf(told);
}
