import type { Problem } from '../../problem.js';
import { type Cosigner, cosign, cosignedAt, formatNote, mergeSignatures } from './cosignature.js';
import { type KeyHistory, signingKey } from './key-history.js';
import { consistencyProblem } from './merkle-proof.js';
import { problem } from './messages.js';
import { base64, type Checkpoint, type Note, type Opened, readCheckpoint, readNote } from './note.js';

/**
 * What a keeper sends to a witness: a checkpoint, and the proof that it continues what the witness cosigned last. The form
 * is that of a request in C2SP tlog-witness (add-checkpoint), from memory.
 */
export interface WitnessRequest {
  /** How many events the witness saw last; 0 when none. */
  readonly old: number;
  readonly proof: readonly Buffer[];
  readonly note: string;
}

/** More than any consistency proof has: two for each level of a log of 2^63 events. */
const MOST_HASHES = 126;

export const formatRequest = ({ old, proof, note }: WitnessRequest): string =>
  [`old ${old}\n`, ...proof.map((hash) => `${hash.toString('base64')}\n`), '\n', note].join('');

/** Whether the head of a file shows that it is such a request. */
export const isRequest = (head: string): boolean => /^old (0|[1-9]\d*)\n/.test(head);

export function readRequest(text: string): Opened<{ request: WitnessRequest }> {
  const wrong = { ok: false, problem: problem('witness.request-form', '', {}) } as const;
  const end = text.indexOf('\n\n');
  const [head, ...lines] = text.slice(0, Math.max(0, end)).split('\n');
  const old = /^old (0|[1-9]\d{0,15})$/.exec(head!);
  const proof = lines.map(base64);
  if (!old || end < 0 || proof.length > MOST_HASHES || !proof.every((one) => one !== undefined)) return wrong;
  return { ok: true, request: { old: Number(old[1]), proof, note: text.slice(end + 2) } };
}

/** The last head of a log that a witness cosigned. */
export interface SeenHead extends Checkpoint {
  /** With the cosignature. */
  readonly note: string;
  readonly seconds: number;
}

/** The head that a witness wrote down itself. */
export function readSeenHead(text: string, witness: Cosigner): Opened<SeenHead> {
  const read = readNote(text);
  if (!read.ok) return read;
  const opened = readCheckpoint(read.note);
  const at = cosignedAt(read.note, witness);
  if (!opened.ok) return opened;
  if (!at.ok) return at;
  return { ok: true, ...opened.checkpoint, note: text, seconds: at.seconds };
}

/** A checkpoint of a request, whichever log it is of, before anything is verified. */
export function openRequest({ note }: WitnessRequest): Opened<{ note: Note; checkpoint: Checkpoint }> {
  const read = readNote(note);
  if (!read.ok) return read;
  const opened = readCheckpoint(read.note);
  return opened.ok ? { ok: true, note: read.note, checkpoint: opened.checkpoint } : opened;
}

/**
 * Cosigns what a keeper sent, when the maker signed it and it continues what this witness saw last; the same head again
 * gives the same cosignature, of the first time, also where the maker signed it with another key meanwhile. `seconds` is the present time, which
 * may be before that of the last head only where somebody confirmed it.
 */
export function answerRequest(
  request: WitnessRequest,
  keys: KeyHistory,
  seen: SeenHead | undefined,
  witness: Cosigner,
  seconds: number,
  confirmed?: 'confirmed',
): Opened<{ cosigned: string; size: number }> {
  const failed = (found: Problem) => ({ ok: false, problem: found }) as const;
  const opened = openRequest(request);
  if (!opened.ok) return opened;
  const { note, checkpoint } = opened;
  const { size, origin } = checkpoint;
  if (origin !== keys.origin)
    return failed(problem('log.checkpoint-other-log', '', { origin, name: keys.origin }));
  const by = signingKey(note, size, keys);
  if (!by.ok) return by;
  const wrong = continuationProblem(request, checkpoint, seen);
  if (wrong) return failed(wrong);
  const own = { text: note.text, signatures: note.signatures.filter(({ name }) => name !== witness.name) };
  const before = seen?.size === size ? readNote(seen.note) : undefined;
  if (before?.ok && before.note.text === own.text)
    return { ok: true, cosigned: formatNote(mergeSignatures(own, before.note)), size };
  if (!confirmed && seen && seconds < seen.seconds)
    return failed(problem('witness.clock-behind', '', { day: dayOf(seconds), seen: dayOf(seen.seconds) }));
  return { ok: true, cosigned: cosign(own, witness, seconds), size };
}

const dayOf = (seconds: number): string => new Date(seconds * 1000).toISOString().slice(0, 10);

function continuationProblem(
  { old, proof }: WitnessRequest,
  { size, root }: Checkpoint,
  seen: SeenHead | undefined,
): Problem | undefined {
  if (size === 0) return problem('log.proof-of-empty-log', '', {});
  if (!seen)
    return old === 0 && proof.length === 0 ? undefined : problem('witness.nothing-seen', '', { old });
  if (size < seen.size) return problem('witness.shorter', '', { size, seen: seen.size });
  if (size === seen.size)
    return root.equals(seen.root) ? undefined : problem('witness.other-history', '', { size });
  if (old !== seen.size) return problem('witness.proof-from-elsewhere', '', { old, seen: seen.size });
  const reason = consistencyProblem(seen, { size, root }, proof);
  return reason && problem('witness.not-extended', '', { size, seen: seen.size, reason });
}
