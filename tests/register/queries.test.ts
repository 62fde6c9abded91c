import Sqlite from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import type { Connection } from '../../src/register/database.js';
import { prepareQueries } from '../../src/register/queries.js';
import { NO_RESUMPTIONS } from '../../src/register/resumption/resumptions.js';
import { SqliteDatabase } from '../../src/register/sqlite/database.js';
import { NOON } from './ask.js';
import { cleanAfterEach, unusedFile } from './folder.js';

cleanAfterEach();

/** The statements of every query of the register, as SQLite is given them. */
async function statements(file: string): Promise<ReadonlyMap<string, readonly string[]>> {
  const { compiler, leafHex } = new SqliteDatabase(file, { now: () => NOON, warn: () => undefined });
  let seen: string[] = [];
  const on: Connection = {
    run: async ({ query }) => {
      seen.push(query.sql);
      return [];
    },
    expect: (queries) => seen.push(...queries.map(({ query }) => query.sql)),
    enter: async (entries) => {
      seen.push(...entries.flatMap(({ insert, count }) => [insert.query.sql, count.query.sql]));
    },
    withoutRules: (work) => work(),
  };
  const queries: Record<string, (...given: never[]) => unknown> = prepareQueries(compiler, leafHex);
  const found = new Map<string, readonly string[]>();
  for (const [name, query] of Object.entries(queries)) {
    // The first is a transaction, or what is read in it; nothing of the rest decides what is asked.
    for (const first of [on, { on, passed: NO_RESUMPTIONS }])
      for (const rest of [
        ['a', 'b', 'c', 0],
        ['a', [0]],
        ['a', { series: 'a', number: 1, label: 'a' }],
        [[{ seq: 0, body: '{}', leaf: Buffer.alloc(32) }]],
      ]) {
        seen = [];
        await (async () => query(...([first, ...rest] as never[])))().catch(() => undefined);
        found.set(name, [...new Set([...(found.get(name) ?? []), ...seen])]);
      }
  }
  return found;
}

describe('a query of the register', () => {
  test('goes through no table that grows: its rows are found by an index', async () => {
    const file = unusedFile();
    const db = new Sqlite(file, { readonly: true });
    const whole: string[] = [];
    const asked: string[] = [];
    for (const [name, sqls] of await statements(file))
      for (const sql of sqls.filter((one) => /^(select|with)/i.test(one))) {
        asked.push(name);
        const values = sql.match(/\?/g)?.map(() => 0) ?? [];
        const plan = db.prepare(`EXPLAIN QUERY PLAN ${sql}`).all(values) as { detail: string }[];
        if (plan.some(({ detail }) => /^SCAN event$/.test(detail))) whole.push(`${name}: ${sql}`);
      }
    db.close();
    expect(new Set(asked).size).toBeGreaterThan(20);
    // Those that take the last row of the table, and no other.
    expect(whole.filter((one) => !/order by "seq" desc limit 1$/.test(one))).toEqual([]);
  });
});
