import type { Problem } from '../../problem.js';
import { extendLog } from '../log/extend-log.js';
import { type KeyHistory, signingKey } from '../log/key-history.js';
import { MerkleAccumulator } from '../log/merkle-accumulator.js';
import { problem, refuse } from '../log/messages.js';
import { readCheckpoint, readNote } from '../log/note.js';
import { refuse as refuseResume } from '../messages.js';
import type { Register, StoredCheckpoint } from '../register.js';

/** What is asked of a register to know what a kept checkpoint is worth. */
type Log = Pick<Register, 'size' | 'events' | 'resumptions'>;

/**
 * What is wrong with a checkpoint that is kept beside the events; undefined where nothing is. Throws a Refusal (exit 3)
 * where it is the log that is wrong: a key of the maker signed another one than there is.
 */
export async function checkpointFault(
  register: Log,
  { size, note, frontier }: StoredCheckpoint,
  keys: KeyHistory | undefined,
): Promise<Problem | undefined> {
  const where = `kept checkpoint of ${size} events`;
  const read = readNote(note);
  if (!read.ok) return read.problem;
  const opened = readCheckpoint(read.note);
  if (!opened.ok) return opened.problem;
  const { checkpoint } = opened;
  if (checkpoint.size !== size) return problem('log.checkpoint-other-size', where, { size: checkpoint.size });
  const events = await register.size();
  const log = new MerkleAccumulator();
  if (size <= events) {
    const resumptions = await register.resumptions();
    const fault = await extendLog(log, register.events(), { resumptions, upTo: size });
    if (fault) throw refuse(fault.code, `register event ${fault.seq}`, {});
    if (log.root().equals(checkpoint.root)) {
      const roots = log.roots();
      const same = roots.length === frontier.length && roots.every((root, i) => root.equals(frontier[i]!));
      return same ? undefined : problem('log.frontier-differs', where, {});
    }
  }
  if (!keys) throw refuseResume('register.key-needed', where, {});
  if (signingKey(read.note, size, keys).ok) throw refuseResume('register.checkpoint-signed', where, {});
  return size > events
    ? problem('log.shorter-than-signed', where, { signed: size, size: events })
    : problem('log.other-events', where, { size });
}
