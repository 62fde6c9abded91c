import { Refusal } from '../problem.js';
import { LARGEST_CERTIFICATE } from '../register/certificate/certificate-form.js';
import { fromCode, isCode } from '../register/certificate/code.js';
import { dayOf } from '../register/certificate/facts.js';
import { type Verified, verifyCertificate } from '../register/certificate/verify.js';
import {
  readWithdrawals,
  type WithdrawalList,
  withdrawalProblem,
} from '../register/certificate/withdrawals.js';
import { type NumberEvent, registerEvent } from '../register/event.js';
import { readKeys } from '../register/log/key-history.js';
import { readNote } from '../register/log/note.js';
import { readInput } from './input-file.js';
import { refuse } from './messages.js';
import { type Seen, seenBy, witnessesIn } from './witnesses.js';

export interface VerifyRequest {
  /** A certificate, or the text of its codes, one a line. */
  readonly file: string;
  /** The file of the maker's public key, or of the history of the maker's keys. */
  readonly key: string;
  /** Files with the public keys of witnesses that must have seen its checkpoint. */
  readonly witnesses?: readonly string[];
  /** A list of withdrawals that the maker signed. */
  readonly withdrawals?: string;
}

/** A certificate that is genuine, and what a list says of it. */
export interface VerifiedFile extends Verified {
  /** How many events the list knows; undefined without one: whether it was withdrawn since is not known. */
  readonly notWithdrawnAsOf?: number;
  /** Which of the witnesses that were asked for saw its checkpoint, and when. */
  readonly seen: readonly Seen[];
}

/** A history with the handovers of a hundred keys. */
const LONGEST_KEYS = 65_536;

/**
 * Verifies a certificate with the maker's public keys and nothing else: no workshop, no register, no network. Throws a
 * Refusal: exit 1 with every problem of the certificate, 2 when a file cannot be read.
 */
export async function verifyFile({
  file,
  key,
  witnesses = [],
  withdrawals,
}: VerifyRequest): Promise<VerifiedFile> {
  const publicKeys = (await readInput(key, LONGEST_KEYS)).toString('utf8');
  const bytes = await readInput(file, LARGEST_CERTIFICATE);
  if (bytes.subarray(0, 5).toString('latin1') === '%PDF-') throw refuse('verify.page-given', file, {});
  const verdict = verifyCertificate(certificateIn(bytes), publicKeys);
  if (!verdict.ok) throw new Refusal(verdict.problems);
  const note = readNote(verdict.verified.certificate.checkpoint);
  if (!note.ok) throw new TypeError('a note that was read before');
  const seen = seenBy(note.note, await witnessesIn(witnesses), 'certificate');
  const verified = { ...verdict.verified, seen };
  if (withdrawals === undefined) return verified;
  const list = await listIn(withdrawals, publicKeys);
  const problem = withdrawalProblem(verified, list);
  if (problem) throw new Refusal([problem]);
  return { ...verified, notWithdrawnAsOf: list.checkpoint.size };
}

async function listIn(file: string, publicKeys: string): Promise<WithdrawalList> {
  const note = (await readInput(file, LARGEST_LIST)).toString('utf8');
  const keys = readKeys(publicKeys);
  // The certificate was verified with it before.
  if (!keys.ok) throw new Refusal([keys.problem]);
  const read = readWithdrawals(note, keys.history, file);
  if (!read.ok) throw new Refusal([read.problem]);
  return read.list;
}

/** Of a hundred thousand certificates. */
const LARGEST_LIST = 10_000_000;

function certificateIn(bytes: Buffer): Uint8Array {
  const text = bytes.toString('utf8');
  if (!isCode(text)) return bytes;
  const read = fromCode(text);
  if (read.ok) return read.bytes;
  throw new Refusal([read.problem]);
}

export interface CertificateEvent {
  readonly seq: number;
  readonly day: string;
  readonly type: NumberEvent['type'];
  readonly part?: string;
}

/** The events of a verified certificate, for people. */
export const certificateEvents = ({ certificate }: Verified): CertificateEvent[] =>
  certificate.events.map(({ seq, body }) => {
    const event = registerEvent.parse(JSON.parse(body)) as NumberEvent;
    return { seq, day: dayOf(event), type: event.type, ...('part' in event && { part: event.part }) };
  });
