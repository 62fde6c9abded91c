import { leafHash } from '../event.js';
import type { RawEvent } from '../register.js';
import type { Resumptions } from '../resumption/resumptions.js';
import type { MerkleAccumulator } from './merkle-accumulator.js';

/** The first event that a log cannot take. */
export interface LogFault {
  readonly code: 'log.event-missing' | 'log.event-altered';
  readonly seq: number;
}

export interface ExtendOptions {
  /** What the register goes past: such an entry stays in the log with its hash. */
  readonly resumptions: Resumptions;
  /** Whether the hashes are believed, and the texts not held against them. */
  readonly hashesAlone?: boolean;
  /** Called after every event. */
  readonly each?: () => void;
  /** The size at which to end; with the last event when left out. */
  readonly upTo?: number;
}

/**
 * Adds stored events to a log as long as each is the next in sequence and its text matches its hash, and gives the first
 * that does not.
 */
export async function extendLog(
  log: MerkleAccumulator,
  events: AsyncIterable<RawEvent>,
  { resumptions, hashesAlone = false, each, upTo = Number.POSITIVE_INFINITY }: ExtendOptions,
): Promise<LogFault | undefined> {
  if (log.size >= upTo) return undefined;
  for await (const { seq, body, leaf } of events) {
    if (seq !== log.size) return { code: 'log.event-missing', seq: log.size };
    if (!hashesAlone && !leafHash(body).equals(leaf) && !resumptions.passesAs(seq, leaf))
      return { code: 'log.event-altered', seq };
    log.add(leaf);
    each?.();
    if (log.size >= upTo) return undefined;
  }
  return undefined;
}
