import Database from 'better-sqlite3';
import { type OpenDocuments, openDocuments, registerFile } from '../../src/app/open-documents.js';
import { leafHash } from '../../src/register/event.js';
import type { OnServer } from '../register/postgres-open.js';
import { withPassword } from '../register/postgres-server.js';
import { newEnvironment, newWorkshopCopy } from './workshop.js';

/** A row of the events as a hand at the database puts it there. */
export interface HandRow {
  readonly seq: number;
  readonly body: string;
  /** The hash of the text when left out. */
  readonly leaf?: Buffer;
}

/** A workshop with its register on one of both stores, and a hand of its owner at the database. */
export interface Bench {
  readonly workshop: OpenDocuments;
  /** Runs SQL; gives rows. Tables have no schema before their names. */
  sql(sql: string, values?: readonly unknown[]): Promise<Record<string, unknown>[]>;
  /** Runs SQL past every rule of the tables, which are there again afterwards. */
  pastRules(work: () => Promise<void>): Promise<void>;
}

/** `tables` is `made` where nothing but rows is put past the rules: making tables takes longer than most tests. */
export type Store = (server: OnServer, tables?: 'made' | 'none') => Promise<Bench>;

export const STORES: readonly (readonly [name: string, store: Store])[] = [
  ['SQLite', onSqlite],
  ['PostgreSQL', onPostgres],
];

async function onSqlite(): Promise<Bench> {
  const { dir } = await newWorkshopCopy();
  const workshop = await openDocuments(dir, newEnvironment());
  const file = registerFile(dir);
  const on = <T>(work: (db: Database.Database) => T): T => {
    const db = new Database(file);
    try {
      return work(db);
    } finally {
      db.close();
    }
  };
  return {
    workshop,
    sql: async (sql, values = []) =>
      on((db) => {
        // As a hand does that wants it so.
        db.pragma('ignore_check_constraints = ON');
        if (values.length === 0 && !/^\s*select/i.test(sql)) {
          db.exec(sql);
          return [];
        }
        const statement = db.prepare(sql.replaceAll(/\$\d/g, '?'));
        if (statement.reader) return statement.all(...values) as Record<string, unknown>[];
        statement.run(...values);
        return [];
      }),
    async pastRules(work) {
      const triggers = on((db) =>
        db
          .prepare<[], { name: string; sql: string }>(
            "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'",
          )
          .all(),
      );
      on((db) => {
        for (const { name } of triggers) db.exec(`DROP TRIGGER ${name}`);
      });
      await work();
      on((db) => {
        for (const { sql } of triggers) db.exec(sql);
      });
    },
  };
}

async function onPostgres(server: OnServer, tables: 'made' | 'none' = 'none'): Promise<Bench> {
  const { dir } = await newWorkshopCopy();
  const url = await (tables === 'made' ? server.unused() : server.fresh());
  const workshop = await openDocuments(dir, { ...newEnvironment(), registerUrl: withPassword(url) });
  const hand = await server.raw(url);
  await hand.query('SET search_path = burin');
  const sql: Bench['sql'] = async (text, values = []) => (await hand.query(text, [...values])).rows ?? [];
  return {
    workshop,
    sql,
    async pastRules(work) {
      for (const table of ['event', 'checkpoint']) await sql(`ALTER TABLE ${table} DISABLE TRIGGER USER`);
      await work();
      const triggers = await sql(
        `SELECT tgname AS name, relname AS on_table FROM pg_trigger JOIN pg_class AS c ON c.oid = tgrelid
          WHERE relnamespace = 'burin'::regnamespace AND NOT tgisinternal`,
      );
      for (const { name, on_table } of triggers)
        await sql(`ALTER TABLE ${on_table} ENABLE ALWAYS TRIGGER ${name}`);
    },
  };
}

export const eventsOf = (bench: Bench) =>
  bench.sql('SELECT seq, body, leaf FROM event ORDER BY seq') as Promise<unknown> as Promise<
    { seq: number; body: string; leaf: Buffer }[]
  >;

/** Puts rows in past the rules. */
export const putRows = (bench: Bench, rows: readonly HandRow[]): Promise<void> =>
  bench.pastRules(async () => {
    for (const { seq, body, leaf = leafHash(body) } of rows)
      await bench.sql('INSERT INTO event (seq, body, leaf) VALUES ($1, $2, $3)', [seq, body, leaf]);
  });
