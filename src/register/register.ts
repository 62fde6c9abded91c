import type { Numbered } from '../edition/labels.js';
import type { Problem } from '../problem.js';
import type { EventType, Leaf, RegisterEvent } from './event.js';
import type { NumberStatus, State } from './lifecycle.js';

/** Asks for the next free numbers of a series. */
export interface IssueRequest {
  readonly edition: string;
  readonly series: string;
  /** What the edition document plans, ascending in each series; other series may be among it. Not changed later. */
  readonly planned: readonly Numbered[];
  readonly count: number;
  /** The parts of the piece that carry its number, by id; the piece is complete only when all do. */
  readonly parts?: readonly string[];
  readonly by: string;
  readonly why?: string;
  /** Asking again with the same key gives the same numbers. */
  readonly key?: string;
}

/** Asks to close an edition; `statement` is the SHA-256, hex, of its statement of edition. */
export interface CloseRequest {
  readonly edition: string;
  readonly statement: string;
  readonly by: string;
  readonly why?: string;
  readonly key?: string;
}

/** An event of an older register: everything but what this register adds by itself. */
export type PastEvent = Omit<RecordRequest, 'event' | 'key'> & {
  readonly event: Recordable | 'issued';
  readonly parts?: readonly string[];
};

/** What only some stores can do. */
export interface Capabilities {
  /** `backup` makes a copy in one file. A register on a server is copied by the server's own means. */
  readonly backup: boolean;
}

/** The register of numbers. Every answer is on disk before it is given; a request that is refused leaves nothing. */
export interface Register {
  readonly capabilities: Capabilities;
  issue(request: IssueRequest): Promise<Numbered[]>;
  /** Enters one event of one number and gives the status it leads to. */
  record(request: RecordRequest): Promise<NumberStatus>;
  /** Closes an edition: nothing is issued in it after. */
  closeEdition(request: CloseRequest): Promise<void>;
  /** Enters many events of an older register in one transaction: all of them or none. */
  importEvents(events: readonly PastEvent[], progress?: (done: number, of: number) => void): Promise<void>;
  /** Every number of an edition with an event, in the order of their first events. */
  statuses(edition: string): Promise<NumberStatus[]>;
  stateOf(edition: string, label: string): Promise<State | undefined>;
  isClosed(edition: string): Promise<boolean>;
  /** The events of one number, in order; each was verified against its hash. */
  history(edition: string, label: string): Promise<StoredEvent[]>;
  /** How many events there are. */
  size(): Promise<number>;
  /** Events from a place in the sequence on, as they are stored, a batch at a time; not verified. */
  events(from?: number): AsyncIterable<RawEvent>;
  /** Checkpoints stored beside the events, smallest first. */
  checkpoints(): Promise<StoredCheckpoint[]>;
  /** What is wrong with the store itself: its tables, columns, constraints, indexes and triggers. */
  faults(): Promise<readonly Problem[]>;
  /** Stores a checkpoint; it is never changed or deleted after. */
  addCheckpoint(checkpoint: StoredCheckpoint): Promise<void>;
  /** Takes the events of another register, text and hash as they are, into this one, which must be empty. */
  restore(events: AsyncIterable<RawEvent>, checkpoints: readonly StoredCheckpoint[]): Promise<void>;
  /** A copy in one file, whole and as of one moment, while others may write. Refused without the capability. */
  backup(file: string): Promise<void>;
  close(): Promise<void>;
}

/** What a register uses of the world outside. */
export interface RegisterDeps {
  readonly now: () => Date;
  /** Random bytes for the salt of an event: 16 each time. */
  readonly salt?: () => Uint8Array;
  /** How long to try again while the register is busy or out of reach, ms. */
  readonly retryForMs?: number;
}

export const RETRY_FOR_MS = 30_000;

/** What may be recorded of a number, besides its issue. */
export type Recordable = Exclude<EventType, 'issued' | 'closed'>;

/** Asks to enter one event of one number. The number is given in full, so that nothing is guessed. */
export interface RecordRequest extends Numbered {
  readonly edition: string;
  readonly event: Recordable;
  readonly by: string;
  readonly why?: string;
  /** When it happened, where that is not now. */
  readonly on?: string;
  readonly part?: string;
  /** For `destroyed`: who saw it, not the one who records it. */
  readonly witness?: string;
  /** For `delivered`. */
  readonly to?: string;
  readonly key?: string;
}

/** An event with its place in the sequence. */
export interface StoredEvent extends Leaf {
  readonly seq: number;
  readonly event: RegisterEvent;
}

/** An event as it is stored, not verified: for audit and export. */
export interface RawEvent extends Leaf {
  readonly seq: number;
}

/** A signed state of the log, as stored beside the events. */
export interface StoredCheckpoint {
  readonly size: number;
  /** The signed note, C2SP tlog-checkpoint. */
  readonly note: string;
  /** Roots of the complete subtrees of the tree at `size`, largest first: lets the next one go on from here. */
  readonly frontier: readonly Buffer[];
}
