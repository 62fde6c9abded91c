import { createHash } from 'node:crypto';
import { type Problem, Refusal } from '../../problem.js';
import { type EventOf, fromLeaf, isPassing, type Leaf } from '../event.js';
import { problem } from '../messages.js';
import { samePerson } from '../person.js';

/** A checkpoint as it is kept beside the events. */
interface KeptCheckpoint {
  readonly size: number;
  readonly note: string;
  readonly frontier: readonly Buffer[];
}

/** An event by which a register goes on past a bad entry, or past a kept checkpoint; with its place in the sequence. */
export interface Resumption {
  readonly seq: number;
  readonly event: EventOf<'resumed'>;
}

/** The same with the hash of the entry that it names, where there is one. */
export interface FoundResumption extends Resumption {
  readonly named: Buffer | undefined;
}

/** What a register goes past. `docs/resume.md` says what follows from it. */
export class Resumptions {
  readonly all: readonly Resumption[];
  readonly #byEntry: ReadonlyMap<number, Resumption>;
  readonly #checkpoints: ReadonlyMap<string, Resumption>;

  constructor(all: readonly Resumption[]) {
    this.all = all;
    this.#byEntry = new Map(
      all.flatMap((one): [number, Resumption][] =>
        one.event.corrects === undefined ? [] : [[one.event.corrects, one]],
      ),
    );
    this.#checkpoints = new Map(
      all.flatMap((one): [string, Resumption][] =>
        one.event.fault === 'checkpoint' ? [[one.event.digest, one]] : [],
      ),
    );
  }

  /** By what the register goes past an entry, whether it stands or not. */
  of(entry: number): Resumption | undefined {
    return this.#byEntry.get(entry);
  }

  /** Whether an entry is passed over: it changes nothing. */
  passes(entry: number): boolean {
    const found = this.#byEntry.get(entry);
    return found !== undefined && isPassing(found.event.fault);
  }

  /** Whether an edition that the entry closed is open again: the entry can be read, and was not allowed. */
  reopens(entry: number): boolean {
    return this.#byEntry.get(entry)?.event.fault === 'rule';
  }

  /** Whether an entry of an edition, before a place in the sequence, is passed over by an event after it. */
  passesLater(edition: string, before: number): boolean {
    return this.all.some(
      ({ seq, event }) =>
        seq > before &&
        event.edition === edition &&
        event.corrects !== undefined &&
        event.corrects < before &&
        isPassing(event.fault),
    );
  }

  /** Whether the entry passed over is the one with this hash. */
  passesAs(entry: number, leaf: Uint8Array): boolean {
    return this.passes(entry) && this.of(entry)?.event.digest === Buffer.from(leaf).toString('hex');
  }

  /** As it would be with one more entry passed over. */
  passingToo(entry: number, leaf: Uint8Array): Resumptions {
    const event = {
      type: 'resumed',
      corrects: entry,
      digest: Buffer.from(leaf).toString('hex'),
      fault: 'text',
    };
    return new Resumptions([
      ...this.all,
      { seq: Number.POSITIVE_INFINITY, event: event as EventOf<'resumed'> },
    ]);
  }

  /** By what a kept checkpoint is passed over. */
  ofCheckpoint(checkpoint: KeptCheckpoint): Resumption | undefined {
    return this.#checkpoints.size === 0 ? undefined : this.#checkpoints.get(checkpointDigest(checkpoint));
  }

  /** Whether an event comes between a bad entry and what the register goes past it by. */
  isBefore(seq: number): boolean {
    return this.all.some((one) => (one.event.corrects ?? one.seq) <= seq && seq < one.seq);
  }
}

/** Of a register that goes past nothing, as nearly all. */
export const NO_RESUMPTIONS = new Resumptions([]);

/**
 * Those that count: they name an entry before them by its hash, and are not passed over themselves. What passes one over
 * comes after it, so the last is asked first.
 */
export function countingResumptions(found: readonly FoundResumption[]): Resumptions {
  if (found.length === 0) return NO_RESUMPTIONS;
  const passed = new Set<number>();
  const counting: Resumption[] = [];
  for (const { seq, event, named } of [...found].sort((a, b) => b.seq - a.seq)) {
    const { corrects, digest, fault } = event;
    if (passed.has(seq)) continue;
    if (corrects !== undefined && (corrects >= seq || named?.toString('hex') !== digest)) continue;
    if (corrects !== undefined && isPassing(fault)) passed.add(corrects);
    counting.push({ seq, event });
  }
  return new Resumptions(counting.reverse());
}

/** What is wrong where one person alone confirms that a register goes on past something. */
export const ownWitnessProblem = ({ edition, by, witness }: EventOf<'resumed'>): Problem | undefined =>
  samePerson(by, witness) ? problem('register.own-witness', `edition ${edition}`, {}) : undefined;

/** A `resumed` event; undefined where it is none that a program can read, and so does not count. */
export function readResumed(raw: Leaf & { readonly seq: number }): EventOf<'resumed'> | undefined {
  try {
    const event = fromLeaf(raw.seq, raw);
    return event.type === 'resumed' ? event : undefined;
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}

/** SHA-256, hex, of a kept checkpoint: its size, note and frontier. */
export const checkpointDigest = ({ size, note, frontier }: KeptCheckpoint): string => {
  const hash = createHash('sha256').update(`${size}\n${note}\0`, 'utf8');
  for (const root of frontier) hash.update(root);
  return hash.digest('hex');
};
