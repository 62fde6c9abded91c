import { leafHash } from '../event.js';
import type { RawEvent } from '../register.js';
import type { MerkleAccumulator } from './merkle-accumulator.js';

/** The first event that a log cannot take. */
export interface LogFault {
  readonly code: 'log.event-missing' | 'log.event-altered';
  readonly seq: number;
}

/**
 * Adds stored events to a log as long as each is the next in sequence and its text matches its hash, and gives the first
 * that does not. Reads until the log has a size, or to the last event. `each` is called after every event.
 */
export async function extendLog(
  log: MerkleAccumulator,
  events: AsyncIterable<RawEvent>,
  each?: () => void,
  upTo = Number.POSITIVE_INFINITY,
): Promise<LogFault | undefined> {
  if (log.size >= upTo) return undefined;
  for await (const { seq, body, leaf } of events) {
    if (seq !== log.size) return { code: 'log.event-missing', seq: log.size };
    if (!leafHash(body).equals(leaf)) return { code: 'log.event-altered', seq };
    log.add(leaf);
    each?.();
    if (log.size >= upTo) return undefined;
  }
  return undefined;
}
