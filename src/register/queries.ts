import { type Compilable, type ExpressionBuilder, type Kysely, type SelectQueryBuilder, sql } from 'kysely';
import type { Numbered } from '../edition/labels.js';
import type { Refusal } from '../problem.js';
import type { BoundQuery, Connection, Database, Entry, Tables } from './database.js';
import type { AvailabilityEvent } from './free-numbers.js';
import { refuse } from './messages.js';
import { readVerified, readVerifiedHex } from './plain-events.js';
import { prepareQuery } from './prepared-query.js';
import type { Loss, RawEvent, StoredCheckpoint, StoredEvent, VerifiedEvent } from './register.js';
import { type FoundResumption, type Resumptions, readResumed } from './resumption/resumptions.js';
import type { KnownName } from './terms/hold.js';
import { AVAILABILITY_EVENTS } from './transitions.js';

/** The last event: where the next one goes, and the time it must not be before. */
export interface LastEvent {
  readonly seq: number;
  readonly at: string;
  /** How many events are as this program saw one: 1, or 0 when it is missing or another. */
  readonly seen: number;
}

type PlacedNumber = Numbered & { readonly seq: number };

/** What is known of an entry before the register is asked anything. */
export interface EntryQuestions {
  readonly edition: string;
  readonly key: string | undefined;
  /** The last event that this program saw. */
  readonly seen: number;
  readonly leaf: Buffer;
  /** Whether the terms of the edition are asked for. */
  readonly terms: boolean;
  /** Whether the names of all editions are. */
  readonly names: boolean;
}

/** A transaction that reads, and what the register goes past as of then. */
export interface Reading {
  readonly on: Connection;
  readonly passed: Resumptions;
}

/** Events read at once. */
const BATCH = 500;
/** Events read at once by their places, fewest first. */
const PLACE_COUNTS = [20, BATCH] as const;
/** Events that are likely to have come since the last look. */
const FEW = 20;
/** Rows inserted by one statement, largest first. */
const INSERT_SIZES = [100, 10, 1];
const HASH_BYTES = 32;
const NO_HASH = '00'.repeat(HASH_BYTES);
/** Written out, as all constants are: a partial index is used only where the statement itself names its condition. */
const TYPES = AVAILABILITY_EVENTS.map((type) => sql.lit(type));

/** A row with its hash as text; null where it is of another kind than its column. */
interface HashedRow {
  readonly seq: number;
  readonly body: string;
  readonly hash: string | null;
}

/** Every query of the register. They are the same for both stores. */
export type Queries = ReturnType<typeof prepareQueries>;

