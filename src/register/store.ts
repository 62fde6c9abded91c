import type { Numbered } from '../edition/labels.js';
import { Refusal } from '../problem.js';
import { applyEvents, editionOfAll, type Past } from './apply-events.js';
import type { ClockCheck } from './clock.js';
import type { Connection, Database } from './database.js';
import { type EventOf, type NumberEvent, type RegisterEvent, toLeaf } from './event.js';
import { chosenNumbers, PlansBySeries, SeriesAvailability } from './free-numbers.js';
import {
  applyEvent,
  closedBefore,
  type Life,
  type NumberStatus,
  numberMismatch,
  replay,
  replayLives,
  type State,
  statusOf,
} from './lifecycle.js';
import { refuse } from './messages.js';
import { checkOccurrence } from './occurrence.js';
import { prepareQueries, type Queries } from './queries.js';
import type {
  AmendRequest,
  Capabilities,
  CloseRequest,
  ImportOptions,
  IssueRequest,
  ManyOptions,
  ManyRequest,
  OnTerms,
  PastEvent,
  RawEvent,
  RecordedTerms,
  RecordRequest,
  RecoverRequest,
  Register,
  RegisterDeps,
  SeenEvent,
  StoredCheckpoint,
  StoredEvent,
} from './register.js';
import {
  type IssueOrder,
  keyReused,
  locateInRow,
  monotonicTime,
  readIssueRequest,
  repeatedIssue,
  saltText,
  sameRequest,
  toAmendment,
  toClosingEvent,
  toEvent,
  toOpeningEvent,
  WHY_RESERVED,
} from './requests.js';
import { differencesOf, type TermsDifference } from './terms/difference.js';
import { checkOnTerms } from './terms/hold.js';
import { TermsReader } from './terms/recorded-terms.js';
import type { NamedTerms } from './terms/schema.js';
import { validateEvents } from './validate-events.js';

/** Events restored by one call of the store. */
const RESTORE_BATCH = 500;

const NO_LEAF = Buffer.alloc(0);

/** The last event that this program entered, and so knows to be on disk. */
interface LastSeen {
  readonly seq: number;
  readonly leaf: Buffer | undefined;
}

/** A transaction that writes: nobody else does until it ends. */
interface Writing {
  readonly on: Connection;
  /** The last event entered; known to be on disk once this is committed. */
  seen: LastSeen;
}

/** Where the next event goes and the time it bears. */
interface End {
  readonly seq: number;
  /** The end before this transaction. */
  readonly committed: number;
  readonly at: string;
}

/** The register over any store: one set of rules, requests and queries. */
export class RegisterStore implements Register {
  readonly #database: Database;
  readonly #queries: Queries;
  readonly #terms: TermsReader;
  readonly #now: () => Date;
  readonly #salt: (() => Uint8Array) | undefined;
  readonly #entered: RegisterDeps['entered'];
  readonly #checkClock: ClockCheck | undefined;
  readonly #plans = new PlansBySeries();
  /** By connection: another one may lead to another server. */
  readonly #series = new WeakMap<Connection, Map<string, SeriesAvailability>>();
  #seen: LastSeen = { seq: -1, leaf: undefined };
  #closed = false;

  constructor(database: Database, { now, salt, entered, checkClock }: RegisterDeps) {
    this.#database = database;
    this.#queries = prepareQueries(database.compiler);
    this.#terms = new TermsReader(this.#queries);
    this.#now = now;
    this.#salt = salt;
    this.#entered = entered;
    this.#checkClock = checkClock;
  }

  get capabilities(): Capabilities {
    return this.#database.capabilities;
  }

  async issue(request: IssueRequest): Promise<Numbered[]> {
    const order = readIssueRequest(request);
    const planned = this.#plans.of(order);
    return this.#write(order.key !== undefined, (writing) => this.#issue(writing, order, planned));
  }

  async record({ terms, ...request }: RecordRequest): Promise<NumberStatus> {
    const event = toEvent(request, this.#now());
    const [status] = await this.#write(event.key !== undefined, (writing) =>
      this.#record(writing, [event], terms),
    );
    return status!;
  }

