import { makeCertificate } from '../../../src/register/certificate/make.js';
import { isOfNumber, type RegisterEvent } from '../../../src/register/event.js';
import {
  type Draft,
  described,
  events,
  genuine,
  type Log,
  log,
  type Maker,
  maker,
  provedAt,
  provedIn,
  relogged,
  resigned,
} from './maker.js';

export const flipped = (text: string, at: number): string => {
  const c = text[at]!;
  return text.slice(0, at) + (c === 'A' ? 'B' : 'A') + text.slice(at + 1);
};

export const LAST = 4;
export const noteOf = (change: (text: string) => string, by: Maker = maker) => {
  const [text] = log.checkpoint.split('\n\n');
  return by.note(change(`${text}\n`));
};
export const raw = (from: string | RegExp, to: string) => () =>
  Buffer.from(Buffer.from(genuine(true).file).toString().replace(from, to));

/** Signed anew by the maker, so that nothing but the named fault is there to be found. */
export const inside = (change: (draft: Draft) => void) => () => resigned(change);

/** A log of other events, proved and signed without fault: only their meaning is wrong. */
export const lived = (change: (told: RegisterEvent[]) => void) => () => made(relogged(change));
export const made = (from: Log) =>
  makeCertificate(described, provedIn(from, true), [], from.checkpoint, maker.sign).file;

export const mine = (told: RegisterEvent[], type: string): RegisterEvent =>
  told.find((event) => event.type === type && isOfNumber(event) && event.number === 12)!;
export const more = (told: RegisterEvent[], ...types: string[]): void => {
  for (const type of types) {
    const base = { ...mine(told, 'inspected'), type };
    told.push((type === 'destroyed' ? { ...base, witness: 'H. Quill' } : base) as RegisterEvent);
  }
};

/** What was done, the codes of every problem it must give (without `certificate.`), and how it is made. */
export type Alteration = [what: string, codes: string[], make: () => Uint8Array];
export const CLOSED =
  '{"at":"2021-03-01T09:30:00.000Z","by":"E. Marrow","edition":"nine-lights","statement":"' +
  `${'a'.repeat(64)}","type":"closed","why":"complete"}`;

export function edit(c: Draft, i: number, change: (body: string) => string): void {
  const before = c.events[i]!.body;
  c.events[i]!.body = change(before);
  if (c.events[i]!.body === before) throw new Error('nothing was changed');
}
export function path(c: Draft, i: number, change: (proof: string[]) => void): void {
  change(c.events[i]!.proof);
}
/** The inspection of number 13, proved as it should be. */
export function foreign(): Draft['events'][number] {
  const seq = events.findIndex((e) => e.type === 'inspected' && e.number === 13);
  const { body, proof } = provedAt(log, seq);
  return { seq, body, proof: proof.map((hash) => hash.toString('base64')) };
}
