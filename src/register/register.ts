import type { Numbered } from '../edition/labels.js';
import type { Problem } from '../problem.js';
import type { ClockCheck } from './clock.js';
import type { EntryFault, EventOf, Leaf, NumberEvent, RegisterEvent, Stated, TermsEvent } from './event.js';
import type { NumberStatus, State } from './lifecycle.js';
import type { Resumptions } from './resumption/resumptions.js';
import type { Agreement } from './statement/agreement.js';
import type { TermsDifference } from './terms/difference.js';
import type { NamedTerms } from './terms/schema.js';

/**
 * What an entry of an edition is held against. The first entry of an edition enters them; after that an entry on other
 * terms is refused, with both values.
 */
export interface OnTerms {
  /** As today's documents say them. Left out where there are no documents to ask: nothing is held against. */
  readonly terms?: NamedTerms;
}

/** Asks for the next free numbers of a series. */
export interface IssueRequest extends OnTerms {
  readonly edition: string;
  readonly series: string;
  /** What the edition document plans, ascending in each series; other series may be among it. Not changed later. */
  readonly planned: readonly Numbered[];
  readonly count: number;
  /** Labels that are wanted, in place of the next free ones: `count` of them. A withheld one is released for it. */
  readonly chosen?: readonly string[];
  /** The parts of the piece that carry its number, by id; the piece is complete only when all do. */
  readonly parts?: readonly string[];
  readonly by: string;
  readonly why?: string;
  /** Asking again with the same key gives the same numbers. */
  readonly key?: string;
}

/**
 * Asks to close an edition; `statement` is the SHA-256, hex, of its statement of edition, and `stated` what it was made
 * from, beside the events.
 */
export interface CloseRequest extends OnTerms {
  /** How many events the register had when the statement was made; refused where the edition has later ones. */
  readonly asOf?: number;
  readonly edition: string;
  readonly statement: string;
  readonly stated: Stated;
  readonly by: string;
  readonly why?: string;
  readonly key?: string;
}

/** Asks to change the terms of an edition, which is an event like any other. */
export interface AmendRequest {
  readonly edition: string;
  /** As they are to be from now on. */
  readonly terms: NamedTerms;
  readonly by: string;
  readonly why: string;
  readonly key?: string;
}

/** The terms of an edition as the register has them, and what changed them, first to last. */
export interface RecordedTerms extends NamedTerms {
  readonly events: readonly (StoredEvent & { readonly event: TermsEvent })[];
}

/** An event of an older register: everything but what this register adds by itself. */
export type PastEvent = Omit<RecordRequest, 'event' | 'key' | 'terms'> & {
  readonly event: Recordable | 'issued';
  readonly parts?: readonly string[];
};

export interface ImportOptions extends OnTerms {
  readonly progress?: (done: number, of: number) => void;
}

/** What a register lacks after a loss. */
export interface RecoverRequest {
  /** How many events the register had when this was worked out; refused where it has others now. */
  readonly asOf: number;
  /** Events that come next in the sequence, text and hash as they are. */
  readonly next: AsyncIterable<RawEvent>;
  readonly checkpoints: readonly StoredCheckpoint[];
  /** What is gone past among them. */
  readonly resumptions?: Resumptions;
  readonly by: string;
  readonly why: string;
  /** What is entered anew. Terms that differ from the register's are entered first. */
  readonly editions: readonly (OnTerms & {
    readonly edition: string;
    readonly events: readonly PastEvent[];
  })[];
}

/** Asks to go on past an entry, or past a kept checkpoint, with which something is wrong (`docs/resume.md`). */
export interface ResumeRequest {
  /** The place of the entry in the sequence; left out where it is a checkpoint. */
  readonly entry?: number;
  /** A kept checkpoint that its caller found to be worth nothing. */
  readonly checkpoint?: StoredCheckpoint;
  readonly by: string;
  /** Another person, who confirms it. */
  readonly witness: string;
  readonly why: string;
  /** The edition that the event bears where none can be read before it. */
  readonly edition?: string;
  /** Today's terms of an edition of which the register has none. */
  readonly terms?: (edition: string) => NamedTerms | undefined;
}

