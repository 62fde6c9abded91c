import type { Numbered } from '../../edition/labels.js';
import { refuse } from '../../problem.js';
import {
  type CloseRequest,
  type IssueRequest,
  type KeptCheckpoint,
  type KeptEvent,
  PATIENCE_MS,
  type PastEvent,
  type RawEvent,
  type RecordRequest,
  type Register,
  readRequest,
  type Surroundings,
} from '../register.js';
import { asClosing, asEvent } from '../requests.js';
import { type Standing, type State, standings } from '../state.js';
import { prepareAppend } from './append.js';
import { backUp } from './backup.js';
import { checkSameFile, isThere, type OpenFile, openFile, told } from './file.js';
import { type Issue, prepareIssue } from './issue.js';
import { prepareMustBeHere } from './moved.js';
import { patiently } from './patience.js';
import { prepareRead, type Read } from './read.js';
import { prepareRecord, type Recording } from './record.js';
import { faultsOfFile } from './soundness.js';
import { type KeepCheckpoint, openAlone, prepareKeepCheckpoint, takeInto } from './take-over.js';

interface Writing extends Recording {
  readonly issue: Issue;
  readonly keepCheckpoint: KeepCheckpoint;
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
  readonly #patienceMs: number;
  #prepared: Prepared | undefined;
  #closed = false;

  constructor(file: string, { now, salt, patienceMs = PATIENCE_MS }: Surroundings) {
    this.#file = file;
    this.#now = now;
    this.#salt = salt;
    this.#patienceMs = patienceMs;
  }

  async issue(request: IssueRequest): Promise<Numbered[]> {
    const order = readRequest(request);
    return this.#writing(({ issue }) => issue(order, this.#now()));
  }

  async record(request: RecordRequest): Promise<Standing> {
    const event = asEvent(request, this.#now());
    return this.#writing(({ record }) => record(event, this.#now()));
  }

  async closeEdition(request: CloseRequest): Promise<void> {
    const event = asClosing(request, this.#now());
    return this.#writing(({ closeEdition }) => closeEdition(event, this.#now()));
  }

  async bringIn(past: readonly PastEvent[]): Promise<void> {
    const events = past.map((one) => asEvent(one, this.#now()));
    return this.#writing(({ bringIn }) => bringIn(events, this.#now()));
  }

  async issued(edition: string): Promise<Standing[]> {
    return this.#reading((read) => standings(read.ofEdition(edition).map(({ event }) => event)), []);
  }

  async stateOf(edition: string, label: string): Promise<State | undefined> {
    const events = await this.history(edition, label);
    return standings(events.map(({ event }) => event))[0]?.state;
  }

  async isClosed(edition: string): Promise<boolean> {
    return this.#reading((read) => read.isClosed(edition), false);
  }

  async history(edition: string, label: string): Promise<KeptEvent[]> {
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

  async checkpoints(): Promise<KeptCheckpoint[]> {
    return this.#reading((read) => read.checkpoints(), []);
  }

  async faults(): Promise<readonly string[]> {
    return this.#reading(() => faultsOfFile(this.#prepare().open.db), []);
  }

  async keepCheckpoint(checkpoint: KeptCheckpoint): Promise<void> {
    return this.#writing(({ keepCheckpoint }) => keepCheckpoint(checkpoint));
  }

  async takeOver(events: AsyncIterable<RawEvent>, checkpoints: readonly KeptCheckpoint[]): Promise<void> {
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
      keepCheckpoint: prepareKeepCheckpoint(db),
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
    return patiently(inWords, this.#file, this.#patienceMs);
  }
}