export function prepareQueries(db: Kysely<Tables>, leafHex: Database['leafHex']) {
  const ofEdition = prepareQuery<{ edition: string }, RawEvent>(db, (q, value) =>
    halves(q, ['seq', 'body', 'leaf'], (e) => e('edition', '=', value('edition'))).orderBy('seq'),
  );
  // Their places alone stand in the indexes; what they say is read some at a time.
  const placesOfEdition = prepareQuery<{ edition: string }, { seq: number }>(db, (q, value) =>
    halves(q, ['seq'], (e) => e('edition', '=', value('edition'))).orderBy('seq'),
  );
  const readPlaces = PLACE_COUNTS.map((count) => ({ count, rows: preparePlaces(db, leafHex, count) }));
  const ofLabel = prepareQuery<{ edition: string; label: string }, RawEvent>(db, (q, value) =>
    halves(q, ['seq', 'body', 'leaf'], (e) =>
      e.and([e('edition', '=', value('edition')), e('label', '=', value('label'))]),
    ).orderBy('seq'),
  );
  const ofKey = prepareQuery<{ key: string }, RawEvent>(db, (q, value) =>
    q
      .selectFrom('event')
      .select(['seq', 'body', 'leaf'])
      .where('key', 'is not', null)
      .where('key', '=', value('key'))
      .orderBy('nth'),
  );
  const sameLabel = prepareQuery<{ edition: string; label: string }, PlacedNumber>(db, (q, value) =>
    numbered(
      halves(q, ['seq', 'series', 'number', 'label'], (e) =>
        e.and([e('edition', '=', value('edition')), e('label', '=', value('label'))]),
      ),
    ),
  );
  const sameNumber = prepareQuery<{ edition: string; series: string; number: number }, PlacedNumber>(
    db,
    (q, value) =>
      numbered(
        halves(q, ['seq', 'series', 'number', 'label'], (e) =>
          e.and([
            e('edition', '=', value('edition')),
            e('series', '=', value('series')),
            e('number', '=', value('number')),
          ]),
        ),
      ),
  );
  const closed = prepareQuery<{ edition: string }, { seq: number }>(db, (q, value) =>
    q
      .selectFrom('event')
      .select('seq')
      .where('type', '=', sql.lit('closed'))
      .where('edition', '=', value('edition')),
  );
  // Sorted by what no index has: for their order alone SQLite would go through the whole table.
  const closings = prepareQuery<object, RawEvent>(db, (q) =>
    q
      .selectFrom('event')
      .select(['seq', 'body', 'leaf'])
      .where('type', '=', sql.lit('closed'))
      .orderBy(sql`seq + 0`),
  );
  const opened = prepareQuery<{ edition: string }, { seq: number }>(db, (q, value) =>
    q
      .selectFrom('event')
      .select('seq')
      .where('type', '=', sql.lit('opened'))
      .where('edition', '=', value('edition')),
  );
  // Few in any register, and with an index of their own.
  const termsEvents = prepareQuery<{ edition: string }, RawEvent>(db, (q, value) =>
    q
      .selectFrom('event')
      .select(['seq', 'body', 'leaf'])
      .where('terms', 'is not', null)
      .where('edition', '=', value('edition'))
      .orderBy('seq'),
  );
  const editionNames = prepareQuery<object, KnownName>(
    db,
    (q) =>
      q
        .selectFrom('event')
        .select(['seq', 'edition', 'name'])
        .where('terms', 'is not', null)
        .where('name', 'is not', null)
        .orderBy('edition')
        .orderBy('seq') as unknown as Compilable<KnownName>,
  );
  // Few in any register, none in most, and with an index of their own.
  const resumed = prepareQuery<object, RawEvent>(db, (q) =>
    q
      .selectFrom('event')
      .select(['seq', 'body', 'leaf'])
      .where('type', '=', sql.lit('resumed'))
      .orderBy('seq'),
  );
  const losses = prepareQuery<object, Loss>(
    db,
    (q) =>
      q
        .selectFrom('event')
        .select(['seq', 'missing'])
        .where('missing', 'is not', null)
        .orderBy('seq') as unknown as Compilable<Loss>,
  );
  const at = prepareQuery<{ seq: number }, RawEvent & { readonly edition: string; readonly at: string }>(
    db,
    (q, value) =>
      q.selectFrom('event').select(['seq', 'body', 'leaf', 'edition', 'at']).where('seq', '=', value('seq')),
  );
  const lastUpTo = prepareQuery<{ at: string }, { seq: number; at: string }>(db, (q, value) =>
    q
      .selectFrom('event')
      .select(['seq', 'at'])
      .where('at', '<=', value('at'))
      .orderBy('seq', 'desc')
      .limit(sql.lit(1)),
  );
  const editions = prepareQuery<object, { edition: string }>(db, (q) =>
    q
      .selectFrom('event')
      .select('edition')
      .where('type', '=', sql.lit('issued'))
      .union(q.selectFrom('event').select('edition').where('type', '<>', sql.lit('issued')))
      .orderBy('edition'),
  );
  const last = prepareQuery<{ seen: number; leaf: Buffer }, LastEvent>(
    db,
    (q, value) =>
      q
        .selectFrom('event')
        .select(['seq', 'at'])
        .select((e) =>
          e
            .selectFrom('event')
            .select(sql<number>`count(*)`.as('n'))
            .where('seq', '=', value('seen'))
            .where('leaf', '=', value('leaf'))
            .as('seen'),
        )
        .orderBy('seq', 'desc')
        .limit(sql.lit(1)) as unknown as Compilable<LastEvent>,
  );
  const lastSeq = prepareQuery<object, { seq: number }>(db, (q) =>
    q.selectFrom('event').select('seq').orderBy('seq', 'desc').limit(sql.lit(1)),
  );
  const from = prepareQuery<{ from: number }, RawEvent>(db, (q, value) =>
    q
      .selectFrom('event')
      .select(['seq', 'body', 'leaf'])
      .where('seq', '>=', value('from'))
      .orderBy('seq')
      .limit(sql.lit(BATCH)),
  );
  const leaf = prepareQuery<{ seq: number }, { leaf: unknown }>(db, (q, value) =>
    q.selectFrom('event').select('leaf').where('seq', '=', value('seq')),
  );
  const ofSeries = prepareQuery<{ edition: string; series: string }, AvailabilityEvent>(db, (q, value) =>
    availability(
      halves(q, ['seq', 'number', 'type', 'corrects'], (e) =>
        e.and([
          e('edition', '=', value('edition')),
          e('series', '=', value('series')),
          e('type', 'in', TYPES),
        ]),
      ).orderBy('seq'),
    ),
  );
  const seriesSince = (some: (query: SinceQuery) => SinceQuery) =>
    prepareQuery<{ edition: string; series: string; since: number }, AvailabilityEvent>(db, (q, value) =>
      availability(
        some(
          q
            .selectFrom('event')
            .select(['seq', 'number', 'type', 'corrects'])
            .where('seq', '>=', value('since'))
            .where('edition', '=', value('edition'))
            .where('series', '=', value('series'))
            .where('type', 'in', TYPES)
            .orderBy('seq'),
        ),
      ),
    );
  // Mostly there are none or few; a server that is told so keeps its plan, and makes no new one for each place.
  const nextOfSeries = seriesSince((query) => query.limit(sql.lit(FEW)));
  const restOfSeries = seriesSince((query) => query);
  const ofEditionSince = prepareQuery<{ edition: string; since: number }, { seq: number }>(db, (q, value) =>
    q
      .selectFrom('event')
      .select('seq')
      .where('seq', '>=', value('since'))
      .where('edition', '=', value('edition'))
      .limit(sql.lit(1)),
  );
  const checkpoints = prepareQuery<object, { size: number; note: unknown; frontier: unknown }>(db, (q) =>
    q.selectFrom('checkpoint').select(['size', 'note', 'frontier']).orderBy('size'),
  );
  const noteOfSize = prepareQuery<{ size: number }, { note: string }>(db, (q, value) =>
    q.selectFrom('checkpoint').select('note').where('size', '=', value('size')),
  );
  const insertCheckpoint = prepareQuery<Tables['checkpoint'], unknown>(db, (q, value) =>
    q
      .insertInto('checkpoint')
      .values({ size: value('size'), note: value('note'), frontier: value('frontier') }),
  );
  const leafAt = async (on: Connection, seq: number | undefined): Promise<Buffer | undefined> => {
    const [row] = seq === undefined ? [] : await leaf(on, { seq });
    if (!row || Buffer.isBuffer(row.leaf)) return row?.leaf as Buffer | undefined;
    return Buffer.alloc(HASH_BYTES);
  };
  const entries = INSERT_SIZES.map((size) => ({ size, entry: prepareEntry(db, size) }));
  const verified = async (
    rows: Promise<RawEvent[]>,
    { passed }: Pick<Reading, 'passed'>,
  ): Promise<StoredEvent[]> =>
    (await rows).flatMap((row) => {
      if (passed.passes(row.seq)) return [];
      const raw = toRawEvent(row);
      const { seq, body, leaf } = raw;
      return [{ seq, body, leaf, event: readVerified(seq, raw) }];
    });

  const availabilitySince = (edition: string, series: string, since: number) =>
    since === 0 ? ofSeries.with({ edition, series }) : nextOfSeries.with({ edition, series, since });

  /** The events at some places, at most `BATCH`, in order. Throws a Refusal (exit 3) where one is not there. */
  const ofPlaces = async ({ on, passed }: Reading, places: readonly number[]): Promise<VerifiedEvent[]> => {
    const { rows } = readPlaces.find(({ count }) => places.length <= count)!;
    const found = await rows(on, places);
    if (found.length < places.length) throw lostBetween(places, found);
    const events: VerifiedEvent[] = [];
    for (const { seq, body, hash } of found) {
      if (passed.passes(seq)) continue;
      const event = readVerifiedHex(seq, typeof body === 'string' ? body : '', hash ?? NO_HASH);
      events.push({ seq, event });
    }
    return events;
  };
  const placesOf = async (on: Connection, edition: string): Promise<number[]> =>
    (await placesOfEdition(on, { edition })).map(({ seq }) => seq);

  return {
    ofEdition: (reading: Reading, edition: string) => verified(ofEdition(reading.on, { edition }), reading),
    placesOf,
    ofPlaces,
    ofLabel: (reading: Reading, edition: string, label: string) =>
      verified(ofLabel(reading.on, { edition, label }), reading),
    /** The events of one request. Throws a Refusal (exit 3) for a key that a passed-over entry bears. */
    ofKey: async (reading: Reading, key: string): Promise<StoredEvent[]> => {
      const rows = await ofKey(reading.on, { key });
      const lost = rows.find(({ seq }) => reading.passed.passes(seq));
      if (lost) throw refuse('register.key-passed-over', `register event ${lost.seq}`, { key });
      return verified(Promise.resolve(rows), reading);
    },
    /** The number as the register knows it already, by its label or by itself; `before` a place in the sequence. */
    known: async (
      { on, passed }: Reading,
      edition: string,
      asked: Numbered,
      before = Number.POSITIVE_INFINITY,
    ): Promise<Numbered | undefined> => {
      const { series, number, label } = asked;
      const counts = ({ seq }: PlacedNumber) => seq < before && !passed.passes(seq);
      const one =
        (await sameLabel(on, { edition, label })).find(counts) ??
        (await sameNumber(on, { edition, series, number })).find(counts);
      return one && { series: one.series, number: one.number, label: one.label };
    },
    /** What says that the register goes past something, in order; whether it counts is not asked yet. */
    resumed: async (on: Connection): Promise<FoundResumption[]> => {
      const found: FoundResumption[] = [];
      for (const row of await resumed(on, {})) {
        const raw = toRawEvent(row);
        const event = readResumed(raw);
        if (event) found.push({ seq: raw.seq, event, named: await leafAt(on, event.corrects) });
      }
      return found;
    },
    losses: async ({ on, passed }: Reading): Promise<Loss[]> =>
      (await losses(on, {})).filter(({ seq }) => !passed.passes(seq)),
    /** One entry, not verified, with its edition and time as the database reads them. */
    entryAt: async (on: Connection, seq: number) => {
      const [row] = await at(on, { seq });
      return row && { ...toRawEvent(row), edition: row.edition, at: row.at };
    },
    /** The last event that is not after a moment. */
    lastUpTo: async (on: Connection, moment: string) => (await lastUpTo(on, { at: moment }))[0],
    /** The places of what closes an edition, passed over or not. */
    closedAt: async (on: Connection, edition: string) =>
      (await closed(on, { edition })).map(({ seq }) => seq),
    /** Whether one of them stands, or is passed over without the edition being open again. */
    isClosed: async ({ on, passed }: Reading, edition: string) =>
      (await closed(on, { edition })).some(({ seq }) => !passed.reopens(seq)),
    /** What closes editions, not verified, in sequence. */
    closings: async (on: Connection) => (await closings(on, {})).map(toRawEvent),
    /** Whether an entry says that an edition came into the register; it may be passed over. */
    isOpened: async (on: Connection, edition: string) => (await opened(on, { edition })).length > 0,
    /** What entered or changed the terms of an edition. */
    termsEvents: (reading: Reading, edition: string) =>
      verified(termsEvents(reading.on, { edition }), reading),
    /** Every name that an edition has or once had, `before` a place in the sequence. */
    editionNames: async ({ on, passed }: Reading, before = Number.POSITIVE_INFINITY) =>
      (await editionNames(on, {})).filter(({ seq }) => seq < before && !passed.passes(seq)),
    editions: async (on: Connection) => (await editions(on, {})).map(({ edition }) => edition),
    last: async (on: Connection, seen: number, leaf: Buffer): Promise<LastEvent | undefined> =>
      (await last(on, { seen, leaf }))[0],
    size: async (on: Connection) => ((await lastSeq(on, {}))[0]?.seq ?? -1) + 1,
    /** The hash of an event; that of none where it is not one. */
    leafAt,
    /** Some events from a place on, not verified. */
    batch: async (on: Connection, first: number) => (await from(on, { from: first })).map(toRawEvent),
    /** What makes numbers of a series free or not, from a place in the sequence on. */
    availability: async (on: Connection, edition: string, series: string, since: number) => {
      const some = await on.run(availabilitySince(edition, series, since));
      if (since === 0 || some.length < FEW) return some;
      return [...some, ...(await restOfSeries(on, { edition, series, since: Number(some.at(-1)!.seq) + 1 }))];
    },
    /** Whether an edition has an event from this place in the sequence on. */
    grewSince: async (on: Connection, edition: string, since: number) =>
      (await ofEditionSince(on, { edition, since })).length > 0,
    checkpoints: async (on: Connection) => (await checkpoints(on, {})).map(toCheckpoint),
    noteOfSize: async (on: Connection, size: number) => (await noteOfSize(on, { size }))[0]?.note,
    insertCheckpoint: async (on: Connection, { size, note, frontier }: StoredCheckpoint): Promise<void> => {
      await insertCheckpoint(on, { size, note, frontier: Buffer.concat([...frontier]) });
    },
    /** Inserts events, the last of the sequence; the transaction fails unless they, and no others, are there. */
    enterEvents: async (on: Connection, events: readonly RawEvent[]): Promise<void> => {
      const most = Math.max(...INSERT_SIZES);
      for (let from = 0; from < events.length; from += most) {
        const some = events.slice(from, from + most);
        const together: Entry[] = [];
        let at = 0;
        for (const { size, entry } of entries)
          for (; some.length - at >= size; at += size) together.push(entry(some.slice(at, at + size)));
        await on.enter(together);
      }
    },
    /** What every entry asks first. */
    ofEntry: ({ edition, key, seen, leaf, terms, names }: EntryQuestions): BoundQuery[] => [
      resumed.with({}),
      ...(key === undefined ? [] : [ofKey.with({ key })]),
      closed.with({ edition }),
      last.with({ seen, leaf }),
      ...(terms ? [termsEvents.with({ edition })] : []),
      ...(names ? [editionNames.with({})] : []),
    ],
    ofAvailability: availabilitySince,
    ofHistory: ({ edition, label }: { edition: string; label: string }): BoundQuery =>
      ofLabel.with({ edition, label }),
  };
}

