import type { Numbered } from '../edition/labels.js';
import { type Problem, Refusal } from '../problem.js';
import { applyEvents, editionOfAll, type Past, refusalOf } from './apply-events.js';
import type { ClockCheck } from './clock.js';
import type { BoundQuery, Connection, Database } from './database.js';
import type { EventOf, NumberEvent, RegisterEvent } from './event.js';
import { chosenNumbers, PlansBySeries, SeriesAvailability } from './free-numbers.js';
import {
  applyEvent,
  closedBefore,
  type Life,
  type NumberStatus,
  numberMismatch,
  Replay,
  replay,
  replayLives,
  type State,
  statusOf,
} from './lifecycle.js';
import { refuse } from './messages.js';
import { checkOccurrence } from './occurrence.js';
import { writeEvent } from './plain-events.js';
import { inBatches, type LastEvent, prepareQueries, type Queries, type Reading } from './queries.js';
import type {
  AmendRequest,
  Capabilities,
  CloseRequest,
  FoundClosing,
  ImportOptions,
  IssueRequest,
  Loss,
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
  ResumeRequest,
  ResumeResult,
  SeenEvent,
  StoredCheckpoint,
  StoredEvent,
  VerifiedEvent,
} from './register.js';
import {
  type IssueOrder,
  keyReused,
  locateInRow,
  monotonicTime,
  readIssueRequest,
  repeatedIssue,
  SALT_BYTES,
  saltText,
  sameRequest,
  toAmendment,
  toClosingEvent,
  toEvent,
  toOpeningEvent,
  WHY_ANEW,
  WHY_RESERVED,
} from './requests.js';
import { readableMembers } from './resumption/claims.js';
import { isAhead } from './resumption/entry-fault.js';
import { type ResumptionPlan, ResumptionPlanner } from './resumption/plan-resumption.js';
import { NO_RESUMPTIONS, type Resumptions } from './resumption/resumptions.js';
import { differencesOf, type TermsDifference } from './terms/difference.js';
import { checkOnTerms } from './terms/hold.js';
import { TermsReader } from './terms/recorded-terms.js';
import type { NamedTerms } from './terms/schema.js';
import { type ValidatedEvent, validateEvents } from './validate-events.js';

/** Events entered at once; of more, no others are held meanwhile. */
const ENTERED_AT_ONCE = 100;

const NO_LEAF = Buffer.alloc(0);

/** The last event that this program entered, and so knows to be on disk. */
interface LastSeen {
  readonly seq: number;
  readonly leaf: Buffer | undefined;
}

/** A transaction that writes: nobody else does until it ends. */
interface Writing extends Reading {
  /** The last event entered; known to be on disk once this is committed. */
  seen: LastSeen;
}

/** What is known of series over one connection, as long as the register goes past nothing else. */
interface KnownSeries {
  readonly resumed: number;
  readonly series: Map<string, SeriesAvailability>;
}

/** Where the next event goes and the time it bears. */
interface End {
  readonly seq: number;
  /** The end before this transaction. */
  readonly committed: number;
  readonly at: string;
}

/** The same things, so many at a time. */
function* inChunks<T>(all: Iterable<T>, size: number): Generator<T[]> {
  let some: T[] = [];
  for (const one of all) {
    some.push(one);
    if (some.length < size) continue;
    yield some;
    some = [];
  }
  if (some.length > 0) yield some;
}

/** The register over any store: one set of rules, requests and queries. */
export class RegisterStore implements Register {
  readonly #database: Database;
  readonly #queries: Queries;
  readonly #terms: TermsReader;
  readonly #now: () => Date;
  readonly #salt: RegisterDeps['salt'];
  readonly #entered: RegisterDeps['entered'];
  readonly #checkClock: ClockCheck | undefined;
  readonly #planner: ResumptionPlanner;
  readonly #plans = new PlansBySeries();
  /** By connection: another one may lead to another server. */
  readonly #series = new WeakMap<Connection, KnownSeries>();
  #seen: LastSeen = { seq: -1, leaf: undefined };
  #closed = false;

