import type BetterSqlite3 from 'better-sqlite3';
import { DummyDriver, Kysely, SqliteAdapter, SqliteIntrospector, SqliteQueryCompiler, sql } from 'kysely';
import { type Problem, Refusal } from '../../problem.js';
import type { BoundQuery, Connection, Database, Entry, Tables } from '../database.js';
import { refuse } from '../messages.js';
import { Queue } from '../queue.js';
import { type Access, RETRY_FOR_MS, type RegisterDeps } from '../register.js';
import { backUp } from './backup.js';
import { checkSameFile, type OpenFile, openFile, openFileForReading, registerExists } from './connect.js';
import { faultsOfFile } from './faults.js';
import { prepareMovedCheck } from './migrate-store.js';
import { retryWhileBusy } from './retry.js';
import { CREATE_RULES, DROP_RULES } from './rules.js';

interface Opened {
  readonly open: OpenFile;
  readonly connection: Connection;
  readonly begin: BetterSqlite3.Statement;
  readonly commit: BetterSqlite3.Statement;
  readonly rollback: BetterSqlite3.Statement;
  /** Throws where the file is another one now, or was moved away; gives where to, where it is read all the same. */
  check(): Problem | undefined;
}

/** A register in one SQLite file, opened at the first use and made at the first entry. */
export class SqliteDatabase implements Database {
  readonly name: string;
  readonly capabilities = { backup: true };
  readonly compiler = new Kysely<Tables>({
    dialect: {
      createAdapter: () => new SqliteAdapter(),
      createDriver: () => new DummyDriver(),
      createIntrospector: (db) => new SqliteIntrospector(db),
      createQueryCompiler: () => new SqliteQueryCompiler(),
    },
  });
  readonly leafHex = sql<string | null>`CASE typeof(leaf) WHEN 'blob' THEN lower(hex(leaf)) END`;
  readonly #now: () => Date;
  readonly #retryForMs: number;
  /** There is one connection: what is read must not be what is about to be written. */
  readonly #queue = new Queue();
  #opened: Opened | undefined;
  #closed = false;

  readonly #access: Access;
  readonly #warn: RegisterDeps['warn'];
  #warned = false;

  constructor(
    file: string,
    { now, warn, retryForMs = RETRY_FOR_MS }: RegisterDeps,
    access: Access = 'write',
  ) {
    this.name = file;
    this.#warn = warn;
    this.#access = access;
    this.#now = now;
    this.#retryForMs = retryForMs;
  }

  read<T>(work: (connection: Connection) => Promise<T>, none: T): Promise<T> {
    return this.#inTurn(async () => {
      if (!this.#opened && !registerExists(this.name)) return none;
      const { open, check, connection } = this.#open();
      const moved = check();
      if (moved && !this.#warned) await this.#warn?.(moved);
      this.#warned ||= moved !== undefined;
      return open.form === 0 ? none : work(connection);
    });
  }

  write<T>(work: (connection: Connection) => Promise<T>): Promise<T> {
    if (this.#access !== 'write') throw new TypeError('the register was opened for reading');
    return this.#inTurn(async () => {
      if (!this.#opened) registerExists(this.name);
      const { open, check, begin, commit, rollback, connection } = this.#open();
      begin.run();
      try {
        check();
        const result = await work(connection);
        commit.run();
        return result;
      } finally {
        if (open.db.inTransaction) rollback.run();
      }
    });
  }

  faults(signal?: AbortSignal): Promise<readonly Problem[]> {
    return this.#inTurn(async () => {
      if (!this.#opened && !registerExists(this.name)) return [];
      const { open, check } = this.#open();
      const moved = check();
      const faults = open.form === 0 ? [] : await faultsOfFile(open.db, this.name, open.form, signal);
      return moved ? [moved, ...faults] : faults;
    });
  }

  async backup(file: string): Promise<void> {
    const open = await this.#inTurn(async () => {
      if (!this.#opened && !registerExists(this.name))
        throw refuse('register.nothing-to-copy', this.name, {});
      const { open, check } = this.#open();
      check();
      return open;
    });
    await backUp(open.db, file);
  }

  async close(): Promise<void> {
    this.#closed = true;
    await this.#queue.run(async () => {
      this.#opened?.open.close();
      this.#opened = undefined;
    });
  }

  /** A try at a time; between tries others have their turn. */
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = () => {
      if (this.#closed) throw refuse('register.store-closed', this.name, {});
      return work();
    };
    return retryWhileBusy(() => this.#queue.run(async () => turn()), this.name, this.#retryForMs);
  }

  #open(): Opened {
    if (this.#opened) return this.#opened;
    const open = this.#access === 'write' ? openFile(this.name, this.#now) : openFileForReading(this.name);
    const { db } = open;
    const moved = prepareMovedCheck(db, this.name);
    this.#opened = {
      open,
      connection: new SqliteConnection(db, this.name),
      begin: db.prepare('BEGIN IMMEDIATE'),
      commit: db.prepare('COMMIT'),
      rollback: db.prepare('ROLLBACK'),
      check: () => {
        checkSameFile(open, this.name);
        const found = moved();
        if (found && this.#access !== 'read whole') throw new Refusal([found]);
        return found;
      },
    };
    return this.#opened;
  }
}

/** Runs compiled queries; each statement is prepared once. */
class SqliteConnection implements Connection {
  readonly #db: BetterSqlite3.Database;
  readonly #name: string;
  readonly #statements = new Map<string, BetterSqlite3.Statement<unknown[]>>();

  constructor(db: BetterSqlite3.Database, name: string) {
    this.#db = db;
    this.#name = name;
  }

  async run<R>({ query: { sql }, parameters }: BoundQuery<R>): Promise<R[]> {
    let statement = this.#statements.get(sql);
    if (!statement) {
      statement = this.#db.prepare<unknown[]>(sql);
      this.#statements.set(sql, statement);
    }
    if (statement.reader) return statement.all(...parameters) as R[];
    statement.run(...parameters);
    return [];
  }

  /** There is nobody to wait for. */
  expect(): void {}

  async enter(entries: readonly Entry[]): Promise<void> {
    for (const { insert, count, rows } of entries) {
      await this.run(insert);
      const [counted] = await this.run(count);
      if (counted?.rows !== rows) throw refuse('register.not-entered', this.#name, {});
    }
  }

  async withoutRules<T>(work: () => Promise<T>): Promise<T> {
    this.#db.exec(DROP_RULES);
    this.#db.pragma('ignore_check_constraints = ON');
    let result: T;
    try {
      result = await work();
    } finally {
      this.#db.pragma('ignore_check_constraints = OFF');
    }
    // After an error the transaction takes back that they are gone.
    this.#db.exec(CREATE_RULES);
    return result;
  }
}
