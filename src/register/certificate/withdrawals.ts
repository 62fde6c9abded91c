import type { Problem } from '../../problem.js';
import { emptyCorrections } from '../current-events.js';
import { fromLeaf, isOfNumber, type NumberEvent } from '../event.js';
import type { KeyHistory } from '../log/key-history.js';
import { type Checkpoint, checkpointText, readNote, type Signer, signNote } from '../log/note.js';
import { parseEventFast } from '../parse-event-fast.js';
import type { Register } from '../register.js';
import type { PlacedEvent } from './facts.js';
import { problem } from './messages.js';
import { verifyCheckpoint } from './signed-checkpoint.js';
import type { Verified } from './verify.js';

/** Why a certificate is not to be relied on any more. */
export type WithdrawalReason = 'scrapped' | 'corrected';

export interface Withdrawal {
  /** SHA-256 of the certificate's file, hex. */
  readonly digest: string;
  readonly reason: WithdrawalReason;
}

/** What was entered of a number from its first certificate on. */
interface Certified {
  readonly edition: string;
  readonly label: string;
  readonly certificates: { readonly seq: number; readonly digest: string }[];
  readonly later: PlacedEvent[];
}

/**
 * The certificates that are withdrawn, by digest: of a piece that was scrapped since, and such as show an event that was
 * corrected or retracted since. A scrapping that was itself retracted withdraws nothing, nor does a correction that says
 * what stood there already.
 */
export async function withdrawalsOf(
  register: Pick<Register, 'events' | 'history' | 'resumptions'>,
): Promise<Withdrawal[]> {
  const resumptions = await register.resumptions();
  const byNumber = new Map<string, Certified>();
  for await (const { seq, body, leaf } of register.events()) {
    const parsed = parseEventFast(body);
    // Most numbers have no certificate.
    if (parsed && parsed.type !== 'certified' && !byNumber.has(`${parsed.edition} ${parsed.label}`)) continue;
    if (resumptions.passes(seq)) continue;
    const event = fromLeaf(seq, { body, leaf });
    if (!isOfNumber(event)) continue;
    const name = `${event.edition} ${event.label}`;
    const known = byNumber.get(name);
    if (event.type === 'certified') {
      const certified = known ?? { edition: event.edition, label: event.label, certificates: [], later: [] };
      certified.certificates.push({ seq, digest: event.digest });
      byNumber.set(name, certified);
    } else known?.later.push({ seq, event });
  }
  const all: Withdrawal[] = [];
  for (const { edition, label, certificates, later } of byNumber.values()) {
    // What a correction changed, only the events before it tell.
    const empty = later.some(({ event }) => event.type === 'corrected')
      ? emptyCorrections(await register.history(edition, label))
      : new Set<number>();
    const telling = later.filter(({ seq }) => !empty.has(seq));
    for (const { seq, digest } of certificates) {
      const reason = reasonToWithdraw(seq, telling);
      if (reason) all.push({ digest, reason });
    }
  }
  return all.sort((a, b) => (a.digest < b.digest ? -1 : 1));
}

function reasonToWithdraw(seq: number, later: readonly PlacedEvent[]): WithdrawalReason | undefined {
  const retracted = new Set(later.flatMap(({ event }) => (event.type === 'retracted' ? event.corrects : [])));
  const since = later.filter((one) => one.seq > seq);
  if (since.some((one) => isSpoiling(one.event) && !retracted.has(one.seq))) return 'scrapped';
  const corrected = since.some(({ event }) => 'corrects' in event && event.corrects < seq);
  return corrected ? 'corrected' : undefined;
}

const isSpoiling = ({ type }: NumberEvent): boolean => type === 'scrapped' || type === 'void';

/**
 * A list of withdrawals: a checkpoint (C2SP tlog-checkpoint) with a line for each certificate behind its root, so that one
 * signature says what is withdrawn and as of which events.
 */
export const signWithdrawals = (
  checkpoint: Omit<Checkpoint, 'origin'>,
  withdrawals: readonly Withdrawal[],
  signer: Signer,
): string => {
  const head = checkpointText({ ...checkpoint, origin: signer.name });
  const lines = withdrawals.map(({ digest, reason }) => `withdrawn ${digest} ${reason}\n`);
  return signNote(`${head}${LIST}\n${lines.join('')}`, [signer]);
};

/** Tells an empty list from a checkpoint, which says nothing of withdrawals. */
export const LIST = 'withdrawals';

export interface WithdrawalList {
  readonly checkpoint: Checkpoint;
  readonly withdrawals: readonly Withdrawal[];
}

type ReadList =
  | { readonly ok: true; readonly list: WithdrawalList }
  | { readonly ok: false; readonly problem: Problem };

/** Reads a list that must be signed by one of these keys. */
export function readWithdrawals(note: string, keys: KeyHistory, where: string): ReadList {
  const failed = (found: Problem): ReadList => ({ ok: false, problem: found });
  const checked = verifyCheckpoint(note, keys);
  if (!checked.ok)
    return failed(problem('certificate.withdrawals-unreadable', where, { reason: checked.problem }));
  const read = readNote(note);
  if (!read.ok) throw new TypeError('a note that was read before');
  const [title, ...lines] = read.note.text.slice(0, -1).split('\n').slice(3);
  if (title !== LIST) return failed(problem('certificate.withdrawals-form', where, { line: 4 }));
  const withdrawals: Withdrawal[] = [];
  for (const [i, line] of lines.entries()) {
    const found = /^withdrawn ([0-9a-f]{64}) (scrapped|corrected)$/.exec(line);
    if (!found) return failed(problem('certificate.withdrawals-form', where, { line: i + 5 }));
    withdrawals.push({ digest: found[1]!, reason: found[2] as WithdrawalReason });
  }
  return { ok: true, list: { checkpoint: checked.checkpoint, withdrawals } };
}

/** What a list says of a certificate that is genuine by itself; undefined where it is not withdrawn. */
export function withdrawalProblem(
  { digest, checkpoint }: Verified,
  { checkpoint: asOf, withdrawals }: WithdrawalList,
): Problem | undefined {
  const { size } = asOf;
  if (size === checkpoint.size && !asOf.root.equals(checkpoint.root))
    return problem('certificate.split-view', 'certificate', { size });
  const found = withdrawals.find((one) => one.digest === digest);
  return found && problem('certificate.withdrawn', 'certificate', { reason: found.reason, size });
}
