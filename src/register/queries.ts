import { type Compilable, type ExpressionBuilder, type Kysely, type SelectQueryBuilder, sql } from 'kysely';
import type { Numbered } from '../edition/labels.js';
import type { Connection, Tables } from './database.js';
import { fromLeaf, leafHash, type RegisterEvent } from './event.js';
import type { AvailabilityEvent } from './free-numbers.js';
import { parseEventFast } from './parse-event-fast.js';
import { prepareQuery } from './prepared-query.js';
import type { RawEvent, StoredCheckpoint, StoredEvent } from './register.js';
import type { KnownName } from './terms/hold.js';
import { AVAILABILITY_EVENTS } from './transitions.js';

/** The last event: where the next one goes, and the time it must not be before. */
export interface LastEvent {
  readonly seq: number;
  readonly at: string;
  /** How many events are as this program saw one: 1, or 0 when it is missing or another. */
  readonly seen: number;
}

/** Events read at once. */
const BATCH = 500;
/** Rows inserted by one statement, largest first. */
const INSERT_SIZES = [100, 10, 1];
const HASH_BYTES = 32;
/** Written out, as all constants are: a partial index is used only where the statement itself names its condition. */
const TYPES = AVAILABILITY_EVENTS.map((type) => sql.lit(type));

/** Every query of the register. They are the same for both stores. */
export type Queries = ReturnType<typeof prepareQueries>;