/** The same places, as many at a time as are read at once. */
export function* inBatches(places: readonly number[]): Generator<readonly number[]> {
  for (let at = 0; at < places.length; at += BATCH) yield places.slice(at, at + BATCH);
}

/** Reads events by their places, in order; of fewer the last is asked for again. */
function preparePlaces(db: Kysely<Tables>, leafHex: Database['leafHex'], count: number) {
  const names = Array.from({ length: count }, (_, i) => `place${i}`);
  const rows = prepareQuery<Record<string, number>, HashedRow>(db, (q, value) =>
    q
      .selectFrom('event')
      .select(['seq', 'body', leafHex.as('hash')])
      .where('seq', 'in', names.map((name) => value(name)) as number[])
      .orderBy('seq'),
  );
  return (on: Connection, places: readonly number[]) =>
    rows(on, Object.fromEntries(names.map((name, i) => [name, places[i] ?? places.at(-1)!])));
}

/** An event that an index has and the table has not. */
function lostBetween(places: readonly number[], found: readonly HashedRow[]): Refusal {
  const there = new Set(found.map(({ seq }) => seq));
  const lost = places.find((place) => !there.has(place));
  return refuse('register.damaged-event', `register event ${lost ?? places[0]}`, { fault: 'hash' });
}

/**
 * Inserts this many events by one statement, and counts by another which rows are there as they were sent: a trigger may
 * swallow, change or add some. One more row than was sent takes one from the count.
 */