  constructor(database: Database, { now, salt, entered, checkClock }: RegisterDeps) {
    this.#database = database;
    this.#queries = prepareQueries(database.compiler, database.leafHex);
    this.#terms = new TermsReader(this.#queries);
    this.#planner = new ResumptionPlanner(this.#queries, this.#terms);
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
    return this.#write(
      order.key !== undefined,
      (writing) => this.#issue(writing, order, planned),
      (on) => this.#questionsOfIssue(on, order),
    );
  }

  async record({ terms, ...request }: RecordRequest): Promise<NumberStatus> {
    const event = toEvent(request, this.#now());
    const [status] = await this.#write(
      event.key !== undefined,
      (writing) => this.#record(writing, [event], terms),
      (on) => [
        ...this.#questionsOfEntry(on, event.edition, event.key, terms),
        this.#queries.ofHistory({ edition: event.edition, label: event.label }),
      ],
    );
    return status!;
  }

  async recordAll(
    requests: readonly ManyRequest[],
    { key, terms }: ManyOptions = {},
  ): Promise<NumberStatus[]> {
    const events = requests.map((one, i) => toEvent({ ...one, key }, this.#now(), i + 1));
    const [first] = events;
    return this.#write(
      key !== undefined,
      (writing) => this.#record(writing, events, terms),
      (on) => (first ? this.#questionsOfEntry(on, first.edition, key, terms) : []),
    );
  }

  async enterAll(requests: Iterable<ManyRequest>, { terms }: OnTerms = {}): Promise<void> {
    // Made for each try anew, and never all held.
    const chunks = function* (now: Date) {
      for (const some of inChunks(requests, ENTERED_AT_ONCE)) yield some.map((one) => toEvent(one, now));
    };
    return this.#write(false, (writing) =>
      this.#recordSome(writing, chunks(this.#now()), terms, () => undefined),
    );
  }

  async checkAll(requests: readonly ManyRequest[], { terms }: OnTerms = {}): Promise<NumberStatus[]> {
    const events = requests.map((one) => toEvent(one, this.#now()));
    const checked = await this.#read(async (reading) => this.#check(reading, events, terms), undefined);
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
    return this.#read((reading) => this.#terms.differences(reading, edition, terms), []);
  }

  async terms(edition: string): Promise<RecordedTerms | undefined> {
    return this.#read((reading) => this.#terms.recorded(reading, edition), undefined);
  }

  async checkTerms(edition: string, terms: NamedTerms): Promise<void> {
    await this.#read((reading) => this.#terms.check(reading, edition, terms), undefined);
  }

  async statuses(edition: string): Promise<NumberStatus[]> {
    const replayed = new Replay();
    for await (const some of this.editionEvents(edition)) for (const one of some) replayed.add(one);
    return replayed.statuses();
  }

  async stateOf(edition: string, label: string): Promise<State | undefined> {
    const events = await this.history(edition, label);
    return replay(events)[0]?.state;
  }

  async isClosed(edition: string): Promise<boolean> {
    return this.#read((reading) => this.#queries.isClosed(reading, edition), false);
  }

  async history(edition: string, label: string): Promise<StoredEvent[]> {
    return this.#read((reading) => this.#queries.ofLabel(reading, edition, label), []);
  }

  async leafAt(seq: number): Promise<Buffer | undefined> {
    return this.#ask((on) => this.#queries.leafAt(on, seq), undefined);
  }

  expect(seen: SeenEvent): void {
    if (seen.seq > this.#seen.seq) this.#seen = seen;
  }

  async editions(): Promise<readonly string[]> {
    return this.#ask((on) => this.#queries.editions(on), []);
  }

  async editionHistory(edition: string): Promise<StoredEvent[]> {
    return this.#read((reading) => this.#queries.ofEdition(reading, edition), []);
  }

  async *editionEvents(edition: string): AsyncGenerator<readonly VerifiedEvent[]> {
    yield* this.eventsAt(await this.#ask((on) => this.#queries.placesOf(on, edition), []));
  }

  async *eventsAt(places: readonly number[]): AsyncGenerator<readonly VerifiedEvent[]> {
    if (places.length === 0) return;
    const passed = await this.resumptions();
    for (const some of inBatches(places))
      yield await this.#ask((on) => this.#queries.ofPlaces({ on, passed }, some), []);
  }

  async size(): Promise<number> {
    return this.#ask((on) => this.#queries.size(on), 0);
  }

  async *events(from = 0): AsyncGenerator<RawEvent> {
    // Not `yield*`, which takes an array for asynchronous and waits three times for each of its members.
    for await (const batch of this.eventBatches(from)) for (const event of batch) yield event;
  }

  async *eventBatches(from = 0): AsyncGenerator<readonly RawEvent[]> {
    for (let next = from; ; ) {
      const batch = await this.#ask((on) => this.#queries.batch(on, next), []);
      if (batch.length === 0) return;
      yield batch;
      next = batch.at(-1)!.seq + 1;
    }
  }

  async checkpoints(which?: 'all'): Promise<StoredCheckpoint[]> {
    return this.#read(async ({ on, passed }) => {
      const all = await this.#queries.checkpoints(on);
      return which === 'all' ? all : all.filter((one) => !passed.ofCheckpoint(one));
    }, []);
  }

  async entryTime(): Promise<Date> {
    const last = await this.#ask((on) => this.#queries.last(on, -1, NO_LEAF), undefined);
    const now = this.#now();
    this.#checkClock?.(now, last);
    return new Date(monotonicTime(last?.at, now));
  }

  async closing(edition: string): Promise<FoundClosing | undefined> {
    return this.#read((reading) => this.#planner.closing(reading, edition), undefined);
  }

  async closings(): Promise<readonly RawEvent[]> {
    return this.#ask((on) => this.#queries.closings(on), []);
  }

  async losses(): Promise<readonly Loss[]> {
    return this.#read((reading) => this.#queries.losses(reading), []);
  }

  async resumptions(): Promise<Resumptions> {
    return this.#read(async ({ passed }) => passed, NO_RESUMPTIONS);
  }

  async resume(request: ResumeRequest): Promise<ResumeResult> {
    return this.#write(false, (writing) => this.#resume(writing, request));
  }

  async checkResume(request: ResumeRequest): Promise<ResumeResult> {
    const now = this.#now();
    const checked = await this.#read(async (reading) => {
      const plan = await this.#planner.plan(reading, request, now);
      return resumeResult(plan, await this.#queries.size(reading.on), now.toISOString());
    }, undefined);
    if (!checked) throw refuse('register.no-such-entry', this.#database.name, {});
    return checked;
  }

  async faults(signal?: AbortSignal) {
    this.#mustBeOpen();
    return this.#database.faults(signal);
  }

  async addCheckpoint(checkpoint: StoredCheckpoint): Promise<void> {
    // Adding the same one again does nothing.
    return this.#write(true, (writing) => this.#addCheckpoint(writing, checkpoint));
  }

  async restore(
    events: AsyncIterable<RawEvent>,
    checkpoints: readonly StoredCheckpoint[],
    resumptions = NO_RESUMPTIONS,
  ): Promise<void> {
    return this.#writeOnce((writing) => this.#restore(writing, events, checkpoints, resumptions));
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
    const { on, passed } = writing;
    const { edition, series, parts, by, why, key, terms } = order;
    if (key !== undefined) {
      const earlier = await this.#queries.ofKey(writing, key);
      if (earlier.length > 0)
        return repeatedIssue(
          order,
          key,
          earlier.map(({ event }) => event),
        );
    }
    if (await this.#queries.isClosed(writing, edition)) {
      throw refuse('register.closed-to-issue', `edition ${edition}`, {});
    }
    const end = await this.#endOnTerms(writing, edition, terms, by);
    const available = await this.#availability(writing, edition, series);
    const news = await this.#queries.availability(on, edition, series, available.readUpTo);
    available.add(news, passed);
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
    for (const event of events)
      if (event.type === 'released')
        checkOccurrence(event, await this.#queries.ofLabel(writing, edition, event.label));
    await this.#append(
      writing,
      end.seq,
      events.map((event, i) => ({ ...event, ...(key !== undefined && { key, nth: i + 1 }) })),
    );
    return free;
  }

  /** Events of one edition. */
  async #record(
    writing: Writing,
    events: readonly NumberEvent[],
    terms: NamedTerms | undefined,
  ): Promise<NumberStatus[]> {
    if (events.length === 0) return [];
    const repeated = await this.#repeatedRecord(writing, events);
    if (repeated) return repeated;
    const statuses: NumberStatus[] = [];
    await this.#recordSome(writing, inChunks(events, ENTERED_AT_ONCE), terms, (of) => statuses.push(...of));
    return statuses;
  }

  /** Events of one edition, some at a time, each held against what the ones before it lead to. */
  async #recordSome(
    writing: Writing,
    chunks: Iterable<readonly NumberEvent[]>,
    terms: NamedTerms | undefined,
    tell: (statuses: readonly NumberStatus[]) => void,
  ): Promise<void> {
    let edition: string | undefined;
    let end: End | undefined;
    let asked = 0;
    let refused = 0;
    const problems: Problem[] = [];
    for (const events of chunks) {
      const same = editionOfAll(events);
      edition ??= same;
      if (same !== edition) throw new TypeError('events that are entered together are of one edition');
      end ??= await this.#endOnTerms(writing, edition, terms, events[0]!.by);
      const { at, seq } = end;
      writing.on.expect(events.map((event) => this.#queries.ofHistory(event)));
      const placed = events.map((event) => ({ ...event, at }));
      const applied = await applyEvents(this.#past(writing), placed, seq, terms);
      asked += events.length;
      refused += applied.refused;
      problems.push(...applied.problems);
      // Also after a refusal, which takes all back in the end: later events may follow on these.
      await this.#append(writing, seq, applied.allowed);
      end = { ...end, seq: seq + applied.allowed.length };
      tell(applied.statuses);
    }
    if (edition !== undefined && refused > 0) throw refusalOf(edition, problems, { refused, asked });
  }

  /** What `#record` would answer. `reading` is undefined where there is no register yet. */
  async #check(
    reading: Reading | undefined,
    events: readonly NumberEvent[],
    terms: NamedTerms | undefined,
  ): Promise<NumberStatus[]> {
    if (events.length === 0) return [];
    const edition = editionOfAll(events);
    if (reading && terms) await this.#terms.check(reading, edition, terms);
    const size = reading ? await this.#queries.size(reading.on) : 0;
    const { statuses, problems, refused } = await applyEvents(this.#past(reading), events, size, terms);
    if (refused > 0) throw refusalOf(edition, problems, { refused, asked: events.length });
    return [...statuses];
  }

  /** What `applyEvents` needs to know of what is entered; nothing is, where there is no register yet. */
  #past(reading: Reading | undefined): Past {
    if (!reading)
      return { isClosed: async () => false, historyOf: async () => [], checkKnown: async () => undefined };
    return {
      isClosed: (edition) => this.#queries.isClosed(reading, edition),
      historyOf: (edition, label) => this.#queries.ofLabel(reading, edition, label),
      checkKnown: (event) => this.#checkKnown(reading, event),
    };
  }

  /** The answer given to the same request before, whatever came after; undefined where it is new. */
  async #repeatedRecord(
    reading: Reading,
    events: readonly NumberEvent[],
  ): Promise<NumberStatus[] | undefined> {
    const [{ key, label }] = events as [NumberEvent];
    if (key === undefined) return undefined;
    const earlier = await this.#queries.ofKey(reading, key);
    if (earlier.length === 0) return undefined;
    const same =
      earlier.length === events.length && earlier.every((one, i) => sameRequest(one.event, events[i]!));
    if (!same) throw keyReused(`label ${label}`, key);
    const statuses: NumberStatus[] = [];
    for (const [i, event] of events.entries())
      statuses.push(statusOf((await this.#life(reading, event, earlier[i]!.seq))!));
    return statuses;
  }

  async #closeEdition(
    writing: Writing,
    event: EventOf<'closed'>,
    terms: NamedTerms | undefined,
    asOf: number | undefined,
  ): Promise<void> {
    if (await this.#sameRequest(writing, event, `edition ${event.edition}`)) return;
    if (await this.#queries.isClosed(writing, event.edition)) {
      throw new Refusal([closedBefore(event.edition)]);
    }
    if (asOf !== undefined && (await this.#queries.grewSince(writing.on, event.edition, asOf)))
      throw refuse('register.edition-moved-on', `edition ${event.edition}`, {});
    const { seq, at } = await this.#endOnTerms(writing, event.edition, terms, event.by);
    await this.#append(writing, seq, [{ ...event, at }]);
  }

  async #amend(writing: Writing, event: EventOf<'amended'>): Promise<readonly TermsDifference[]> {
    const { edition } = event;
    const earlier = await this.#sameRequest(writing, event, `edition ${edition}`);
    if (earlier) return differencesOf((await this.#terms.recorded(writing, edition, earlier.seq))!, event);
    const differences = await this.#terms.differences(writing, edition, event);
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
    const state = await this.#terms.check(writing, edition, terms);
    if (state !== 'to enter' && state !== 'to enter anew') return end;
    const opening = toOpeningEvent(edition, terms, by, end.at);
    await this.#append(writing, end.seq, [
      state === 'to enter' ? opening : { ...opening, type: 'amended', why: WHY_ANEW },
    ]);
    return { ...end, seq: end.seq + 1 };
  }

  async #importEvents(
    writing: Writing,
    events: readonly NumberEvent[],
    terms: NamedTerms | undefined,
    progress?: (done: number, of: number) => void,
  ): Promise<void> {
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
        if (!closed.has(edition)) closed.set(edition, await this.#queries.isClosed(writing, edition));
        const before = current.get(name) ?? (await this.#life(writing, event));
        const known = byNumber.get(`${edition}/${series}/${number}`);
        if (known && known.label !== label) throw numberMismatch(known, event);
        if (!before) await this.#checkKnown(writing, event);
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

  async #addCheckpoint({ on, passed }: Reading, checkpoint: StoredCheckpoint): Promise<void> {
    const note = await this.#queries.noteOfSize(on, checkpoint.size);
    if (note === checkpoint.note) return;
    if (note !== undefined) {
      // Each size has one place. Where one is passed over, none is kept; the next is of more events.
      const kept = (await this.#queries.checkpoints(on)).find(({ size }) => size === checkpoint.size);
      if (kept && passed.ofCheckpoint(kept)) return;
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
    resumptions: Resumptions,
  ): Promise<void> {
    if ((await this.#queries.size(writing.on)) > 0) {
      throw refuse('register.not-empty', this.#database.name, {});
    }
    await this.#enterFrom(writing, 0, validateEvents(events, resumptions), resumptions);
    for (const checkpoint of checkpoints) await this.#addCheckpoint(writing, checkpoint);
  }

  async #recover(writing: Writing, request: RecoverRequest): Promise<void> {
    const { asOf, next, checkpoints, editions, by, why, resumptions = NO_RESUMPTIONS } = request;
    const { on } = writing;
    if ((await this.#queries.size(on)) !== asOf)
      throw refuse('register.grew-meanwhile', this.#database.name, {});
    const events = validateEvents(this.#followedBy(on, asOf, next), resumptions);
    await this.#enterFrom(writing, asOf, events, resumptions);
    for (const checkpoint of checkpoints) await this.#addCheckpoint(writing, checkpoint);
    for (const { edition, terms, events } of editions) {
      const recorded = terms && (await this.#terms.recorded(writing, edition));
      if (
        recorded &&
        !(await this.#queries.isClosed(writing, edition)) &&
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
  async #sameRequest(
    reading: Reading,
    event: RegisterEvent,
    where: string,
  ): Promise<StoredEvent | undefined> {
    if (event.key === undefined) return undefined;
    const [earlier, ...more] = await this.#queries.ofKey(reading, event.key);
    if (earlier && (more.length > 0 || !sameRequest(earlier.event, event))) throw keyReused(where, event.key);
    return earlier;
  }

  async #life(
    reading: Reading,
    { edition, label }: NumberEvent,
    upTo = Number.POSITIVE_INFINITY,
  ): Promise<Life | undefined> {
    const events = (await this.#queries.ofLabel(reading, edition, label)).filter(({ seq }) => seq <= upTo);
    return replayLives(events)[0];
  }

  async #checkKnown(reading: Reading, event: NumberEvent): Promise<void> {
    const known = await this.#queries.known(reading, event.edition, event);
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
    const last = await this.#last(writing);
    const now = this.#now();
    this.#checkClock?.(now, last);
    const end = (last?.seq ?? -1) + 1;
    return { seq: end, committed: end, at: monotonicTime(last?.at, now) };
  }

  async #last(writing: Writing): Promise<LastEvent | undefined> {
    const { seq: seen, leaf } = this.#lastSeen();
    const last = await this.#queries.last(writing.on, seen, leaf);
    // A count may come as a text.
    if (this.#seen.leaf && Number(last?.seen ?? 0) !== 1)
      throw refuse('register.rolled-back', this.#database.name, { seq: seen });
    return last;
  }

  /** Times begin anew where the last one is ahead of the clock. */
  async #resume(writing: Writing, request: ResumeRequest): Promise<ResumeResult> {
    const last = await this.#last(writing);
    const now = this.#now();
    const believed = await this.#planner.lastBelieved(writing, last, now);
    this.#checkClock?.(now, believed);
    const plan = await this.#planner.plan(writing, request, now);
    const at = monotonicTime(believed?.at, now);
    const seq = (last?.seq ?? -1) + 1;
    const events = [plan.resumed, ...plan.claimed].map((event) => ({ ...event, at }));
    await this.#append(writing, seq, events);
    return resumeResult(plan, seq, at);
  }

  /** Adds events from a place in the sequence on, each with a salt of its own. */
  async #append(writing: Writing, seq: number, events: readonly RegisterEvent[]): Promise<void> {
    const salts = this.#salt?.(SALT_BYTES * events.length);
    const raw = events.map((event, i) => {
      const salt = salts && saltText(salts.subarray(SALT_BYTES * i, SALT_BYTES * (i + 1)));
      return { seq: seq + i, ...writeEvent(salt === undefined ? event : { salt, ...event }) };
    });
    await this.#enter(writing, raw);
  }

  /**
   * Enters events from a place in the sequence on, a batch at a time; those before it are there already. What is gone
   * past, and what the times of such an entry held, the tables would refuse: their rules are put aside for it.
   */
  async #enterFrom(
    writing: Writing,
    from: number,
    events: AsyncIterable<ValidatedEvent>,
    resumptions: Resumptions,
  ): Promise<void> {
    let batch: ValidatedEvent[] = [];
    const put = async () => {
      const [first] = batch;
      const enter = () => this.#enter(writing, batch);
      await (first?.exempt ? writing.on.withoutRules(enter) : enter());
      batch = [];
    };
    const now = this.#now();
    for await (const event of events) {
      if (event.seq < from) continue;
      const exempt = event.exempt || (isAhead(event.at, now) && resumptions.isBefore(event.seq));
      if (batch.length === ENTERED_AT_ONCE || (batch[0] && batch[0].exempt !== exempt)) await put();
      batch.push({ ...event, exempt });
    }
    await put();
  }

  /** Inserts rows, which are read back in the same transaction: what is acknowledged must be there. */
  async #enter(writing: Writing, events: readonly RawEvent[]): Promise<void> {
    await this.#queries.enterEvents(writing.on, events);
    if (events.length > 0) writing.seen = events.at(-1)!;
  }

  async #availability({ on, passed }: Reading, edition: string, series: string): Promise<SeriesAvailability> {
    const resumed = passed.all.length;
    let known = this.#series.get(on);
    if (known?.resumed !== resumed) {
      known = { resumed, series: new Map() };
      this.#series.set(on, known);
    }
    const name = nameOf(edition, series);
    const found = known.series.get(name);
    if (found) return found;
    const available = new SeriesAvailability(await this.#labelsTaken({ on, passed }, edition));
    known.series.set(name, available);
    return available;
  }

  /** Labels that passed-over entries call issued: the tables take none of them a second time. */
  async #labelsTaken({ on, passed }: Reading, edition: string): Promise<ReadonlyMap<string, number>> {
    const labels = new Map<string, number>();
    for (const { event } of passed.all) {
      if (event.corrects === undefined || !passed.passes(event.corrects)) continue;
      const raw = await this.#queries.entryAt(on, event.corrects);
      const { type, edition: own, label } = readableMembers(raw?.body ?? '');
      if (type === 'issued' && own === edition && label !== undefined) labels.set(label, event.corrects);
    }
    return labels;
  }

  /** Asks what hangs on no event being passed over. */
  #ask<T>(work: (on: Connection) => Promise<T>, none: T): Promise<T> {
    this.#mustBeOpen();
    return this.#database.read(work, none);
  }

  #read<T>(work: (reading: Reading) => Promise<T>, none: T): Promise<T> {
    return this.#ask(async (on) => work({ on, passed: await this.#planner.counting(on) }), none);
  }

  /** What is asked for an event of an edition, whatever the answers. */
  #questionsOfEntry(
    on: Connection,
    edition: string,
    key: string | undefined,
    named: NamedTerms | undefined,
  ): BoundQuery[] {
    const { seq, leaf } = this.#lastSeen();
    const terms = named !== undefined;
    const names = terms && this.#terms.asksNames(on, edition);
    return this.#queries.ofEntry({ edition, key, seen: seq, leaf, terms, names });
  }

  #questionsOfIssue(on: Connection, { edition, series, key, terms }: IssueOrder): BoundQuery[] {
    const since = this.#series.get(on)?.series.get(nameOf(edition, series))?.readUpTo ?? 0;
    return [
      ...this.#questionsOfEntry(on, edition, key, terms),
      this.#queries.ofAvailability(edition, series, since),
    ];
  }

  #lastSeen(): { seq: number; leaf: Buffer } {
    const { seq, leaf = NO_LEAF } = this.#seen;
    return { seq, leaf };
  }

  /**
   * The one way to an entry. `questions` are those that the work asks in any case. Where the answer to a commit is lost,
   * the next try first looks whether the last event of this one is there: by its salt it is like no other.
   */
  async #write<T>(
    repeatable: boolean,
    work: (writing: Writing) => Promise<T>,
    questions?: (on: Connection) => readonly BoundQuery[],
  ): Promise<T> {
    this.#mustBeOpen();
    let tried: { readonly result: T; readonly writing: Writing; readonly before: number } | undefined;
    const { result, writing } = await this.#database.write(
      async (on) => {
        if (tried && (await this.#isThere(on, tried.writing.seen))) return tried;
        tried = undefined;
        if (questions) on.expect(questions(on));
        const writing: Writing = { on, passed: await this.#planner.counting(on), seen: this.#seen };
        const before = writing.seen.seq;
        tried = { result: await work(writing), writing, before };
        return tried;
      },
      { repeatable, findsAgain: () => tried !== undefined && tried.writing.seen.seq > tried.before },
    );
    // Committed: from now on a register without it has gone back.
    if (writing.seen.seq <= this.#seen.seq) return result;
    const { seq, leaf } = writing.seen;
    this.#seen = writing.seen;
    if (leaf) await this.#entered?.({ seq, leaf });
    return result;
  }

  async #isThere(on: Connection, { seq, leaf }: LastSeen): Promise<boolean> {
    const there = await this.#queries.leafAt(on, seq);
    return leaf !== undefined && there?.equals(leaf) === true;
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

const nameOf = (edition: string, series: string): string => `${edition}/${series}`;

const resumeResult = (
  { resumed, reason, claimed }: ResumptionPlan,
  seq: number,
  at: string,
): ResumeResult => ({
  ...{ seq, at, fault: resumed.fault },
  ...(reason && { reason }),
  withheld: claimed.map(({ edition, series, number, label }) => ({ edition, series, number, label })),
});