  async recordAll(
    requests: readonly ManyRequest[],
    { key, terms }: ManyOptions = {},
  ): Promise<NumberStatus[]> {
    const events = requests.map((one, i) => toEvent({ ...one, key }, this.#now(), i + 1));
    return this.#write(key !== undefined, (writing) => this.#record(writing, events, terms));
  }

  async checkAll(requests: readonly ManyRequest[], { terms }: OnTerms = {}): Promise<NumberStatus[]> {
    const events = requests.map((one) => toEvent(one, this.#now()));
    const checked = await this.#read(async (on) => this.#check(on, events, terms), undefined);
    return checked ?? this.#check(undefined, events, terms);
  }

  async closeEdition({ terms, asOf, ...request }: CloseRequest): Promise<void> {
    const event = toClosingEvent(request, this.#now());
    return this.#write(event.key !== undefined, (writing) => this.#closeEdition(writing, event, terms, asOf));
  }

  async importEvents(past: readonly PastEvent[], { terms, progress }: ImportOptions = {}): Promise<void> {
    const events = past.map((one) => toEvent(one, this.#now()));
    return this.#write(false, (writing) => this.#importEvents(writing, events, terms, progress));
  }

  async amend(request: AmendRequest): Promise<readonly TermsDifference[]> {
    const event = toAmendment(request, this.#now());
    return this.#write(event.key !== undefined, (writing) => this.#amend(writing, event));
  }

  async checkAmendment({ edition, terms }: Pick<AmendRequest, 'edition' | 'terms'>) {
    return this.#read((on) => this.#terms.differences(on, edition, terms), []);
  }

  async terms(edition: string): Promise<RecordedTerms | undefined> {
    return this.#read((on) => this.#terms.recorded(on, edition), undefined);
  }

  async checkTerms(edition: string, terms: NamedTerms): Promise<void> {
    await this.#read((on) => this.#terms.check(on, edition, terms), undefined);
  }

  async statuses(edition: string): Promise<NumberStatus[]> {
    const events = await this.#read((on) => this.#queries.ofEdition(on, edition), []);
    return replay(events);
  }

  async stateOf(edition: string, label: string): Promise<State | undefined> {
    const events = await this.history(edition, label);
    return replay(events)[0]?.state;
  }

  async isClosed(edition: string): Promise<boolean> {
    return this.#read((on) => this.#queries.isClosed(on, edition), false);
  }

  async history(edition: string, label: string): Promise<StoredEvent[]> {
    return this.#read((on) => this.#queries.ofLabel(on, edition, label), []);
  }

  async leafAt(seq: number): Promise<Buffer | undefined> {
    return this.#read((on) => this.#queries.leafAt(on, seq), undefined);
  }

  expect(seen: SeenEvent): void {
    if (seen.seq > this.#seen.seq) this.#seen = seen;
  }

  async editions(): Promise<readonly string[]> {
    return this.#read((on) => this.#queries.editions(on), []);
  }

  async editionHistory(edition: string): Promise<StoredEvent[]> {
    return this.#read((on) => this.#queries.ofEdition(on, edition), []);
  }

  async size(): Promise<number> {
    return this.#read((on) => this.#queries.size(on), 0);
  }

  async *events(from = 0): AsyncGenerator<RawEvent> {
    for (let next = from; ; ) {
      const batch = await this.#read((on) => this.#queries.batch(on, next), []);
      if (batch.length === 0) return;
      yield* batch;
      next = batch.at(-1)!.seq + 1;
    }
  }

  async checkpoints(): Promise<StoredCheckpoint[]> {
    return this.#read((on) => this.#queries.checkpoints(on), []);
  }

  async faults() {
    this.#mustBeOpen();
    return this.#database.faults();
  }

  async addCheckpoint(checkpoint: StoredCheckpoint): Promise<void> {
    // Adding the same one again does nothing.
    return this.#write(true, ({ on }) => this.#addCheckpoint(on, checkpoint));
  }

  async restore(events: AsyncIterable<RawEvent>, checkpoints: readonly StoredCheckpoint[]): Promise<void> {
    return this.#writeOnce((writing) => this.#restore(writing, events, checkpoints));
  }

  async recover(request: RecoverRequest): Promise<void> {
    return this.#writeOnce((writing) => this.#recover(writing, request));
  }

  async backup(file: string): Promise<void> {
    this.#mustBeOpen();
    if (!this.#database.backup) throw refuse('register.no-backup', this.#database.name, {});
    return this.#database.backup(file);
  }

  async close(): Promise<void> {
    if (this.#closed) return;
    this.#closed = true;
    await this.#database.close();
  }

  async #issue(writing: Writing, order: IssueOrder, planned: readonly Numbered[]): Promise<Numbered[]> {
    const { on } = writing;
    const { edition, series, parts, by, why, key, terms } = order;
    if (key !== undefined) {
      const earlier = await this.#queries.ofKey(on, key);
      if (earlier.length > 0)
        return repeatedIssue(
          order,
          key,
          earlier.map(({ event }) => event),
        );
    }
    if (await this.#queries.isClosed(on, edition)) {
      throw refuse('register.closed-to-issue', `edition ${edition}`, {});
    }
    const end = await this.#endOnTerms(writing, edition, terms, by);
    const available = this.#availability(on, `${edition}/${series}`);
    available.add(await this.#queries.availability(on, edition, series, available.readUpTo));
    // Not beyond what is committed: the events about to be written may yet be rolled back.
    available.readUpTo = end.committed;
    const free = order.chosen
      ? chosenNumbers(order, order.chosen, planned, available)
      : available.lowestFree(order, planned);
    if (terms) checkOnTerms(edition, terms.terms, free);
    const events = free.flatMap(({ number, label }) => {
      const common = { edition, series, number, label, by, at: end.at };
      const reserved = available.held(number) === 'withheld';
      return [
        ...(reserved ? [{ type: 'released' as const, ...common, why: WHY_RESERVED }] : []),
        { type: 'issued' as const, ...common, why, ...(parts && { parts: [...parts] }) },
      ];
    });
    await this.#append(
      writing,
      end.seq,
      events.map((event, i) => ({ ...event, ...(key !== undefined && { key, nth: i + 1 }) })),
    );
    return free;
  }

  /** Events of one edition, each held against what the ones before it lead to. */
  async #record(
    writing: Writing,
    events: readonly NumberEvent[],
    terms: NamedTerms | undefined,
  ): Promise<NumberStatus[]> {
    const { on } = writing;
    const [first] = events;
    if (!first) return [];
    const repeated = await this.#repeatedRecord(on, events);
    if (repeated) return repeated;
    const end = await this.#endOnTerms(writing, editionOfAll(events), terms, first.by);
    const entered = events.map((event) => ({ ...event, at: end.at }));
    const statuses = await applyEvents(this.#past(on), entered, end.seq, terms);
    await this.#append(writing, end.seq, entered);
    return statuses;
  }

  /** What `#record` would answer. `on` is undefined where there is no register yet. */
  async #check(
    on: Connection | undefined,
    events: readonly NumberEvent[],
    terms: NamedTerms | undefined,
  ): Promise<NumberStatus[]> {
    if (events.length === 0) return [];
    if (on && terms) await this.#terms.check(on, editionOfAll(events), terms);
    return applyEvents(this.#past(on), events, on ? await this.#queries.size(on) : 0, terms);
  }

  /** What `applyEvents` needs to know of what is entered; nothing is, where there is no register yet. */
  #past(on: Connection | undefined): Past {
    if (!on)
      return { isClosed: async () => false, historyOf: async () => [], checkKnown: async () => undefined };
    return {
      isClosed: (edition) => this.#queries.isClosed(on, edition),
      historyOf: (edition, label) => this.#queries.ofLabel(on, edition, label),
      checkKnown: (event) => this.#checkKnown(on, event),
    };
  }

  /** The answer given to the same request before, whatever came after; undefined where it is new. */
  async #repeatedRecord(on: Connection, events: readonly NumberEvent[]): Promise<NumberStatus[] | undefined> {
    const [{ key, label }] = events as [NumberEvent];
    if (key === undefined) return undefined;
    const earlier = await this.#queries.ofKey(on, key);
    if (earlier.length === 0) return undefined;
    const same =
      earlier.length === events.length && earlier.every((one, i) => sameRequest(one.event, events[i]!));
    if (!same) throw keyReused(`label ${label}`, key);
    const statuses: NumberStatus[] = [];
    for (const [i, event] of events.entries())
      statuses.push(statusOf((await this.#life(on, event, earlier[i]!.seq))!));
    return statuses;
  }

  async #closeEdition(
    writing: Writing,
    event: EventOf<'closed'>,
    terms: NamedTerms | undefined,
    asOf: number | undefined,
  ): Promise<void> {
    if (await this.#sameRequest(writing.on, event, `edition ${event.edition}`)) return;
    if (await this.#queries.isClosed(writing.on, event.edition)) {
      throw new Refusal([closedBefore(event.edition)]);
    }
    if (asOf !== undefined && (await this.#queries.grewSince(writing.on, event.edition, asOf)))
      throw refuse('register.edition-moved-on', `edition ${event.edition}`, {});
    const { seq, at } = await this.#endOnTerms(writing, event.edition, terms, event.by);
    await this.#append(writing, seq, [{ ...event, at }]);
  }

  async #amend(writing: Writing, event: EventOf<'amended'>): Promise<readonly TermsDifference[]> {
    const { on } = writing;
    const { edition } = event;
    const earlier = await this.#sameRequest(on, event, `edition ${edition}`);
    if (earlier) return differencesOf((await this.#terms.recorded(on, edition, earlier.seq))!, event);
    const differences = await this.#terms.differences(on, edition, event);
    const { seq, at } = await this.#end(writing);
    await this.#append(writing, seq, [{ ...event, at }]);
    return differences;
  }

  /**
   * The end of the sequence, once the terms of the edition are held against what is asked. Where the register has none,
   * they are entered first.
   */
  async #endOnTerms(
    writing: Writing,
    edition: string,
    terms: NamedTerms | undefined,
    by: string,
  ): Promise<End> {
    const end = await this.#end(writing);
    if (!terms) return end;
    if ((await this.#terms.check(writing.on, edition, terms)) !== 'to enter') return end;
    await this.#append(writing, end.seq, [toOpeningEvent(edition, terms, by, end.at)]);
    return { ...end, seq: end.seq + 1 };
  }

  async #importEvents(
    writing: Writing,
    events: readonly NumberEvent[],
    terms: NamedTerms | undefined,
    progress?: (done: number, of: number) => void,
  ): Promise<void> {
    const { on } = writing;
    const [first] = events;
    if (!first) return;
    if (terms && events.some(({ edition }) => edition !== first.edition))
      throw new TypeError('terms are of one edition');
    const { seq, at } = await this.#endOnTerms(writing, first.edition, terms, first.by);
    if (terms) checkOnTerms(first.edition, terms.terms, events);
    const current = new Map<string, Life>();
    const byNumber = new Map<string, Numbered>();
    const closed = new Map<string, boolean>();
    for (const [i, event] of events.entries()) {
      const { edition, series, number, label } = event;
      try {
        const name = `${edition} ${label}`;
        if (!closed.has(edition)) closed.set(edition, await this.#queries.isClosed(on, edition));
        const before = current.get(name) ?? (await this.#life(on, event));
        const known = byNumber.get(`${edition}/${series}/${number}`);
        if (known && known.label !== label) throw numberMismatch(known, event);
        if (!before) await this.#checkKnown(on, event);
        const applied = { editionClosed: closed.get(edition) ?? false, seq: seq + i };
        current.set(name, applyEvent(before, { ...event, at }, applied));
        checkOccurrence({ ...event, at }, []);
        byNumber.set(`${edition}/${series}/${number}`, event);
      } catch (error) {
        throw locateInRow(error, i + 1);
      }
      progress?.(i + 1, events.length);
    }
    await this.#append(
      writing,
      seq,
      events.map((event) => ({ ...event, at })),
    );
  }

  async #addCheckpoint(on: Connection, checkpoint: StoredCheckpoint): Promise<void> {
    const note = await this.#queries.noteOfSize(on, checkpoint.size);
    if (note === checkpoint.note) return;
    if (note !== undefined) {
      throw refuse('register.checkpoint-exists', `checkpoint of ${checkpoint.size} events`, {});
    }
    await this.#queries.insertCheckpoint(on, checkpoint);
    if ((await this.#queries.noteOfSize(on, checkpoint.size)) !== checkpoint.note)
      throw refuse('register.not-entered', this.#database.name, {});
  }

  async #restore(
    writing: Writing,
    events: AsyncIterable<RawEvent>,
    checkpoints: readonly StoredCheckpoint[],
  ): Promise<void> {
    if ((await this.#queries.size(writing.on)) > 0) {
      throw refuse('register.not-empty', this.#database.name, {});
    }
    await this.#enterFrom(writing, 0, validateEvents(events));
    for (const checkpoint of checkpoints) await this.#addCheckpoint(writing.on, checkpoint);
  }

  async #recover(writing: Writing, request: RecoverRequest): Promise<void> {
    const { asOf, next, checkpoints, editions, by, why } = request;
    const { on } = writing;
    if ((await this.#queries.size(on)) !== asOf)
      throw refuse('register.grew-meanwhile', this.#database.name, {});
    await this.#enterFrom(writing, asOf, validateEvents(this.#followedBy(on, asOf, next)));
    for (const checkpoint of checkpoints) await this.#addCheckpoint(on, checkpoint);
    for (const { edition, terms, events } of editions) {
      const recorded = terms && (await this.#terms.recorded(on, edition));
      if (
        recorded &&
        !(await this.#queries.isClosed(on, edition)) &&
        differencesOf(recorded, terms).length > 0
      )
        await this.#amend(writing, toAmendment({ edition, terms, by, why }, this.#now()));
      await this.#importEvents(
        writing,
        events.map((one) => toEvent(one, this.#now())),
        terms,
      );
    }
  }

  /** The events of the register, only where others follow. */
  async *#followedBy(on: Connection, size: number, next: AsyncIterable<RawEvent>): AsyncGenerator<RawEvent> {
    let first = true;
    for await (const event of next) {
      for (let at = 0; first && at < size; ) {
        const batch = await this.#queries.batch(on, at);
        if (batch.length === 0) break;
        yield* batch;
        at = batch.at(-1)!.seq + 1;
      }
      first = false;
      yield event;
    }
  }

  /** The event that an earlier request of this key entered. Throws a Refusal when it was another request. */
  async #sameRequest(on: Connection, event: RegisterEvent, where: string): Promise<StoredEvent | undefined> {
    if (event.key === undefined) return undefined;
    const [earlier, ...more] = await this.#queries.ofKey(on, event.key);
    if (earlier && (more.length > 0 || !sameRequest(earlier.event, event))) throw keyReused(where, event.key);
    return earlier;
  }

  async #life(
    on: Connection,
    { edition, label }: NumberEvent,
    upTo = Number.POSITIVE_INFINITY,
  ): Promise<Life | undefined> {
    const events = (await this.#queries.ofLabel(on, edition, label)).filter(({ seq }) => seq <= upTo);
    return replayLives(events)[0];
  }

  async #checkKnown(on: Connection, event: NumberEvent): Promise<void> {
    const known = await this.#queries.known(on, event.edition, event);
    if (!known) return;
    const { series, number, label } = known;
    if (series !== event.series || number !== event.number || label !== event.label) {
      throw numberMismatch(known, event);
    }
  }

  /**
   * The end of the sequence. The clock is read here, where nobody else can write, so that times run with the sequence.
   * Throws a Refusal (exit 3) when an event that this program entered is not there any more.
   */
  async #end(writing: Writing): Promise<End> {
    const { seq: seen, leaf } = this.#seen;
    const last = await this.#queries.last(writing.on, seen, leaf ?? NO_LEAF);
    // A count may come as a text.
    if (leaf && Number(last?.seen ?? 0) !== 1)
      throw refuse('register.rolled-back', this.#database.name, { seq: seen });
    const now = this.#now();
    this.#checkClock?.(now, last?.at);
    const end = (last?.seq ?? -1) + 1;
    return { seq: end, committed: end, at: monotonicTime(last?.at, now) };
  }

  /** Adds events from a place in the sequence on, each with a salt of its own. */
  async #append(writing: Writing, seq: number, events: readonly RegisterEvent[]): Promise<void> {
    const raw = events.map((event, i) => ({
      seq: seq + i,
      ...toLeaf(this.#salt ? { ...event, salt: saltText(this.#salt()) } : event),
    }));
    await this.#enter(writing, raw);
  }

  /** Enters events from a place in the sequence on, a batch at a time; those before it are there already. */
  async #enterFrom(writing: Writing, from: number, events: AsyncIterable<RawEvent>): Promise<void> {
    let batch: RawEvent[] = [];
    for await (const event of events) {
      if (event.seq < from) continue;
      batch.push(event);
      if (batch.length < RESTORE_BATCH) continue;
      await this.#enter(writing, batch);
      batch = [];
    }
    await this.#enter(writing, batch);
  }

  /** Inserts rows and reads them back: what is acknowledged must be there, and a trigger may swallow or change it. */
  async #enter(writing: Writing, events: readonly RawEvent[]): Promise<void> {
    await this.#queries.insertEvents(writing.on, events);
    for (let at = 0; at < events.length; ) {
      const found = await this.#queries.batch(writing.on, events[at]!.seq);
      if (found.length === 0) throw refuse('register.not-entered', this.#database.name, {});
      for (const { seq, body, leaf } of found) {
        const entered = events[at++];
        if (!entered || seq !== entered.seq || body !== entered.body || !leaf.equals(entered.leaf))
          throw refuse('register.not-entered', this.#database.name, {});
      }
    }
    if (events.length > 0) writing.seen = events.at(-1)!;
  }

  #availability(on: Connection, series: string): SeriesAvailability {
    const known = this.#series.get(on) ?? new Map<string, SeriesAvailability>();
    this.#series.set(on, known);
    const available = known.get(series) ?? new SeriesAvailability();
    known.set(series, available);
    return available;
  }

  #read<T>(work: (on: Connection) => Promise<T>, none: T): Promise<T> {
    this.#mustBeOpen();
    return this.#database.read(work, none);
  }

  /** The one way to an entry. */
  async #write<T>(repeatable: boolean, work: (writing: Writing) => Promise<T>): Promise<T> {
    this.#mustBeOpen();
    let writing: Writing | undefined;
    const result = await this.#database.write(
      (on) => {
        writing = { on, seen: this.#seen };
        return work(writing);
      },
      { repeatable },
    );
    // Committed: from now on a register without it has gone back.
    if (!writing || writing.seen.seq <= this.#seen.seq) return result;
    const { seq, leaf } = writing.seen;
    this.#seen = writing.seen;
    if (leaf) await this.#entered?.({ seq, leaf });
    return result;
  }

  /** The same for events that can be read once only, so that there is no second try. */
  #writeOnce(work: (writing: Writing) => Promise<void>): Promise<void> {
    let begun = false;
    return this.#write(false, async (writing) => {
      if (begun) throw refuse('register.restore-interrupted', this.#database.name, {});
      begun = true;
      await work(writing);
    });
  }

  #mustBeOpen(): void {
    if (this.#closed) throw refuse('register.store-closed', this.#database.name, {});
  }
}
