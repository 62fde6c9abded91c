import type { Numbered } from '../../edition/labels.js';
import { refuse } from '../../problem.js';
import { type NumberStatus, replay, type State } from '../lifecycle.js';
import {
  type CloseRequest,
  type IssueRequest,
  type PastEvent,
  type RawEvent,
  RETRY_FOR_MS,
  type RecordRequest,
  type Register,
  type RegisterDeps,
  readRequest,
  type StoredCheckpoint,
  type StoredEvent,
} from '../register.js';
import { toClosing, toEvent } from '../requests.js';
import { prepareAppend } from './append.js';
import { backUp } from './backup.js';
import { checkSameFile, isThere, type OpenFile, openFile, told } from './file.js';
import { type Issue, prepareIssue } from './issue.js';
import { prepareMustBeHere } from './moved.js';
import { patiently } from './patience.js';
import { prepareRead, type Read } from './read.js';
import { prepareRecord, type Recording } from './record.js';
import { faultsOfFile } from './soundness.js';
import { type AddCheckpoint, openAlone, prepareAddCheckpoint, takeInto } from './take-over.js';

interface Writing extends Recording {
  readonly issue: Issue;
  readonly addCheckpoint: AddCheckpoint;
}

interface Prepared {
  readonly open: OpenFile;
  readonly read: Read;
  readonly writing: Writing;
  mustBeHere(): void;
  /** Does the work as one transaction, which nobody else writes in. */
  alone<T>(work: () => T): T;
}

/** A register in one SQLite file, opened at the first use and made at the first entry. */
export class SqliteRegister implements Register {
  readonly #file: string;
  readonly #now: () => Date;
  readonly #salt: (() => Uint8Array) | undefined;
  readonly #retryForMs: number;
  #prepared: Prepared | undefined;
  #closed = false;

  constructor(file: string, { now, salt, retryForMs = RETRY_FOR_MS }: RegisterDeps) {
    this.#file = file;
    this.#now = now;
    this.#salt = salt;
    this.#retryForMs = retryForMs;
  }

  async issue(request: IssueRequest): Promise<Numbered[]> {
    const order = readRequest(request);
    return this.#writing(({ issue }) => issue(order, this.#now()));
  }

  async record(request: RecordRequest): Promise<NumberStatus> {
    const event = toEvent(request, this.#now());
    return this.#writing(({ record }) => record(event, this.#now()));
  }

  async closeEdition(request: CloseRequest): Promise<void> {
    const event = toClosing(request, this.#now());
    return this.#writing(({ closeEdition }) => closeEdition(event, this.#now()));
  }

  async importEvents(past: readonly PastEvent[]): Promise<void> {
    const events = past.map((one) => toEvent(one, this.#now()));
    return this.#writing(({ importEvents }) => importEvents(events, this.#now()));
  }

  async statuses(edition: string): Promise<NumberStatus[]> {
    return this.#reading((read) => replay(read.ofEdition(edition).map(({ event }) => event)), []);
  }

  async stateOf(edition: string, label: string): Promise<State | undefined> {
    const events = await this.history(edition, label);
    return replay(events.map(({ event }) => event))[0]?.state;
  }

  async isClosed(edition: string): Promise<boolean> {
    return this.#reading((read) => read.isClosed(edition), false);
  }

  async history(edition: string, label: string): Promise<StoredEvent[]> {
    return this.#reading((read) => read.ofLabel(edition, label), []);
  }

  async size(): Promise<number> {
    return this.#reading((read) => read.size(), 0);
  }

  async *events(from = 0): AsyncGenerator<RawEvent> {
    for (let next = from; ; ) {
      const batch = await this.#reading((read) => read.batch(next), []);
      if (batch.length === 0) return;
      yield* batch;
      next = batch.at(-1)!.seq + 1;
    }
  }

  async checkpoints(): Promise<StoredCheckpoint[]> {
    return this.#reading((read) => read.checkpoints(), []);
  }

  async faults(): Promise<readonly string[]> {
    return this.#reading(() => faultsOfFile(this.#prepare().open.db), []);
  }

  async addCheckpoint(checkpoint: StoredCheckpoint): Promise<void> {
    return this.#writing(({ addCheckpoint }) => addCheckpoint(checkpoint));
  }

  async restore(events: AsyncIterable<RawEvent>, checkpoints: readonly StoredCheckpoint[]): Promise<void> {
    const open = await this.#patiently(() => {
      if (!this.#prepared) isThere(this.#file);
      return openAlone(this.#file, this.#now);
    });
    try {
      await takeInto(open, events, checkpoints);
    } catch (error) {
      throw told(error, this.#file);
    } finally {
      // Takes back whatever was not committed.
      open.db.close();
    }
  }

  async backup(file: string): Promise<void> {
    const open = await this.#reading(() => this.#prepare().open, undefined);
    if (!open)
      throw refuse(2, this.#file, 'There is no register to copy yet.', 'Name the workshop that has it.');
    await backUp(open.db, file);
  }

  async close(): Promise<void> {
    this.#closed = true;
    this.#prepared?.open.db.close();
    this.#prepared = undefined;
  }

  #reading<T>(work: (read: Read) => T, none: T): Promise<T> {
    return this.#patiently(() => {
      if (!this.#prepared && !isThere(this.#file)) return none;
      const { open, read, mustBeHere } = this.#prepare();
      checkSameFile(open, this.#file);
      mustBeHere();
      return work(read);
    });
  }

  #writing<T>(work: (writing: Writing) => T): Promise<T> {
    return this.#patiently(() => {
      if (!this.#prepared) isThere(this.#file);
      const { open, writing, mustBeHere, alone } = this.#prepare();
      // The clock is read, and the file looked at, once nobody else can write: times then run with the sequence.
      return alone(() => {
        checkSameFile(open, this.#file);
        mustBeHere();
        return work(writing);
      });
    });
  }

  #prepare(): Prepared {
    if (this.#prepared) return this.#prepared;
    const open = openFile(this.#file, this.#now);
    const { db } = open;
    const read = prepareRead(db);
    const append = prepareAppend(db, this.#salt);
    const writing = {
      ...prepareRecord(read, append),
      issue: prepareIssue(db, read, append),
      addCheckpoint: prepareAddCheckpoint(db),
    };
    const transaction = db.transaction((work: () => unknown) => work());
    // The transaction gives back what the work gave; its type only forgets it.
    const alone = <T>(work: () => T): T => transaction.immediate(work) as T;
    this.#prepared = { open, read, writing, mustBeHere: prepareMustBeHere(db, this.#file), alone };
    return this.#prepared;
  }

  #patiently<T>(work: () => T): Promise<T> {
    const inWords = () => {
      if (this.#closed) throw refuse(2, this.#file, 'The register was closed.', 'Open it again.');
      try {
        return work();
      } catch (error) {
        throw told(error, this.#file);
      }
    };
    return patiently(inWords, this.#file, this.#retryForMs);
  }
}
