import { refuse } from '../../problem.js';
import { leafHash } from '../event.js';
import type { Register, StoredCheckpoint } from '../register.js';
import {
  type Checkpoint,
  type Opened,
  openCheckpoint,
  readCheckpoint,
  readNote,
  type Signer,
  signCheckpoint,
} from './note.js';
import { Frontier } from './tree.js';

/** What is asked of a register to sign its log. */
export type Log = Pick<Register, 'size' | 'events' | 'addCheckpoint'>;

/** What was signed before, as far as anyone here knows. */
export interface Before {
  /** The last checkpoint kept in the register. */
  readonly kept?: StoredCheckpoint;
  /** The last that this key is known to have signed, wherever. */
  readonly last?: Checkpoint;
}

const CURE = 'Sign nothing and issue nothing; compare the register with your last good copy.';

export interface MadeCheckpoint extends Checkpoint {
  /** The signed note. */
  readonly note: string;
  /** Whether it was kept just now; otherwise nothing has happened since the one before. */
  readonly made: boolean;
}

/** What the log was signed to be at a size. */
interface Mark {
  readonly root: Uint8Array;
  readonly where: string;
}

/**
 * Signs the log as it stands now and keeps the checkpoint; keeps no other when nothing has happened since. Only
 * events since the last one are read, unless that was not signed with this key. Throws a Refusal (exit 3) rather than
 * sign a history other than the one signed before. What is signed is told to `remember` before it is kept.
 */
export async function makeCheckpoint(
  register: Log,
  signer: Signer,
  { kept, last }: Before,
  remember?: (note: string) => Promise<void>,
): Promise<MadeCheckpoint> {
  const marks = new Map<number, [Mark, ...Mark[]]>();
  const before = kept && openKept(kept, signer);
  if (before) mark(marks, before, `kept checkpoint of ${before.size} events`);
  if (last) mark(marks, last, 'what this key signed last');

  const size = await register.size();
  for (const [signedFor, [{ where }]] of marks) {
    if (signedFor <= size) continue;
    const what = `It was signed for ${signedFor} events, and the register has ${size}: it is an old copy, or events were deleted.`;
    throw refuse(3, where, what, CURE);
  }
  if (size === 0)
    throw refuse(2, 'checkpoint', 'The register has no events to sign.', 'Issue numbers first.');

  const log = before?.frontier ?? new Frontier();
  hold(log, marks);
  for await (const { seq, body, leaf } of register.events(log.size)) {
    if (seq !== log.size) throw refuse(3, `register event ${log.size}`, 'It is not there.', CURE);
    if (!leafHash(body).equals(leaf))
      throw refuse(3, `register event ${seq}`, 'Its text does not fit its hash.', CURE);
    log.add(leaf);
    hold(log, marks);
  }
  if (log.size < size) throw refuse(3, `register event ${log.size}`, 'It is not there.', CURE);

  const checkpoint = { size: log.size, root: log.root() };
  const made = before?.size !== log.size;
  // With a new key, a log that has not grown is signed again, so that this key stands under something at once.
  const note = kept && before?.frontier && !made ? kept.note : signCheckpoint(checkpoint, signer);
  await remember?.(note);
  if (made) await register.addCheckpoint({ size: log.size, note, frontier: log.roots() });
  return { ...checkpoint, origin: signer.name, note, made };
}

function mark(marks: Map<number, [Mark, ...Mark[]]>, { size, root }: Checkpoint, where: string): void {
  marks.set(size, [{ root, where }, ...(marks.get(size) ?? [])]);
}

/** Throws unless the log, at its present size, is what was signed for that size. */
function hold(log: Frontier, marks: ReadonlyMap<number, readonly Mark[]>): void {
  for (const { root, where } of marks.get(log.size) ?? []) {
    if (log.root().equals(root)) continue;
    throw refuse(3, where, `The first ${log.size} events are not those it was signed for.`, CURE);
  }
}

/** What a kept checkpoint says. Its subtrees are gone on from only when this very key vouches for their root. */
function openKept(
  { size, note, frontier }: StoredCheckpoint,
  signer: Signer,
): Checkpoint & { frontier?: Frontier } {
  const where = `kept checkpoint of ${size} events`;
  const ours = openCheckpoint(note, signer);
  const opened = ours.ok ? ours : readAnyones(note);
  if (!opened.ok) throw refuse(3, where, opened.what, CURE);
  if (opened.checkpoint.size !== size)
    throw refuse(3, where, `It says ${opened.checkpoint.size} events.`, CURE);
  return { ...opened.checkpoint, ...(ours.ok && { frontier: new Frontier(size, frontier) }) };
}

/** What a checkpoint says, whoever signed it. */
export function readAnyones(note: string): Opened<{ checkpoint: Checkpoint }> {
  const read = readNote(note);
  return read.ok ? readCheckpoint(read.note) : read;
}
