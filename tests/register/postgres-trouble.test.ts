import { describe, expect, test } from 'vitest';
import type { Refusal } from '../../src/problem.js';
import { openRegister } from '../../src/register/open.js';
import { textColumn } from '../../src/register/postgres/migrations.js';
import { linesOf } from '../words-of.js';
import { ask, labels, NOON, refusal } from './ask.js';
import { onOwnServer } from './postgres-open.js';
import { PASSWORD, withPassword } from './postgres-server.js';
import { until } from './until.js';

const { fresh, open, raw, server } = onOwnServer();

/** Neither in what is told nor in what a careless program would print of it. */
const tellsNoSecret = (error: Refusal) => {
  for (const text of [error.message, linesOf(error), error.stack, JSON.stringify(error)]) {
    expect(text).not.toContain(PASSWORD);
    expect(text).not.toMatch(/postgres(ql)?:\/\//);
  }
};

const EARLIER_COLUMNS = {
  ...{ who: `${textColumn('by')} NOT NULL`, why: `${textColumn('why')} NOT NULL`, part: textColumn('part') },
  ...{ witness: textColumn('witness'), recipient: textColumn('to'), statement: textColumn('statement') },
  ...{ salt: textColumn('salt'), occurred_on: textColumn('on'), day: textColumn('day') },
  ...{ station: textColumn('station'), digest: textColumn('digest'), fault: textColumn('fault') },
  serial: `integer GENERATED ALWAYS AS ((body::json ->> 'serial')::integer) STORED`,
  parts: `json GENERATED ALWAYS AS (body::json -> 'parts') STORED`,
  stated: `json GENERATED ALWAYS AS (body::json -> 'stated') STORED`,
};

describe('the register', () => {
  test('is made by the first entry, not by looking', async () => {
    const url = await fresh();
    const register = await open(url);
    expect(await register.statuses('nine-lights')).toEqual([]);
    expect(await register.size()).toBe(0);
    const hand = await raw(url);
    const made = async () =>
      (await hand.query(`SELECT to_regnamespace('burin') IS NOT NULL AS made`)).rows[0].made;
    expect(await made()).toBe(false);
    await refusal(register.issue({ ...ask, count: 0 }));
    expect(await made()).toBe(false);
    await register.issue(ask);
    expect((await hand.query('SELECT version FROM burin.schema_version ORDER BY 1')).rows).toHaveLength(13);
  });

  test('of form 10 has its tables and rules made anew by the next entry, and every event kept', async () => {
    const url = await fresh();
    await (await open(url)).issue({ ...ask, count: 2 });
    const hand = await raw(url);
    const all = 'SELECT seq, body, leaf FROM burin.event ORDER BY seq';
    const { rows } = await hand.query(all);
    const { rows: functions } = await hand.query(
      `SELECT proname AS name FROM pg_proc WHERE pronamespace = 'burin'::regnamespace AND proname LIKE 'event\\__\\_%'`,
    );
    expect(functions).toHaveLength(3);
    for (const { name } of functions)
      await hand.query(
        `CREATE OR REPLACE FUNCTION burin.${name}() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END'`,
      );
    // A trigger of its own, and computed columns that nothing asks for any more.
    await hand.query(`CREATE FUNCTION burin.event_on_disk() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END';
      CREATE TRIGGER event_on_disk BEFORE INSERT ON burin.event EXECUTE FUNCTION burin.event_on_disk()`);
    for (const [column, computed] of Object.entries(EARLIER_COLUMNS))
      await hand.query(`ALTER TABLE burin.event ADD COLUMN ${column} ${computed}`);
    await hand.query('DELETE FROM burin.schema_version WHERE version > 10');
    const codes = async () => (await (await open(url)).faults()).map(({ code }) => code);
    const reading = await openRegister(
      { kind: 'postgres', url: withPassword(url) },
      { now: () => NOON },
      'read',
    );
    expect((await reading.faults()).map(({ code }) => code)).toEqual(['register.store-older-form']);
    await reading.close();
    expect(labels(await (await open(url)).issue(ask))).toEqual(['3/90']);
    expect(await codes()).toEqual([]);
    expect((await hand.query(all)).rows.slice(0, 2)).toEqual(rows);
    const again = hand.query(
      `INSERT INTO burin.event (seq, body, leaf) SELECT 3, body, leaf FROM burin.event WHERE seq = 0`,
    );
    await expect(again).rejects.toThrow('issued');
  });

  test('is made once, however many begin at once', async () => {
    const url = await fresh();
    const all = await Promise.all(Array.from({ length: 5 }, () => open(url)));
    const got = await Promise.all(all.map((register) => register.issue(ask)));
    expect(labels(got.flat()).sort()).toEqual(['1/90', '2/90', '3/90', '4/90', '5/90']);
  });

  test('may be made in a schema that someone else made beforehand', async () => {
    const url = await fresh();
    await (await raw(url)).query('CREATE SCHEMA burin');
    expect(labels(await (await open(url)).issue(ask))).toEqual(['1/90']);
  });

  test('commits as it should, whatever the defaults of the database are', async () => {
    const url = await fresh();
    const hand = await raw(url);
    const { rows } = await hand.query('SELECT current_database() AS name');
    await hand.query(`ALTER DATABASE ${rows[0].name} SET synchronous_commit = off`);
    await hand.query(`ALTER DATABASE ${rows[0].name} SET default_transaction_isolation = 'serializable'`);
    await hand.query(`ALTER DATABASE ${rows[0].name} SET search_path = pg_catalog`);
    const register = await open(url);
    // The tables refuse a session that does not wait for the disk.
    expect(labels(await register.issue({ ...ask, count: 2 }))).toEqual(['1/90', '2/90']);
    await hand.query(`ALTER DATABASE ${rows[0].name} RESET ALL`);
  });

  test('that went back to an older state is refused', async () => {
    const url = await fresh();
    const register = await open(url);
    await register.issue({ ...ask, count: 3 });
    const hand = await raw(url);
    await hand.query('ALTER TABLE burin.event DISABLE TRIGGER ALL; DELETE FROM burin.event WHERE seq = 2');
    await hand.query('ALTER TABLE burin.event ENABLE ALWAYS TRIGGER event_2_sequence');
    const refused = await refusal(register.issue(ask));
    expect(refused.exit).toBe(3);
    expect(refused.problems[0]).toMatchObject({ code: 'register.rolled-back', values: { seq: 2 } });
  });
});

describe('what will not do is refused:', () => {
  const both = async (url: string) => {
    const register = await open(url, { retryForMs: 300 });
    const refused = [await refusal(register.issue(ask)), await refusal(register.statuses('nine-lights'))];
    expect(refused[0]!.exit).toBe(refused[1]!.exit);
    for (const one of refused) {
      tellsNoSecret(one);
      expect(one.problems).toHaveLength(1);
      expect(linesOf(one)).not.toContain('\n');
    }
    return refused[0]!;
  };

  test('a wrong password', async () => {
    const url = (await fresh()).replace('@', ':wrong-word@');
    const register = await openRegister({ kind: 'postgres', url }, { now: () => NOON });
    const refused = await refusal(register.issue(ask));
    await register.close();
    expect(refused.exit).toBe(2);
    expect(linesOf(refused)).toContain('does not let this user in');
    expect(linesOf(refused)).not.toContain('wrong-word');
  });

  test('no password', async () => {
    const before = process.env.PGPASSWORD;
    delete process.env.PGPASSWORD;
    const register = await openRegister({ kind: 'postgres', url: await fresh() }, { now: () => NOON });
    const refused = await refusal(register.issue(ask));
    await register.close();
    if (before !== undefined) process.env.PGPASSWORD = before;
    expect(linesOf(refused)).toMatch(/needs a password.*BURIN_REGISTER, PGPASSWORD/);
  });

  test('no such database', async () => {
    expect(linesOf(await both(server().url('nowhere')))).toContain('no such database');
  });

  test('nobody at that port, within seconds', async () => {
    const url = (await fresh()).replace(`:${server().port}/`, ':1/');
    expect(linesOf(await both(url))).toMatch(/has not answered.*Nothing was written/);
  });

  test('no such host', async () => {
    const url = (await fresh()).replace('127.0.0.1', 'nowhere.invalid');
    expect(linesOf(await both(url))).toMatch(/no such host|has not answered/);
  });

  test('a schema of that name with something else in it, which is left as it was', async () => {
    const url = await fresh();
    const hand = await raw(url);
    await hand.query('CREATE SCHEMA burin; CREATE TABLE burin.letter (id integer)');
    const refused = await both(url);
    expect(refused.exit).toBe(3);
    expect(linesOf(refused)).toContain('other than a register');
    expect(
      (await hand.query(`SELECT count(*)::integer AS n FROM pg_tables WHERE schemaname = 'burin'`)).rows,
    ).toEqual([{ n: 1 }]);
  });

  test('a register of a later form', async () => {
    const url = await fresh();
    await (await open(url)).issue(ask);
    await (await raw(url)).query(
      `INSERT INTO burin.schema_version SELECT n, 'later' FROM generate_series(14, 99) AS n`,
    );
    const refused = await both(url);
    expect(refused.exit).toBe(3);
    expect(linesOf(refused)).toContain('format 99');
  });

  test('a database that cannot keep every letter', async () => {
    const hand = await raw(server().url('postgres'));
    await hand.query(`DROP DATABASE IF EXISTS plain`);
    await hand.query(`CREATE DATABASE plain ENCODING 'SQL_ASCII' TEMPLATE template0`);
    expect(linesOf(await both(server().url('plain')))).toContain('SQL_ASCII');
  });

  test('a server that does not wait for its disk', async () => {
    const url = await fresh();
    const hand = await raw(url);
    const set = async (how: string) => {
      await hand.query(`ALTER SYSTEM SET fsync = ${how}`);
      await hand.query('SELECT pg_reload_conf()');
      await until(`fsync is ${how}`, async () => (await hand.query('SHOW fsync')).rows[0].fsync === how);
    };
    await set('off');
    const refused = await both(url);
    await set('on');
    expect(linesOf(refused)).toContain('fsync');
    expect(labels(await (await open(url)).issue(ask))).toEqual(['1/90']);
  });

  test('a user who may not make it', async () => {
    const url = await fresh();
    const owner = await raw(url);
    await owner.query(`DROP ROLE IF EXISTS guest`);
    await owner.query(`CREATE ROLE guest LOGIN PASSWORD '${PASSWORD}'`);
    const theirs = url.replace(/\/\/[^@]*@/, '//guest@');
    const refused = await refusal((await open(theirs)).issue(ask));
    expect(refused.exit).toBe(2);
    expect(linesOf(refused)).toMatch(/lacks a right.*Have the owner/);
    tellsNoSecret(refused);
  });
});

/** Longer than any machine takes over what is waited for. */
const LONG_MS = 120_000;

describe('a busy register', () => {
  const held = async (retryForMs: number) => {
    const url = await fresh();
    const register = await open(url, { retryForMs });
    await register.issue(ask);
    const other = await raw(url);
    await other.query(`BEGIN; SELECT pg_advisory_xact_lock(${0x62757269})`);
    return { url, register, other };
  };

  test('is waited for', async () => {
    const { register, other } = await held(LONG_MS);
    setTimeout(() => other.query('COMMIT'), 300);
    expect(labels(await register.issue(ask))).toEqual(['2/90']);
  });

  test('is told in one clear line when it stays so, and nothing was written', async () => {
    const { register, other } = await held(600);
    const refused = await refusal(register.issue(ask));
    expect(refused.exit).toBe(2);
    expect(linesOf(refused)).toMatch(/locked.*Nothing was written/);
    // Reading goes on meanwhile.
    expect(labels(await register.statuses('nine-lights'))).toEqual(['1/90']);
    await other.query('COMMIT');
    expect(labels(await register.issue(ask))).toEqual(['2/90']);
  });

  test('with no connection free is waited for, then told', async () => {
    const url = await fresh();
    await (await open(url)).issue(ask);
    const hand = await raw(url);
    const { rows } = await hand.query('SELECT current_database() AS name, session_user AS who');
    await hand.query('DROP ROLE IF EXISTS crowd');
    await hand.query(`CREATE ROLE crowd LOGIN PASSWORD '${PASSWORD}' CONNECTION LIMIT 1`);
    await hand.query('GRANT USAGE ON SCHEMA burin TO crowd');
    await hand.query('GRANT SELECT, INSERT ON ALL TABLES IN SCHEMA burin TO crowd');
    const theirs = url.replace(`${rows[0].who}@`, 'crowd@');
    const only = await raw(theirs);
    const register = await open(theirs, { retryForMs: 500 });
    expect(linesOf(await refusal(register.issue(ask)))).toMatch(/no free connection.*Nothing was written/);
    await register.close();
    const patient = await open(theirs, { retryForMs: LONG_MS });
    setTimeout(() => only.end(), 200);
    expect(labels(await patient.issue(ask))).toEqual(['2/90']);
    await patient.close();
    await hand.query('DROP OWNED BY crowd');
  });
});