function prepareEntry(db: Kysely<Tables>, size: number) {
  const columns = (i: number, value: (name: string) => unknown) => ({
    seq: value(`seq${i}`) as number,
    body: value(`body${i}`) as string,
    leaf: value(`leaf${i}`) as Buffer,
  });
  const all = Array.from({ length: size }, (_, i) => i);
  const insert = prepareQuery<Record<string, unknown>, unknown>(db, (q, value) =>
    q.insertInto('event').values(all.map((i) => columns(i, value)) as never),
  );
  const count = prepareQuery<Record<string, unknown>, { readonly rows: number }>(
    db,
    (q, value) =>
      q
        .selectFrom(
          q
            .selectFrom('event')
            .select(['seq', 'body', 'leaf'])
            .where('seq', '>=', value('seq0') as number)
            .orderBy('seq')
            .limit(sql.lit(size + 1))
            .as('entered'),
        )
        .select((e) =>
          e.fn
            .coalesce(
              e.fn.sum<number>(
                e
                  .case()
                  .when(e.or(all.map((i) => e.and(columns(i, value)))))
                  .then(sql.lit(1))
                  .else(sql.lit(-1))
                  .end(),
              ),
              sql.lit(0),
            )
            .as('rows'),
        ) as unknown as Compilable<{ readonly rows: number }>,
  );
  return (events: readonly RawEvent[]): Entry => {
    const values = Object.fromEntries(
      events.flatMap(({ seq, body, leaf }, i) => [
        [`seq${i}`, seq],
        [`body${i}`, body],
        [`leaf${i}`, leaf],
      ]),
    );
    return { insert: insert.with(values), count: count.with(values), rows: size };
  };
}

