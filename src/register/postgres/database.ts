import {
  DummyDriver,
  Kysely,
  PostgresAdapter,
  PostgresIntrospector,
  PostgresQueryCompiler,
  sql,
} from 'kysely';
import type pg from 'pg';
import { registerName } from '../../documents/check/register-url.js';
import { type Problem, Refusal } from '../../problem.js';
import type { BoundQuery, Connection, Database, Entry, Tables, WriteOptions } from '../database.js';
import { problem, refuse } from '../messages.js';
import { Queue } from '../queue.js';
import { type Access, RETRY_FOR_MS, type RegisterDeps } from '../register.js';
import { ConnectionError, codeOf, type RegisterClient } from './client.js';
import { checkForm, migrate, openPool, schemaExists } from './connect.js';
import { AnswerLost, NotEntered } from './errors.js';
import { Exchanges } from './exchange.js';
import { faultsOfSchema } from './faults.js';
import { retryWhileTransient } from './retry.js';
import { MAKE_ROLES, ROLES } from './roles.js';
import { CREATE_RULES, DROP_RULES, SCHEMA } from './rules.js';
import { withTls } from './tls.js';
import { type Ask, inPipeline, inTransaction, type Transaction } from './transaction.js';

const REPEATABLE: WriteOptions = { repeatable: true };

/** A register in one PostgreSQL database, reached at the first use and made at the first entry. */
export class PostgresDatabase implements Database {
  readonly name: string;
  readonly capabilities = { backup: false };
  readonly compiler = new Kysely<Tables>({
    dialect: {
      createAdapter: () => new PostgresAdapter(),
      createDriver: () => new DummyDriver(),
      createIntrospector: (db) => new PostgresIntrospector(db),
      createQueryCompiler: () => new PostgresQueryCompiler(),
    },
  }).withSchema(SCHEMA);
  readonly leafHex = sql<string | null>`encode(leaf, 'hex')`;
  readonly #pool: pg.Pool;
  readonly #now: () => Date;
  readonly #retryForMs: number;
  /** Connections over which a register of the present form was found. */
  readonly #ready = new WeakMap<pg.ClientBase, PostgresConnection>();
  /** Requests of this program write one after another, over one connection. */
  readonly #queue = new Queue();
  #reached = false;
  #closed = false;

  readonly #access: Access;
  /** How the connection is secured, where that is less than it should be. */
  readonly #weaker: string | undefined;
  readonly #warn: RegisterDeps['warn'];
  #warned = false;

  constructor(url: string, { now, warn, retryForMs = RETRY_FOR_MS }: RegisterDeps, access: Access = 'write') {
    this.#warn = warn;
    this.#access = access;
    this.name = registerName(url);
    const { url: secured, weaker } = withTls(url);
    this.#weaker = weaker;
    this.#pool = openPool(secured, retryForMs);
    this.#now = now;
    this.#retryForMs = retryForMs;
  }

  read<T>(work: (connection: Connection) => Promise<T>, none: T): Promise<T> {
    return this.#withConnection(REPEATABLE, async (client, leftMs) => {
      if (!this.#ready.has(client) && !(await schemaExists(client, this.name))) return none;
      return work(await this.#prepare(client, leftMs));
    });
  }

