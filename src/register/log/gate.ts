import type { Problem } from '../../problem.js';
import type { Register } from '../register.js';
import { extendLog } from './extend-log.js';
import { MerkleAccumulator } from './merkle-accumulator.js';
import { problem, refuse } from './messages.js';
import { type Checkpoint, openCheckpoint, type Signer } from './note.js';
import type { SeenRegister } from './seen.js';

/** So many events are read before an entry in a few hundredths of a second. */
const READ_WHOLE = 5000;

/** What is asked of a register before an entry. */
export type GatedRegister = Pick<Register, 'size' | 'events' | 'checkpoints' | 'resumptions'>;

/**
 * Holds a register against what its key signed last on this machine, before anything is entered. Throws a Refusal
 * (exit 3) where the register is empty, shorter, or has other events: an old copy would give out numbers again.
 *
 * Every event up to there is read; of a long log only where the register has no checkpoint that this key signed for that size.
 * For whoever is about to go past entries their texts are not asked, only the hashes that were signed.
 */
export async function checkNotBehind(
  register: GatedRegister,
  signer: Signer | undefined,
  last: Checkpoint,
  mending?: 'mending',
): Promise<void> {
  const where = `log ${last.origin}`;
  const size = await register.size();
  if (size === 0) throw refuse('log.register-empty', where, { signed: last.size });
  if (size < last.size) throw refuse('log.register-behind', where, { size, signed: last.size });
  const long = last.size > READ_WHOLE;
  const stored = (await register.checkpoints()).find((one) => one.size === last.size);
  const opened = long && stored && signer ? openCheckpoint(stored.note, signer) : undefined;
  if (opened?.ok && Buffer.from(opened.checkpoint.root).equals(last.root)) return;
  const log = new MerkleAccumulator();
  const resumptions = await register.resumptions();
  const hashesAlone = mending !== undefined;
  const fault = await extendLog(log, register.events(), { resumptions, hashesAlone, upTo: last.size });
  if (fault || log.size < last.size || !log.root().equals(last.root))
    throw refuse('log.register-other', where, { signed: last.size });
}

/** What is asked of a register to hold it against what was seen. */
export type SeenLog = Pick<Register, 'size' | 'leafAt'>;

/**
 * Why a register is not the one that this machine saw, or not all of it; undefined where it is. However many events it
 * has, three of them are asked for.
 */
export async function seenProblem(
  register: SeenLog,
  { size: seen, first, last, proved = 0, place }: SeenRegister,
  where: string,
): Promise<Problem | undefined> {
  const size = await register.size();
  const least = Math.max(seen, proved);
  if (size === 0 && least > 0) return problem('log.seen-empty', where, { seen: least, place });
  if (size < seen) return problem('log.seen-shorter', where, { size, seen, place });
  if (size < proved) return problem('log.proved-missing', where, { size, proved });
  const differs = async (seq: number, leaf: Buffer | undefined): Promise<boolean> =>
    leaf !== undefined && !(await register.leafAt(seq))?.equals(leaf);
  if ((await differs(0, first)) || (await differs(seen - 1, last)))
    return problem('log.seen-other', where, { seen, place });
  return undefined;
}
