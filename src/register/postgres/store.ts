import type pg from 'pg';
import { registerName } from '../../documents/check/register-url.js';
import type { Numbered } from '../../edition/labels.js';
import { Refusal, refuse } from '../../problem.js';
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
import { alone } from './alone.js';
import { type Append, type LastSeen, prepareAppend } from './append.js';
import { isThere, migrate, openPool } from './connection.js';
import { type Issue, prepareIssue } from './issue.js';
import { patiently } from './patience.js';
import { prepareRead, type Read } from './read.js';
import { prepareRecord, type Recording } from './record.js';
import { type AddCheckpoint, prepareAddCheckpoint, takeInto } from './take-over.js';

interface Writing extends Recording {
  readonly issue: Issue;
  readonly addCheckpoint: AddCheckpoint;
  restore(events: AsyncIterable<RawEvent>, checkpoints: readonly StoredCheckpoint[]): Promise<void>;
}

/** What goes with one connection; a new one may lead to another server, so nothing is carried over. */
interface Prepared {
  readonly read: Read;
  readonly append: Append;
  readonly writing: Writing;
}

/** A register in one PostgreSQL database, reached at the first use and made at the first entry. */
export class PostgresRegister implements Register {
  readonly #name: string;
  readonly #pool: pg.Pool;
  readonly #now: () => Date;
  readonly #salt: (() => Uint8Array) | undefined;
  readonly #retryForMs: number;
  readonly #prepared = new WeakMap<pg.ClientBase, Prepared>();
  readonly #seen: LastSeen = { seq: -1, leaf: undefined };
  /** Requests of this program write one after another, over one connection. */
  #turn: Promise<unknown> = Promise.resolve();
  #reached = false;
  #closed = false;

  constructor(url: string, { now, salt, retryForMs = RETRY_FOR_MS }: RegisterDeps) {
    this.#name = registerName(url);
    this.#pool = openPool(url, retryForMs);
    this.#now = now;
    this.#salt = salt;
    this.#retryForMs = retryForMs;
  }

  async issue(request: IssueRequest): Promise<Numbered[]> {
    const order = readRequest(request);
    return this.#writing(order.key !== undefined, ({ issue }) => issue(order, this.#now()));
  }

  async record(request: RecordRequest): Promise<NumberStatus> {
    const event = toEvent(request, this.#now());
    return this.#writing(event.key !== undefined, ({ record }) => record(event, this.#now()));
  }

  async closeEdition(request: CloseRequest): Promise<void> {
    const event = toClosing(request, this.#now());
    return this.#writing(event.key !== undefined, ({ closeEdition }) => closeEdition(event, this.#now()));
  }

  async importEvents(past: readonly PastEvent[]): Promise<void> {
    const events = past.map((one) => toEvent(one, this.#now()));
    return this.#writing(false, ({ importEvents }) => importEvents(events, this.#now()));
  }

  async statuses(edition: string): Promise<NumberStatus[]> {
    const kept = await this.#reading((read) => read.ofEdition(edition), []);
    return replay(kept.map(({ event }) => event));
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
    // The server holds each page it reads against a checksum; its indexes are for its own keeper to look at.
    return [];
  }

  async addCheckpoint(checkpoint: StoredCheckpoint): Promise<void> {
    // Keeping the same one again does nothing.
    return this.#writing(true, ({ addCheckpoint }) => addCheckpoint(checkpoint));
  }

  async restore(events: AsyncIterable<RawEvent>, checkpoints: readonly StoredCheckpoint[]): Promise<void> {
    let begun = false;
    return this.#writing(false, ({ restore }) => {
      // The events pass by once only, so there is no second try.
      if (begun) {
        throw refuse(2, this.#name, 'The connection was lost; nothing was taken over.', 'Begin again.');
      }
      begun = true;
      return restore(events, checkpoints);
    });
  }

  async backup(): Promise<void> {
    throw refuse(
      2,
      this.#name,
      'A register on a server is not copied from here.',
      "Have the server's own copies taken, and try that they come back.",
    );
  }

  async close(): Promise<void> {
    if (this.#closed) return;
    this.#closed = true;
    await this.#pool.end();
  }

  #reading<T>(work: (read: Read) => Promise<T>, none: T): Promise<T> {
    return this.#patiently(true, async (client, leftMs) => {
      if (!this.#prepared.has(client) && !(await isThere(client, this.#name))) return none;
      const { read } = await this.#prepare(client, leftMs);
      return work(read);
    });
  }

  #writing<T>(repeatable: boolean, work: (writing: Writing) => Promise<T>): Promise<T> {
    const inTurn = this.#turn.then(() =>
      this.#patiently(repeatable, async (client, leftMs) => {
        const { append, writing } = await this.#prepare(client, leftMs);
        append.begin();
        // The clock is read once nobody else can write: times then run with the sequence.
        const result = await alone(client, leftMs, () => work(writing));
        append.committed();
        return result;
      }),
    );
    this.#turn = inTurn.catch(() => undefined);
    return inTurn;
  }

  async #prepare(client: pg.ClientBase, leftMs: number): Promise<Prepared> {
    const before = this.#prepared.get(client);
    if (before) return before;
    const there = await isThere(client, this.#name);
    await migrate(client, this.#name, there, leftMs, this.#now);
    const read = prepareRead(client);
    const append = prepareAppend(client, this.#name, this.#seen, this.#salt);
    const writing = {
      ...prepareRecord(read, append),
      issue: prepareIssue(client, read, append),
      addCheckpoint: prepareAddCheckpoint(client),
      restore: (events: AsyncIterable<RawEvent>, checkpoints: readonly StoredCheckpoint[]) =>
        takeInto(client, events, checkpoints),
    };
    const prepared = { read, append, writing };
    this.#prepared.set(client, prepared);
    return prepared;
  }

  #patiently<T>(
    repeatable: boolean,
    work: (client: pg.ClientBase, leftMs: number) => Promise<T>,
  ): Promise<T> {
    const overOne = async (leftMs: number): Promise<T> => {
      if (this.#closed) throw refuse(2, this.#name, 'The register was closed.', 'Open it again.');
      const client = await this.#pool.connect();
      this.#reached = true;
      try {
        const result = await work(client, leftMs);
        client.release();
        return result;
      } catch (error) {
        // After anything but a refusal, what the connection is in the middle of is not known.
        client.release(!(error instanceof Refusal));
        throw error;
      }
    };
    return patiently(overOne, {
      name: this.#name,
      retryForMs: this.#retryForMs,
      repeatable,
      reached: () => this.#reached,
    });
  }
}