/** Issues and all other events apart, each half with an index of its own; together every event that qualifies. */
function halves<C extends 'seq' | 'body' | 'leaf' | 'series' | 'number' | 'label' | 'type' | 'corrects'>(
  db: Kysely<Tables>,
  columns: readonly C[],
  which: (e: ExpressionBuilder<Tables, 'event'>) => ReturnType<ExpressionBuilder<Tables, 'event'>['and']>,
) {
  const half = (operator: '=' | '<>') =>
    db.selectFrom('event').select(columns).where('type', operator, sql.lit('issued')).where(which);
  return half('=').unionAll(half('<>'));
}

type Selected<R> = SelectQueryBuilder<Tables, 'event', R>;
type SinceQuery = Selected<{ seq: number; number: number | null; type: string; corrects: number | null }>;

/** An event of a number names it wholly, as the tables see to. */
const numbered = (
  query: Selected<{ seq: number; series: string | null; number: number | null; label: string | null }>,
) => query as unknown as Compilable<PlacedNumber>;

const availability = (query: SinceQuery) => query as unknown as Compilable<AvailabilityEvent>;

/**
 * In a damaged file a value may be of another kind than its column. It is then read as one that no event has, so that
 * whoever compares hashes finds it, as any other damage.
 */
function toRawEvent(row: RawEvent): RawEvent {
  const { seq, body, leaf } = row;
  const soundLeaf = Buffer.isBuffer(leaf) && leaf.length === HASH_BYTES;
  if (typeof body === 'string' && soundLeaf) return row;
  return {
    seq,
    body: typeof body === 'string' ? body : '',
    leaf: soundLeaf ? leaf : Buffer.alloc(HASH_BYTES),
  };
}

function toCheckpoint(row: { size: number; note: unknown; frontier: unknown }): StoredCheckpoint {
  const { size, note, frontier } = row;
  return {
    size,
    note: typeof note === 'string' ? note : '',
    frontier: Buffer.isBuffer(frontier)
      ? Array.from({ length: frontier.length / HASH_BYTES }, (_, i) =>
          frontier.subarray(i * HASH_BYTES, (i + 1) * HASH_BYTES),
        )
      : [],
  };
}
