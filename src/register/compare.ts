import { MerkleAccumulator } from './log/merkle-accumulator.js';
import { refuse } from './messages.js';
import type { Register } from './register.js';

/** What two registers were found to have in common. */
export interface Compared {
  readonly events: number;
  readonly checkpoints: number;
  /** Root of the log, hex. */
  readonly root: string;
}

type Side = Pick<Register, 'events' | 'checkpoints'>;

/**
 * Reads both registers from the first event to the last of `source`, text and hash, and compares their checkpoints. Throws
 * a Refusal (exit 3) unless `target` has everything that `source` has, in the same places. It may have more by now: a
 * bench that knew of a move did not wait.
 */
export async function compareRegisters(source: Side, target: Side, name: string): Promise<Compared> {
  const log = new MerkleAccumulator();
  const there = target.events()[Symbol.asyncIterator]();
  for await (const here of source.events()) {
    const { value, done } = await there.next();
    if (done) throw refuse('register.copy-shorter', name, { events: log.size });
    if (value.body !== here.body || !value.leaf.equals(here.leaf)) {
      throw refuse('register.copy-differs', name, { seq: here.seq });
    }
    log.add(value.leaf);
  }
  const taken = new Map((await target.checkpoints()).map(({ size, note }) => [size, note]));
  const checkpoints = await source.checkpoints();
  const missing = checkpoints.find(({ size, note }) => taken.get(size) !== note);
  if (missing) throw refuse('register.copy-lacks-checkpoint', name, { size: missing.size });
  return { events: log.size, checkpoints: checkpoints.length, root: log.root().toString('hex') };
}
