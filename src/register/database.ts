import type { CompiledQuery, Kysely, RawBuilder } from 'kysely';
import type { Problem } from '../problem.js';
import type { Capabilities } from './register.js';

/** The tables of a register, as queries see them. Both stores have them; `seq`, `body` and `leaf` are what is entered. */
export interface Tables {
  readonly event: EventTable;
  readonly checkpoint: CheckpointTable;
}

export interface EventTable {
  readonly seq: number;
  readonly body: string;
  readonly leaf: Buffer;
  /** Computed from the text by the database. */
  readonly type: string;
  readonly edition: string;
  readonly series: string | null;
  readonly number: number | null;
  readonly corrects: number | null;
  readonly missing: number | null;
  readonly label: string | null;
  readonly at: string;
  readonly key: string | null;
  readonly nth: number | null;
  readonly name: string | null;
  /** JSON, only to be asked whether there is one. */
  readonly terms: string | null;
}

export interface CheckpointTable {
  readonly size: number;
  readonly note: string;
  readonly frontier: Buffer;
}

/** A compiled query and the values it is run with. */
export interface BoundQuery<R = unknown> {
  readonly query: CompiledQuery<R>;
  readonly parameters: readonly unknown[];
}

/** Rows that are inserted and counted after that: there have to be as many. */
export interface Entry {
  readonly insert: BoundQuery;
  readonly count: BoundQuery<{ readonly rows: number }>;
  readonly rows: number;
}

/** Runs compiled queries, one after another, over one connection. */
export interface Connection {
  run<R>(query: BoundQuery<R>): Promise<R[]>;
  /** Says what a writing transaction is about to run. A server is then asked all of it at once; it changes no answer. */
  expect(queries: readonly BoundQuery[]): void;
  /**
   * Inserts rows in a writing transaction, which fails with `register.not-entered` unless they are found. It may fail as late
   * as at its commit.
   */
  enter(entries: readonly Entry[]): Promise<void>;
  /** Does work of a writing transaction while the rules of the tables are taken away; only their owner may. */
  withoutRules<T>(work: () => Promise<T>): Promise<T>;
}

export interface WriteOptions {
  /** Whether doing it twice does no more than doing it once. */
  readonly repeatable: boolean;
  /** Whether the work, done again, first looks for what it has entered. After an answer was lost only such work is repeated. */
  readonly findsAgain?: () => boolean;
}

/**
 * What a store must bring: opening, locking, trying again, the words for its errors, and its own health. Everything else
 * is done once, over this, by `store.ts`.
 */
export interface Database {
  /** The register as messages name it: a file, or host and database. */
  readonly name: string;
  readonly capabilities: Capabilities;
  /** Compiles queries for this store; runs none. */
  readonly compiler: Kysely<Tables>;
  /** SQL for the column `leaf` as lower-case hexadecimal text; null where it holds no bytes. */
  readonly leafHex: RawBuilder<string | null>;
  /** Does the work with what is committed. Gives `none` where there is no register yet; reading makes none. */
  read<T>(work: (connection: Connection) => Promise<T>, none: T): Promise<T>;
  /**
   * Does the work as one transaction that nobody else writes in, and gives its result once all of it is on disk. The
   * register is made or brought forward first where needed. After an error nothing is left.
   */
  write<T>(work: (connection: Connection) => Promise<T>, options: WriteOptions): Promise<T>;
  /** What is wrong with tables, columns, constraints, indexes and triggers. Throws the reason of the signal once it comes. */
  faults(signal?: AbortSignal): Promise<readonly Problem[]>;
  /** Present where `capabilities.backup` says so. */
  backup?(file: string): Promise<void>;
  close(): Promise<void>;
}