  write<T>(work: (connection: Connection) => Promise<T>, options: WriteOptions): Promise<T> {
    if (this.#access !== 'write') throw new TypeError('the register was opened for reading');
    return this.#queue.run(() =>
      this.#withConnection(options, async (client, leftMs) => {
        const connection = await this.#prepare(client, leftMs);
        return inPipeline(connection.ask, leftMs, (transaction) => connection.during(transaction, work));
      }),
    );
  }

  faults(signal?: AbortSignal): Promise<readonly Problem[]> {
    return this.#withConnection(REPEATABLE, async (client, leftMs) => {
      signal?.throwIfAborted();
      // The server gives the work up once nobody waits for it.
      const end = () => client.connection.stream.destroy();
      signal?.addEventListener('abort', end, { once: true });
      try {
        return await this.#faultsOver(client, leftMs);
      } catch (error) {
        signal?.throwIfAborted();
        throw error;
      } finally {
        signal?.removeEventListener('abort', end);
      }
    });
  }

  async #faultsOver(client: RegisterClient, leftMs: number): Promise<readonly Problem[]> {
    if (!this.#ready.has(client) && !(await schemaExists(client, this.name))) return [];
    await this.#prepare(client, leftMs);
    const faults = await faultsOfSchema(client, this.name, await checkForm(client, this.name));
    const weaker = this.#weakness();
    return weaker ? [weaker, ...faults] : faults;
  }

  /** Makes the roles of its users, and the register where there is none. Needs the rights of its owner, and to make roles. */
  makeRoles(): Promise<typeof ROLES> {
    return this.#withConnection(REPEATABLE, async (client, leftMs) => {
      await this.#prepare(client, leftMs);
      await inTransaction(client, leftMs, () => client.query(MAKE_ROLES));
      return ROLES;
    });
  }

  #weakness(): Problem | undefined {
    const mode = this.#weaker;
    return mode === undefined ? undefined : problem('register.connection-not-verified', this.name, { mode });
  }

  async close(): Promise<void> {
    this.#closed = true;
    await this.#pool.end();
  }

  async #prepare(client: RegisterClient, leftMs: number): Promise<PostgresConnection> {
    const ready = this.#ready.get(client);
    if (ready) return ready;
    const there = await schemaExists(client, this.name);
    if (this.#access !== 'write') await checkForm(client, this.name);
    else await migrate(client, this.name, there, leftMs, this.#now);
    const connection = new PostgresConnection(client);
    this.#ready.set(client, connection);
    return connection;
  }

  async #connect(): Promise<RegisterClient & pg.PoolClient> {
    try {
      return (await this.#pool.connect()) as RegisterClient & pg.PoolClient;
    } catch (error) {
      // Those of a connection have a code or a fault; what is left are the pool's own, when it has waited too long.
      throw codeOf(error) || error instanceof ConnectionError
        ? error
        : new ConnectionError('none-free', error);
    }
  }

  #withConnection<T>(
    options: WriteOptions,
    work: (client: RegisterClient, leftMs: number) => Promise<T>,
  ): Promise<T> {
    const overOne = async (leftMs: number): Promise<T> => {
      if (this.#closed) throw refuse('register.store-closed', this.name, {});
      const client = await this.#connect();
      this.#reached = true;
      const weaker = this.#warned ? undefined : this.#weakness();
      this.#warned = true;
      if (weaker) await this.#warn?.(weaker);
      try {
        const result = await work(client, leftMs);
        client.release();
        return result;
      } catch (error) {
        // After anything but a refusal, what the connection is in the middle of is not known.
        client.release(!(error instanceof Refusal));
        throw error instanceof AnswerLost ? error : client.withFault(error);
      }
    };
    return retryWhileTransient(overOne, {
      ...{ ...options, name: this.name, retryForMs: this.#retryForMs },
      reached: () => this.#reached,
    });
  }
}

/** An answer that was asked for before it was wanted. */
interface Expected {
  readonly parameters: readonly unknown[];
  readonly rows: Promise<unknown[]>;
}

/** Runs compiled queries over a connection. */
class PostgresConnection implements Connection {
  readonly ask: Ask;
  readonly #client: RegisterClient;
  #transaction: Transaction | undefined;
  /** By the text of the query. Of this transaction, and of what it has not written to since. */
  readonly #expected = new Map<string, Expected[]>();

  constructor(client: RegisterClient) {
    this.#client = client;
    const exchanges = new Exchanges(client);
    this.ask = (text, values) => exchanges.ask(text, values);
  }

  /** Does work within a transaction of this connection. */
  async during<T>(transaction: Transaction, work: (connection: Connection) => Promise<T>): Promise<T> {
    this.#transaction = transaction;
    try {
      return await work(this);
    } finally {
      this.#transaction = undefined;
      this.#expected.clear();
    }
  }

  async run<R>({ query: { sql, query }, parameters }: BoundQuery<R>): Promise<R[]> {
    const expected = this.#expected
      .get(sql)
      ?.find((one) => one.parameters.every((value, i) => isSame(value, parameters[i])));
    if (expected) return expected.rows as Promise<R[]>;
    const transaction = this.#transaction;
    if (!transaction) return (await this.ask<R>(sql, parameters)).rows;
    if (query.kind === 'SelectQueryNode') return (await transaction.send<R>(sql, parameters)).rows;
    this.#expected.clear();
    await transaction.write(() => [transaction.send(sql, parameters)]);
    await transaction.written();
    return [];
  }

  expect(queries: readonly BoundQuery[]): void {
    const transaction = this.#transaction;
    if (!transaction) return;
    for (const { query, parameters } of queries) {
      const { sql } = query;
      const rows = transaction.send(sql, parameters).then((answer) => answer.rows);
      // Whoever asks for it learns of the error.
      rows.catch(() => undefined);
      this.#expected.set(sql, [...(this.#expected.get(sql) ?? []), { parameters, rows }]);
    }
  }

  async enter(entries: readonly Entry[]): Promise<void> {
    const transaction = this.#transaction!;
    this.#expected.clear();
    await transaction.write(() =>
      entries.flatMap(({ insert, count, rows }) => [
        transaction.send(insert.query.sql, insert.parameters),
        transaction.send(unlessAsMany(count, rows), count.parameters, notEntered),
      ]),
    );
  }

  async withoutRules<T>(work: () => Promise<T>): Promise<T> {
    await this.#transaction!.written();
    await this.#client.query(DROP_RULES);
    const result = await work();
    await this.#transaction!.written();
    await this.#client.query(CREATE_RULES);
    return result;
  }
}

const isSame = (one: unknown, other: unknown): boolean =>
  Buffer.isBuffer(one) && Buffer.isBuffer(other) ? one.equals(other) : one === other;

/** A look that the server answers with an error unless it counts as many rows; after that it commits nothing. */
const unlessAsMany = ({ query }: BoundQuery, rows: number): string =>
  `SELECT 1 / CASE WHEN counted.rows = ${rows} THEN 1 ELSE 0 END AS entered FROM (${query.sql}) AS counted`;

/** PostgreSQL, appendix A: 22012 is a division by zero. */
const notEntered = (error: unknown): unknown => (codeOf(error) === '22012' ? new NotEntered(error) : error);