/** How a register goes on past something. */
export interface ResumeResult {
  /** The place of the event that says so. */
  readonly seq: number;
  readonly at: string;
  readonly fault: EntryFault;
  /** What is wrong; of a checkpoint its caller knows. */
  readonly reason?: Problem;
  /** Numbers that the entry may be about and that were free: they are withheld. */
  readonly withheld: readonly (Numbered & { readonly edition: string })[];
}

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
  /** Enters many events of one edition in one transaction, all of them or none; gives the status that each leads to. */
  recordAll(requests: readonly ManyRequest[], options: ManyOptions): Promise<NumberStatus[]>;
  /** The same of any number of events, which are read some at a time, and again where the store has to try again. */
  enterAll(requests: Iterable<ManyRequest>, options?: OnTerms): Promise<void>;
  /** What `recordAll` would answer, or refuse. Enters nothing. */
  checkAll(requests: readonly ManyRequest[], options?: OnTerms): Promise<NumberStatus[]>;
  /** Closes an edition: nothing is issued in it after. */
  closeEdition(request: CloseRequest): Promise<void>;
  /** Enters many events of an older register in one transaction: all of them or none. */
  importEvents(events: readonly PastEvent[], options?: ImportOptions): Promise<void>;
  /** Changes the terms of an edition from now on. Throws a Refusal (exit 3) where a label that exists would change. */
  amend(request: AmendRequest): Promise<readonly TermsDifference[]>;
  /** What an amendment would change; refused where `amend` would be. Enters nothing. */
  checkAmendment(request: Pick<AmendRequest, 'edition' | 'terms'>): Promise<readonly TermsDifference[]>;
  /** The terms of an edition; undefined before its first entry, and for one begun before terms were entered. */
  terms(edition: string): Promise<RecordedTerms | undefined>;
  /** Throws a Refusal (exit 3) where an edition's documents are not what the register has of it; enters nothing. */
  checkTerms(edition: string, terms: NamedTerms): Promise<void>;
  /** Every number of an edition with an event, in the order of their first events. */
  statuses(edition: string): Promise<NumberStatus[]>;
  stateOf(edition: string, label: string): Promise<State | undefined>;
  isClosed(edition: string): Promise<boolean>;
  /** The events of one number, in order; each was verified against its hash. */
  history(edition: string, label: string): Promise<StoredEvent[]>;
  /** The hash of the event at a place; undefined where there is none. */
  leafAt(seq: number): Promise<Buffer | undefined>;
  /** From now on an entry is refused (exit 3) where the register does not have this event. */
  expect(seen: SeenEvent): void;
  /** The editions that have an event. Reads every event of a large register: for what is asked seldom. */
  editions(): Promise<readonly string[]>;
  /** The events of all numbers of one edition, and of the edition as a whole, in order; each was verified. */
  editionHistory(edition: string): Promise<StoredEvent[]>;
  /** The same some at a time, so that they are never all held. */
  editionEvents(edition: string): AsyncIterable<readonly VerifiedEvent[]>;
  /** The events at some places in the sequence, which are in order, some at a time; each was verified. */
  eventsAt(places: readonly number[]): AsyncIterable<readonly VerifiedEvent[]>;
  /** How many events there are. */
  size(): Promise<number>;
  /** Events from a place in the sequence on, as they are stored, a batch at a time; not verified. */
  events(from?: number): AsyncIterable<RawEvent>;
  /** The same, as many at a time as are read at once: of a million, one by one they cost as much again as being read. */
  eventBatches(): AsyncIterable<readonly RawEvent[]>;
  /** Checkpoints stored beside the events, smallest first; those that are passed over too, where `all` are asked for. */
  checkpoints(which?: 'all'): Promise<StoredCheckpoint[]>;
  /** The time that an entry would get now, to hold days against. Throws a Refusal (exit 3) where the clock is asked about. */
  entryTime(): Promise<Date>;
  /** By what an edition is closed; undefined where it is open, or nothing of its closing can be read. */
  closing(edition: string): Promise<FoundClosing | undefined>;
  /** What closes editions, as it is stored; not verified. */
  closings(): Promise<readonly RawEvent[]>;
  /** Where events were lost before, and how many of which nobody knows what they said. */
  losses(): Promise<readonly Loss[]>;
  /** What the register goes past. */
  resumptions(): Promise<Resumptions>;
  /**
   * Goes on past an entry or a checkpoint with which something is wrong; times begin anew. Throws a Refusal (exit 3)
   * where nothing is wrong with it.
   */
  resume(request: ResumeRequest): Promise<ResumeResult>;
  /** What `resume` would answer, or refuse. Enters nothing. */
  checkResume(request: ResumeRequest): Promise<ResumeResult>;
  /** What is wrong with the store itself: its tables, columns, constraints, indexes and triggers. */
  faults(signal?: AbortSignal): Promise<readonly Problem[]>;
  /** Stores a checkpoint; it is never changed or deleted after. */
  addCheckpoint(checkpoint: StoredCheckpoint): Promise<void>;
  /**
   * Takes the events of another register, text and hash as they are, into this one, which must be empty; entries that the
   * other goes past too.
   */
  restore(
    events: AsyncIterable<RawEvent>,
    checkpoints: readonly StoredCheckpoint[],
    resumptions?: Resumptions,
  ): Promise<void>;
  /** Enters what the register lacks after a loss, in one transaction: all of it or nothing. */
  recover(request: RecoverRequest): Promise<void>;
  /** A copy in one file, whole and as of one moment, while others may write. Refused without the capability. */
  backup(file: string): Promise<void>;
  close(): Promise<void>;
}

