import { z } from 'zod';
import { id } from '../documents/schema/scalar.js';
import type { Numbered } from '../edition/labels.js';
import { problem, Refusal, refuse } from '../problem.js';
import { type EventType, type Leaf, nonBlankLine, partIds, type RegisterEvent } from './event.js';
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

/** An event brought in from an older register: everything but what the register adds by itself. */
export type PastEvent = Omit<RecordRequest, 'event' | 'key'> & {
  readonly event: Recordable | 'issued';
  readonly parts?: readonly string[];
};

/** The register of numbers. Every answer is on disk before it is given; whatever is refused has left nothing. */
export interface Register {
  issue(request: IssueRequest): Promise<Numbered[]>;
  /** Enters one event of one number and gives where the number then stands. */
  record(request: RecordRequest): Promise<NumberStatus>;
  /** Closes an edition: nothing is issued in it after. */
  closeEdition(request: CloseRequest): Promise<void>;
  /** Enters many events of an older register in one transaction: all of them or none. */
  importEvents(events: readonly PastEvent[]): Promise<void>;
  /** Every number of an edition with an event, in the order of their first events. */
  statuses(edition: string): Promise<NumberStatus[]>;
  stateOf(edition: string, label: string): Promise<State | undefined>;
  isClosed(edition: string): Promise<boolean>;
  /** The events of one number, in order, each found to be what its hash says. */
  history(edition: string, label: string): Promise<StoredEvent[]>;
  /** How many events there are. */
  size(): Promise<number>;
  /** Events from a place in the sequence on, as they lie there, a batch at a time; not yet believed. */
  events(from?: number): AsyncIterable<RawEvent>;
  /** Checkpoints kept beside the events, smallest first. */
  checkpoints(): Promise<StoredCheckpoint[]>;
  /** What is wrong with how the store keeps all this: its tables, indexes and triggers. SQLite only; else none. */
  faults(): Promise<readonly string[]>;
  /** Keeps a checkpoint; never changed or deleted after. */
  addCheckpoint(checkpoint: StoredCheckpoint): Promise<void>;
  /** Takes events of another register, text and hash as they are, into this one, which must be empty. */
  restore(events: AsyncIterable<RawEvent>, checkpoints: readonly StoredCheckpoint[]): Promise<void>;
  /** A copy in one file, whole and as of one moment, while others may write. SQLite only. */
  backup(file: string): Promise<void>;
  close(): Promise<void>;
}

export interface RegisterDeps {
  readonly now: () => Date;
  /** Chance for the salt of events: 16 bytes each time. */
  readonly salt?: () => Uint8Array;
  /** How long a busy register is waited for before anyone is told, ms. */
  readonly retryForMs?: number;
}

export const RETRY_FOR_MS = 30_000;
export const WHY_ISSUED = 'next free number';

const issueRequest = z.object({
  edition: id,
  series: id,
  count: z.number().int().min(1).max(99_999),
  parts: partIds.optional(),
  by: nonBlankLine(120),
  why: nonBlankLine(200).default(WHY_ISSUED),
  key: nonBlankLine(200).optional(),
});

/** A request that was read, with the planned numbers of its own series only. */
export type IssueOrder = z.infer<typeof issueRequest> & { readonly planned: readonly Numbered[] };

export function readRequest(request: IssueRequest): IssueOrder {
  const read = issueRequest.safeParse(request);
  if (!read.success) {
    throw new Refusal(
      2,
      read.error.issues.map((issue) =>
        problem(`issue: ${issue.path.join('.')}`, `${issue.message}.`, 'Correct it and ask again.'),
      ),
    );
  }
  return { ...read.data, planned: plannedIn(request) };
}

/** Lists already looked through: a program issuing one by one passes the same long list each time. */
const looked = new WeakMap<readonly Numbered[], Map<string, readonly Numbered[]>>();

function plannedIn({ edition, series, planned }: IssueRequest): readonly Numbered[] {
  const before = looked.get(planned) ?? new Map<string, readonly Numbered[]>();
  const known = before.get(series);
  if (known) return known;
  const own = planned.filter((numbered) => numbered.series === series);
  const where = `edition ${edition}: series ${series}`;
  if (own.length === 0) throw refuse(2, where, 'No number is planned.', 'Name a series of the edition.');
  for (let i = 1; i < own.length; i++) {
    if (own[i]!.number <= own[i - 1]!.number) {
      throw refuse(2, where, 'The planned numbers do not ascend.', 'Give each number once, lowest first.');
    }
  }
  looked.set(planned, before.set(series, own));
  return own;
}

/** What may be recorded of a number, besides its issue. */
export type Recordable = Exclude<EventType, 'issued' | 'closed'>;

/** Asks to enter one event of one number. The number is given wholly, so that nothing is looked up by guess. */
export interface RecordRequest extends Numbered {
  readonly edition: string;
  readonly event: Recordable;
  readonly by: string;
  readonly why?: string;
  /** When it happened, as told, where that is not now. */
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

/** An event as it lies in the store, not yet believed: for audit and export. */
export interface RawEvent extends Leaf {
  readonly seq: number;
}

/** A signed state of the log, as kept beside the events. */
export interface StoredCheckpoint {
  readonly size: number;
  /** The signed note, C2SP tlog-checkpoint. */
  readonly note: string;
  /** Roots of the complete subtrees of the tree at `size`, largest first: lets the next one go on from here. */
  readonly frontier: readonly Buffer[];
}
