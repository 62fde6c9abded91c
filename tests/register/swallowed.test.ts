import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import type { Register } from '../../src/register/register.js';
import { ask, codesOf, labels, refusal, STATED } from './ask.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { asking } from './life-rules.js';
import { onServer } from './postgres-open.js';

cleanAfterEach();
const server = onServer();

/** A register with one number, and a way to put a trigger of somebody else into its database and to take it out. */
interface Bench {
  readonly register: Register;
  spoil(table?: string): Promise<void>;
  mend(): Promise<void>;
}

async function onSqlite(begun: boolean): Promise<Bench> {
  const file = newFile();
  const register = await open(file);
  if (begun) await register.issue(ask);
  else await refusal(register.issue({ ...ask, count: 91 }));
  const hand = (sql: string) => {
    const db = new Database(file);
    db.exec(sql);
    db.close();
  };
  return {
    register,
    spoil: async (table = 'event') =>
      hand(`CREATE TRIGGER swallow BEFORE INSERT ON ${table} BEGIN SELECT RAISE(IGNORE); END`),
    mend: async () => hand('DROP TRIGGER swallow'),
  };
}

async function onPostgres(begun: boolean): Promise<Bench> {
  const url = await server.fresh();
  const register = await server.open(url);
  if (begun) await register.issue(ask);
  else await refusal(register.issue({ ...ask, count: 91 }));
  const hand = await server.raw(url);
  return {
    register,
    async spoil(table = 'event') {
      await hand.query(
        `CREATE OR REPLACE FUNCTION swallow() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END'`,
      );
      await hand.query(
        `CREATE TRIGGER swallow BEFORE INSERT ON burin.${table} FOR EACH ROW EXECUTE FUNCTION swallow()`,
      );
    },
    async mend() {
      await hand.query('DROP TRIGGER swallow ON burin.event');
    },
  };
}

describe.each([
  ['SQLite', onSqlite],
  ['PostgreSQL', onPostgres],
])('a trigger that swallows entries on %s', (_store, bench) => {
  test('is noticed before anything is acknowledged', async () => {
    const { register, spoil, mend } = await bench(true);
    await spoil();
    for (const work of [
      () => register.issue(ask),
      () => register.record(asking('engraved')),
      () => register.importEvents([asking('engraved')]),
      () =>
        register.closeEdition({
          edition: ask.edition,
          statement: '5e'.repeat(32),
          stated: STATED,
          by: 'A. Moss',
        }),
    ])
      expect(codesOf(await refusal(work()))).toEqual(['register.not-entered']);
    await mend();
    expect(await register.size()).toBe(1);
    expect(labels(await register.issue(ask))).toEqual(['2/90']);
  });

  test('is noticed by a restore', async () => {
    const sound = await open(newFile());
    await sound.issue({ ...ask, count: 3 });
    const { register, spoil, mend } = await bench(false);
    await spoil();
    expect(codesOf(await refusal(register.restore(sound.events(), [])))).toEqual(['register.not-entered']);
    await mend();
    await register.restore(sound.events(), []);
    expect(await register.size()).toBe(3);
  });

  test('of checkpoints is noticed too', async () => {
    const { register, spoil } = await bench(true);
    await spoil('checkpoint');
    const adding = register.addCheckpoint({ size: 1, note: 'signed\n1\n', frontier: [Buffer.alloc(32)] });
    expect(codesOf(await refusal(adding))).toEqual(['register.not-entered']);
    expect(await register.checkpoints()).toEqual([]);
  });
});
