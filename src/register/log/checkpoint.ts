import type { Register, StoredCheckpoint } from '../register.js';
import { extendLog } from './extend-log.js';
import { MerkleAccumulator } from './merkle-accumulator.js';
import { refuse } from './messages.js';
import {
  type Checkpoint,
  type Opened,
  openCheckpoint,
  readCheckpoint,
  readNote,
  type Signer,
  signCheckpoint,
} from './note.js';

/** What is asked of a register to sign its log. */
export type Log = ReadLog & Pick<Register, 'addCheckpoint'>;

/** What is asked of it to know whether it can be signed. */
export type ReadLog = Pick<Register, 'size' | 'events' | 'resumptions'>;

/** What was signed before, as far as anyone here knows. */
export interface SignedBefore {
  /** The last checkpoint kept in the register. */
  readonly stored?: StoredCheckpoint;
  /** The last that this key is known to have signed, wherever. */
  readonly last?: Checkpoint;
}

export interface MadeCheckpoint extends Checkpoint {
  /** The signed note. */
  readonly note: string;
  /** Whether it was kept just now; otherwise nothing has happened since the one before. */
  readonly made: boolean;
}

/** The root that was signed for a size, and where that is recorded. */
interface SignedRoot {
  readonly root: Uint8Array;
  readonly where: string;
}

/** Roots by the size they were signed for; at most two. */
type SignedRoots = Map<number, [SignedRoot, ...SignedRoot[]]>;

/**
 * Signs the log as it is now and keeps the checkpoint; keeps no second one when nothing has happened since. Only events
 * since the last checkpoint are read, unless that was not signed with this key. Throws a Refusal (exit 3) rather than
 * sign a history other than the one signed before. `remember` gets what is signed before it is kept.
 */
export async function makeCheckpoint(
  register: Log,
  signer: Signer,
  signed: SignedBefore,
  remember?: (note: string) => Promise<void>,
  progress?: (done: number, of: number) => void,
): Promise<MadeCheckpoint> {
  const { log, before } = await readLog(register, signer, signed, progress);
  if (log.size === 0) throw refuse('log.nothing-to-sign', 'checkpoint', {});
  const checkpoint = { size: log.size, root: log.root() };
  const made = before?.size !== log.size;
  // With a new key, a log that has not grown is signed again, so that this key has signed something at once.
  const note =
    signed.stored && before?.tree && !made ? signed.stored.note : signCheckpoint(checkpoint, signer);
  await remember?.(note);
  if (made) await register.addCheckpoint({ size: log.size, note, frontier: log.roots() });
  return { ...checkpoint, origin: signer.name, note, made };
}

/** Throws a Refusal (exit 3) where a key would not sign the log as it is now; signs nothing. */
export async function checkSignable(register: ReadLog, signer: Signer, signed: SignedBefore): Promise<void> {
  await readLog(register, signer, signed);
}

/** The log up to its end, held against what was signed before. */
async function readLog(
  register: ReadLog,
  signer: Signer,
  { stored, last }: SignedBefore,
  progress?: (done: number, of: number) => void,
) {
  const signed: SignedRoots = new Map();
  const before = stored && openStored(stored, signer);
  if (before) addRoot(signed, before, `kept checkpoint of ${before.size} events`);
  if (last) addRoot(signed, last, 'what this key signed last');

  const size = await register.size();
  for (const [signedSize, [{ where }]] of signed)
    if (signedSize > size) throw refuse('log.shorter-than-signed', where, { signed: signedSize, size });

  const log = before?.tree ?? new MerkleAccumulator();
  checkRoots(log, signed);
  const fault = await extendLog(log, register.events(log.size), {
    resumptions: await register.resumptions(),
    each: () => {
      checkRoots(log, signed);
      progress?.(log.size, size);
    },
  });
  if (fault) throw refuse(fault.code, `register event ${fault.seq}`, {});
  if (log.size < size) throw refuse('log.event-missing', `register event ${log.size}`, {});
  return { log, before };
}

function addRoot(signed: SignedRoots, { size, root }: Checkpoint, where: string): void {
  signed.set(size, [{ root, where }, ...(signed.get(size) ?? [])]);
}

/** Throws unless the log, at its present size, is what was signed for that size. */
function checkRoots(log: MerkleAccumulator, signed: SignedRoots): void {
  for (const { root, where } of signed.get(log.size) ?? [])
    if (!log.root().equals(root)) throw refuse('log.other-events', where, { size: log.size });
}

/** Opens a kept checkpoint. Its subtrees are continued from only when this very key vouches for their root. */
function openStored(
  { size, note, frontier }: StoredCheckpoint,
  signer: Signer,
): Checkpoint & { tree?: MerkleAccumulator } {
  const where = `kept checkpoint of ${size} events`;
  const ours = openCheckpoint(note, signer);
  const opened = ours.ok ? ours : readUnverified(note);
  if (!opened.ok) throw refuse('log.kept-note-wrong', where, { reason: opened.problem });
  if (opened.checkpoint.size !== size)
    throw refuse('log.checkpoint-other-size', where, { size: opened.checkpoint.size });
  return { ...opened.checkpoint, ...(ours.ok && { tree: new MerkleAccumulator(size, frontier) }) };
}

/** What a checkpoint says, whoever signed it. */
export function readUnverified(note: string): Opened<{ checkpoint: Checkpoint }> {
  const read = readNote(note);
  return read.ok ? readCheckpoint(read.note) : read;
}
