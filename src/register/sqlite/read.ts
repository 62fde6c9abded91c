import type Database from 'better-sqlite3';
import type { Numbered } from '../../edition/labels.js';
import { fromLeaf } from '../event.js';
import type { RawEvent, StoredCheckpoint, StoredEvent } from '../register.js';

export interface Read {
  ofEdition(edition: string): StoredEvent[];
  ofLabel(edition: string, label: string): StoredEvent[];
  /** The events of one request. */
  ofKey(key: string): StoredEvent[];
  /** The number as the register knows it already, by its label or by itself. */
  known(edition: string, asked: Numbered): Numbered | undefined;
  isClosed(edition: string): boolean;
  size(): number;
  /** Some events from a place on, not yet believed. */
  batch(from: number): RawEvent[];
  checkpoints(): StoredCheckpoint[];
}

const BATCH = 500;
const HASH_BYTES = 32;

interface CheckpointRow {
  readonly size: number;
  readonly note: string;
  readonly frontier: Buffer;
}

export function prepareRead(db: Database.Database): Read {
  // In two halves, each of which has its index; together they are every event of the edition.
  const halves = (columns: string, which: string) => `
    SELECT ${columns} FROM event WHERE type = 'issued' AND ${which}
    UNION ALL
    SELECT ${columns} FROM event WHERE type <> 'issued' AND ${which}`;
  const select = (which: string) => `${halves('seq, body, leaf', which)} ORDER BY seq`;
  const ofEdition = db.prepare<{ edition: string }, RawEvent>(select('edition = $edition'));
  const ofLabel = db.prepare<{ edition: string; label: string }, RawEvent>(
    select('edition = $edition AND label = $label'),
  );
  const ofKey = db.prepare<[key: string], RawEvent>(
    'SELECT seq, body, leaf FROM event WHERE key IS NOT NULL AND key = ? ORDER BY nth',
  );
  const sameLabel = db.prepare<{ edition: string; label: string }, Numbered>(
    `${halves('series, number, label', 'edition = $edition AND label = $label')} LIMIT 1`,
  );
  const sameNumber = db.prepare<{ edition: string; series: string; number: number }, Numbered>(
    `${halves('series, number, label', 'edition = $edition AND series = $series AND number = $number')} LIMIT 1`,
  );
  const closed = db
    .prepare<[edition: string], number>("SELECT 1 FROM event WHERE type = 'closed' AND edition = ?")
    .pluck();
  const size = db.prepare<[], number>('SELECT coalesce(max(seq), -1) + 1 FROM event').pluck();
  const batch = db.prepare<[from: number, count: number], RawEvent>(
    'SELECT seq, body, leaf FROM event WHERE seq >= ? ORDER BY seq LIMIT ?',
  );
  const checkpoints = db.prepare<[], CheckpointRow>(
    'SELECT size, note, frontier FROM checkpoint ORDER BY size',
  );
  const believed = (rows: RawEvent[]): StoredEvent[] =>
    rows.map(asTold).map((row) => ({ ...row, event: fromLeaf(row.seq, row) }));
  return {
    ofEdition: (edition) => believed(ofEdition.all({ edition })),
    ofLabel: (edition, label) => believed(ofLabel.all({ edition, label })),
    ofKey: (key) => believed(ofKey.all(key)),
    known: (edition, { series, number, label }) =>
      sameLabel.get({ edition, label }) ?? sameNumber.get({ edition, series, number }),
    isClosed: (edition) => closed.get(edition) !== undefined,
    size: () => size.get()!,
    batch: (from) => batch.all(from, BATCH).map(asTold),
    checkpoints: () =>
      checkpoints.all().map(({ size, note, frontier }) => ({
        size,
        note: typeof note === 'string' ? note : '',
        frontier: Buffer.isBuffer(frontier) ? cutUp(frontier) : [],
      })),
  };
}

/**
 * In a damaged file a value may be of another kind than its column. It is then read as one that no event has, so that
 * whoever looks at hashes finds it, as any other damage.
 */
function asTold(row: RawEvent): RawEvent {
  const { seq, body, leaf } = row;
  if (typeof body === 'string' && Buffer.isBuffer(leaf) && leaf.length === HASH_BYTES) return row;
  return {
    seq,
    body: typeof body === 'string' ? body : '',
    leaf: Buffer.isBuffer(leaf) && leaf.length === HASH_BYTES ? leaf : Buffer.alloc(HASH_BYTES),
  };
}

const cutUp = (frontier: Buffer): Buffer[] =>
  Array.from({ length: frontier.length / HASH_BYTES }, (_, i) =>
    frontier.subarray(i * HASH_BYTES, (i + 1) * HASH_BYTES),
  );
