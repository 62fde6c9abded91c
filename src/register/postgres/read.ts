import type pg from 'pg';
import type { Numbered } from '../../edition/labels.js';
import { fromLeaf } from '../event.js';
import type { RawEvent, StoredCheckpoint, StoredEvent } from '../register.js';

export interface Read {
  ofEdition(edition: string): Promise<StoredEvent[]>;
  ofLabel(edition: string, label: string): Promise<StoredEvent[]>;
  /** The events of one request. */
  ofKey(key: string): Promise<StoredEvent[]>;
  /** The number as the register knows it already, by its label or by itself. */
  known(edition: string, asked: Numbered): Promise<Numbered | undefined>;
  isClosed(edition: string): Promise<boolean>;
  size(): Promise<number>;
  /** Some events from a place on, not yet believed. */
  batch(from: number): Promise<RawEvent[]>;
  checkpoints(): Promise<StoredCheckpoint[]>;
}

const BATCH = 500;
const HASH_BYTES = 32;

interface CheckpointRow {
  readonly size: number;
  readonly note: string;
  readonly frontier: Buffer;
}

const OF_EDITION = 'SELECT seq, body, leaf FROM burin.event WHERE edition = $1 ORDER BY seq';
const OF_LABEL = 'SELECT seq, body, leaf FROM burin.event WHERE edition = $1 AND label = $2 ORDER BY seq';
const OF_KEY = 'SELECT seq, body, leaf FROM burin.event WHERE key IS NOT NULL AND key = $1 ORDER BY nth';
const SAME_LABEL = `
  SELECT series, number, label FROM burin.event WHERE edition = $1 AND label = $2 LIMIT 1`;
const SAME_NUMBER = `
  SELECT series, number, label FROM burin.event WHERE edition = $1 AND series = $2 AND number = $3 LIMIT 1`;
const CLOSED = "SELECT 1 FROM burin.event WHERE type = 'closed' AND edition = $1";
const SIZE = 'SELECT coalesce(max(seq), -1) + 1 AS size FROM burin.event';
const FROM = 'SELECT seq, body, leaf FROM burin.event WHERE seq >= $1 ORDER BY seq LIMIT $2';
const CHECKPOINTS = 'SELECT size, note, frontier FROM burin.checkpoint ORDER BY size';

export function prepareRead(client: pg.ClientBase): Read {
  const rows = async <T extends object>(sql: string, ...values: (string | number)[]): Promise<T[]> =>
    (await client.query<T>(sql, values)).rows;
  const believed = async (sql: string, ...values: string[]): Promise<StoredEvent[]> =>
    (await rows<RawEvent>(sql, ...values)).map((row) => ({ ...row, event: fromLeaf(row.seq, row) }));
  return {
    ofEdition: (edition) => believed(OF_EDITION, edition),
    ofLabel: (edition, label) => believed(OF_LABEL, edition, label),
    ofKey: (key) => believed(OF_KEY, key),
    known: async (edition, { series, number, label }) =>
      (await rows<Numbered>(SAME_LABEL, edition, label))[0] ??
      (await rows<Numbered>(SAME_NUMBER, edition, series, number))[0],
    isClosed: async (edition) => (await rows(CLOSED, edition)).length > 0,
    size: async () => (await rows<{ size: number }>(SIZE))[0]!.size,
    batch: (from) => rows<RawEvent>(FROM, from, BATCH),
    checkpoints: async () =>
      (await rows<CheckpointRow>(CHECKPOINTS)).map((row) => ({ ...row, frontier: cutUp(row.frontier) })),
  };
}

const cutUp = (frontier: Buffer): Buffer[] =>
  Array.from({ length: frontier.length / HASH_BYTES }, (_, i) =>
    frontier.subarray(i * HASH_BYTES, (i + 1) * HASH_BYTES),
  );
