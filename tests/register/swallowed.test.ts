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
  /** A trigger that enters the next number as well. */
  add(): Promise<void>;
  mend(): Promise<void>;
}

const NEXT_NUMBER = `replace(replace(NEW.body, '"2/90"', '"3/90"'), '"number":2', '"number":3')`;

/** The hash of a text, in PostgreSQL. */
const leafOf = (text: string) => `sha256('\\x00'::bytea || convert_to(${text}, 'UTF8'))`;

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
    add: async () =>
      hand(`CREATE TRIGGER swallow AFTER INSERT ON event WHEN NEW.number = 2 BEGIN
        INSERT INTO event (seq, body, leaf) VALUES (NEW.seq + 1, ${NEXT_NUMBER}, NEW.leaf); END`),
    mend: async () => hand('DROP TRIGGER swallow'),
  };
}

async function onPostgres(begun: boolean): Promise<Bench & { change(): Promise<void> }> {
  const url = await server.fresh();
  const register = await server.open(url);
  if (begun) await register.issue(ask);
  else await refusal(register.issue({ ...ask, count: 91 }));
  const hand = await server.raw(url);
  const trigger = (at: string, body: string, when = '') =>
    hand.query(`
      CREATE OR REPLACE FUNCTION swallow() RETURNS trigger LANGUAGE plpgsql AS $$BEGIN ${body} END$$;
      CREATE TRIGGER swallow ${at} FOR EACH ROW ${when} EXECUTE FUNCTION swallow()`);
  return {
    register,
    async spoil(table = 'event') {
      await trigger(`BEFORE INSERT ON burin.${table}`, 'RETURN NULL;');
    },
    async add() {
      await trigger(
        'AFTER INSERT ON burin.event',
        `INSERT INTO burin.event (seq, body, leaf) VALUES (NEW.seq + 1, ${NEXT_NUMBER}, ${leafOf(NEXT_NUMBER)});
          RETURN NULL;`,
        'WHEN (pg_trigger_depth() = 0)',
      );
    },
    async change() {
      const other = `replace(NEW.body, 'A. Moss', 'B. Moss')`;
      await trigger(
        'BEFORE INSERT ON burin.event',
        `NEW.body := ${other}; NEW.leaf := ${leafOf('NEW.body')}; RETURN NEW;`,
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

  test('is noticed where it adds an entry of its own', async () => {
    const { register, add, mend } = await bench(true);
    await add();
    expect(codesOf(await refusal(register.issue(ask)))).toEqual(['register.not-entered']);
    await mend();
    expect(await register.size()).toBe(1);
    expect(labels(await register.issue({ ...ask, count: 2 }))).toEqual(['2/90', '3/90']);
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

test('a trigger on PostgreSQL that changes an entry, text and hash, is noticed before anything is acknowledged', async () => {
  const { register, change, mend } = await onPostgres(true);
  await change();
  expect(codesOf(await refusal(register.issue(ask)))).toEqual(['register.not-entered']);
  await mend();
  expect(await register.size()).toBe(1);
});