/** What a register uses of the world outside. */
export interface RegisterDeps {
  readonly now: () => Date;
  /** So many random bytes, for the salts of events. */
  readonly salt?: (bytes: number) => Uint8Array;
  /** Told of the last event of each entry, once it is on disk and before it is answered. */
  readonly entered?: (last: SeenEvent) => Promise<void>;
  /** Asks about the clock before an entry; left out where it is known to be right. */
  readonly checkClock?: ClockCheck;
  /** Told of what makes the register less safe than it should be, and does not end the work. */
  readonly warn?: (problem: Problem) => void | Promise<void>;
  /** How long to try again while the register is busy or out of reach, ms. */
  readonly retryForMs?: number;
}

export const RETRY_FOR_MS = 30_000;

/**
 * What a register is opened for. To read it takes no right to write, and leaves its tables as they are. Read whole, it is
 * read also where it was moved away: what a number is now is not asked then.
 */
export type Access = 'read' | 'read whole' | 'write';

/** What may be recorded of a number, besides its issue. */
export type Recordable = Exclude<NumberEvent['type'], 'issued'>;

/** One of many events that are entered together. */
export type ManyRequest = Omit<RecordRequest, 'key' | 'terms'>;

export interface ManyOptions extends OnTerms {
  /** Asking again with the same key gives the same answer. */
  readonly key?: string;
}

/** Asks to enter one event of one number. The number is given in full, so that nothing is guessed. */
export interface RecordRequest extends Numbered, OnTerms {
  readonly edition: string;
  readonly event: Recordable;
  readonly by: string;
  readonly why?: string;
  /** When it happened, where that is not now. */
  readonly on?: string;
  readonly part?: string;
  /** For `destroyed`, and where a correction needs one: who saw or confirms it, not the one who records it. */
  readonly witness?: string;
  /** For `delivered`, and where it is corrected. */
  readonly to?: string;
  /** For `corrected` and `retracted`: the place in the sequence of the event that was wrong. */
  readonly corrects?: number;
  /** For `corrected`: the day on which it happened in truth. */
  readonly day?: string;
  /** For `programmed`. */
  readonly station?: string;
  /** For `programmed` and `certified`: SHA-256, hex. */
  readonly digest?: string;
  /** For `certified`: larger than that of each certificate of the number before. */
  readonly serial?: number;
  /** For `noted`: how many events were lost. */
  readonly missing?: number;
  readonly key?: string;
}

/** An event that was verified against its hash, with its place in the sequence. */
export interface VerifiedEvent {
  readonly seq: number;
  readonly event: RegisterEvent;
}

/** The same with its text and hash. */
export interface StoredEvent extends VerifiedEvent, Leaf {}

/** A closing, and whether its statement is the one that the events before it make. */
export interface FoundClosing {
  readonly seq: number;
  readonly event: EventOf<'closed'>;
  readonly agreement: Agreement;
}

/** That events were lost: the place of the note that says so, and how many. */
export interface Loss {
  readonly seq: number;
  readonly missing: number;
}

/** An event by its place and its hash. */
export interface SeenEvent {
  readonly seq: number;
  readonly leaf: Buffer;
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