export function prepareQueries(db: Kysely<Tables>) {
  const ofEdition = prepareQuery<{ edition: string }, RawEvent>(db, (q, value) =>
    halves(q, ['seq', 'body', 'leaf'], (e) => e('edition', '=', value('edition'))).orderBy('seq'),
  );
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
  const sameLabel = prepareQuery<{ edition: string; label: string }, Numbered>(db, (q, value) =>
    numbered(
      halves(q, ['series', 'number', 'label'], (e) =>
        e.and([e('edition', '=', value('edition')), e('label', '=', value('label'))]),
      ).limit(sql.lit(1)),
    ),
  );
  const sameNumber = prepareQuery<{ edition: string; series: string; number: number }, Numbered>(
    db,
    (q, value) =>
      numbered(
        halves(q, ['series', 'number', 'label'], (e) =>
          e.and([
            e('edition', '=', value('edition')),
            e('series', '=', value('series')),
            e('number', '=', value('number')),
          ]),
        ).limit(sql.lit(1)),
      ),
  );
  const closed = prepareQuery<{ edition: string }, { seq: number }>(db, (q, value) =>
    q
      .selectFrom('event')
      .select('seq')
      .where('type', '=', sql.lit('closed'))
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
        .select(['edition', 'name'])
        .where('terms', 'is not', null)
        .orderBy('edition')
        .orderBy('seq') as unknown as Compilable<KnownName>,
  );
  const editions = prepareQuery<object, { edition: string }>(db, (q) =>
    q.selectFrom('event').select('edition').distinct().orderBy('edition'),
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
  const ofSeriesSince = prepareQuery<{ edition: string; series: string; since: number }, AvailabilityEvent>(
    db,
    (q, value) =>
      availability(
        q
          .selectFrom('event')
          .select(['seq', 'number', 'type', 'corrects'])
          .where('seq', '>=', value('since'))
          .where('edition', '=', value('edition'))
          .where('series', '=', value('series'))
          .where('type', 'in', TYPES)
          .orderBy('seq'),
      ),
  );
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
  const inserts = INSERT_SIZES.map((size) => ({ size, insert: prepareInsert(db, size) }));
  const verified = async (rows: Promise<RawEvent[]>): Promise<StoredEvent[]> =>
    (await rows).map((row) => {
      const raw = toRawEvent(row);
      return { ...raw, event: readVerified(raw) };
    });

  return {
    ofEdition: (on: Connection, edition: string) => verified(ofEdition(on, { edition })),
    ofLabel: (on: Connection, edition: string, label: string) => verified(ofLabel(on, { edition, label })),
    /** The events of one request. */
    ofKey: (on: Connection, key: string) => verified(ofKey(on, { key })),
    /** The number as the register knows it already, by its label or by itself. */
    known: async (on: Connection, edition: string, asked: Numbered): Promise<Numbered | undefined> => {
      const { series, number, label } = asked;
      const [byLabel] = await sameLabel(on, { edition, label });
      return byLabel ?? (await sameNumber(on, { edition, series, number }))[0];
    },
    isClosed: async (on: Connection, edition: string) => (await closed(on, { edition })).length > 0,
    /** What entered or changed the terms of an edition. */
    termsEvents: (on: Connection, edition: string) => verified(termsEvents(on, { edition })),
    /** Every name that an edition has or once had. */
    editionNames: (on: Connection) => editionNames(on, {}),
    editions: async (on: Connection) => (await editions(on, {})).map(({ edition }) => edition),
    last: async (on: Connection, seen: number, leaf: Buffer): Promise<LastEvent | undefined> =>
      (await last(on, { seen, leaf }))[0],
    size: async (on: Connection) => ((await lastSeq(on, {}))[0]?.seq ?? -1) + 1,
    /** The hash of an event; that of none where it is not one. */
    leafAt: async (on: Connection, seq: number): Promise<Buffer | undefined> => {
      const [row] = await leaf(on, { seq });
      if (!row || Buffer.isBuffer(row.leaf)) return row?.leaf as Buffer | undefined;
      return Buffer.alloc(HASH_BYTES);
    },
    /** Some events from a place on, not verified. */
    batch: async (on: Connection, first: number) => (await from(on, { from: first })).map(toRawEvent),
    /** What makes numbers of a series free or not, from a place in the sequence on. */
    availability: (on: Connection, edition: string, series: string, since: number) =>
      since === 0 ? ofSeries(on, { edition, series }) : ofSeriesSince(on, { edition, series, since }),
    /** Whether an edition has an event from this place in the sequence on. */
    grewSince: async (on: Connection, edition: string, since: number) =>
      (await ofEditionSince(on, { edition, since })).length > 0,
    checkpoints: async (on: Connection) => (await checkpoints(on, {})).map(toCheckpoint),
    noteOfSize: async (on: Connection, size: number) => (await noteOfSize(on, { size }))[0]?.note,
    insertCheckpoint: async (on: Connection, { size, note, frontier }: StoredCheckpoint): Promise<void> => {
      await insertCheckpoint(on, { size, note, frontier: Buffer.concat([...frontier]) });
    },
    insertEvents: async (on: Connection, events: readonly RawEvent[]): Promise<void> => {
      let at = 0;
      for (const { size, insert } of inserts) {
        for (; events.length - at >= size; at += size) await insert(on, events.slice(at, at + size));
      }
    },
  };
}

/** Inserts this many events by one statement. */
function prepareInsert(db: Kysely<Tables>, size: number) {
  const insert = prepareQuery<Record<string, unknown>, unknown>(db, (q, value) =>
    q.insertInto('event').values(
      Array.from({ length: size }, (_, i) => ({
        seq: value(`seq${i}`) as number,
        body: value(`body${i}`) as string,
        leaf: value(`leaf${i}`) as Buffer,
      })) as never,
    ),
  );
  return (on: Connection, events: readonly RawEvent[]) =>
    insert(
      on,
      Object.fromEntries(
        events.flatMap(({ seq, body, leaf }, i) => [
          [`seq${i}`, seq],
          [`body${i}`, body],
          [`leaf${i}`, leaf],
        ]),
      ),
    );
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

/** An event of a number names it wholly, as the tables see to. */
const numbered = (query: Selected<{ series: string | null; number: number | null; label: string | null }>) =>
  query as unknown as Compilable<Numbered>;

const availability = (
  query: Selected<{ seq: number; number: number | null; type: string; corrects: number | null }>,
) => query as unknown as Compilable<AvailabilityEvent>;

/**
 * The event of a row. Its hash is verified; of a text that is plain, and so canonical and of its form, nothing more is
 * asked (`parse-event-fast.ts`). Throws a Refusal (exit 3) where text, hash and form do not agree.
 */
function readVerified(raw: RawEvent): RegisterEvent {
  const { seq, body, leaf } = raw;
  if (parseEventFast(body) && leafHash(body).equals(leaf)) return JSON.parse(body) as RegisterEvent;
  return fromLeaf(seq, raw);
}

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
