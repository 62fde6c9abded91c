import { describe, expect, test } from 'vitest';
import { ask, STATED } from './ask.js';
import { asking } from './life-rules.js';
import { onServer } from './postgres-open.js';
import type { ServerPackage } from './postgres-server.js';

/** What is done to the schema, and the fault that is to be found: its code and the object it names. */
const TAMPERED: [what: string, sql: string, code: string, object?: string][] = [
  [
    'a trigger dropped',
    'DROP TRIGGER event_not_deleted ON burin.event',
    'missing',
    'trigger event_not_deleted on event',
  ],
  [
    'a trigger disabled',
    'ALTER TABLE burin.event DISABLE TRIGGER event_3_allowed',
    'trigger-off',
    'trigger event_3_allowed on event',
  ],
  [
    'a trigger that rests in copying sessions',
    'ALTER TABLE burin.event ENABLE TRIGGER event_not_changed',
    'trigger-off',
    'trigger event_not_changed on event',
  ],
  [
    'a trigger for some rows only',
    `DROP TRIGGER event_3_allowed ON burin.event;
     CREATE TRIGGER event_3_allowed AFTER INSERT ON burin.event FOR EACH ROW WHEN (NEW.number < 50)
       EXECUTE FUNCTION burin.event_3_allowed();
     ALTER TABLE burin.event ENABLE ALWAYS TRIGGER event_3_allowed`,
    'altered',
    'trigger event_3_allowed on event',
  ],
  [
    'a function changed',
    `CREATE OR REPLACE FUNCTION burin.event_not_deleted() RETURNS trigger LANGUAGE plpgsql
       SET search_path = burin, pg_catalog, pg_temp SET enable_seqscan = off AS 'BEGIN RETURN NULL; END'`,
    'altered',
    'function event_not_deleted',
  ],
  [
    'a function that looks elsewhere for its tables',
    'ALTER FUNCTION burin.event_3_allowed() SET search_path = elsewhere',
    'altered',
    'function event_3_allowed',
  ],
  [
    'a function with the rights of its owner',
    'ALTER FUNCTION burin.event_3_allowed() SECURITY DEFINER',
    'altered',
    'function event_3_allowed',
  ],
  [
    'a foreign trigger',
    `CREATE FUNCTION burin.swallow() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END';
     CREATE TRIGGER swallow BEFORE INSERT ON burin.event FOR EACH ROW EXECUTE FUNCTION burin.swallow()`,
    'foreign',
    'trigger swallow on event',
  ],
  [
    'a trigger that calls a function from elsewhere',
    `CREATE FUNCTION public.event_3_allowed() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END';
     DROP TRIGGER event_3_allowed ON burin.event;
     CREATE TRIGGER event_3_allowed AFTER INSERT ON burin.event FOR EACH ROW EXECUTE FUNCTION public.event_3_allowed();
     ALTER TABLE burin.event ENABLE ALWAYS TRIGGER event_3_allowed`,
    'altered',
    'trigger event_3_allowed on event',
  ],
  [
    'a foreign rule',
    'CREATE RULE nothing AS ON INSERT TO burin.event DO INSTEAD NOTHING',
    'foreign',
    'rule nothing on event',
  ],
  ['a policy', 'CREATE POLICY a_few ON burin.event USING (true)', 'foreign', 'policy a_few on event'],
  ['row security', 'ALTER TABLE burin.event ENABLE ROW LEVEL SECURITY', 'altered', 'table event'],
  ['a foreign table', 'CREATE TABLE burin.letter (id integer)', 'foreign', 'table letter'],
  ['a table that does not outlast a crash', 'ALTER TABLE burin.event SET UNLOGGED', 'altered', 'table event'],
  ['an index dropped', 'DROP INDEX burin.issued_number', 'missing', 'index issued_number'],
  [
    'an index that refuses no doubles',
    'DROP INDEX burin.issued_number; CREATE INDEX issued_number ON burin.event (edition, series, number)',
    'altered',
    'index issued_number',
  ],
  [
    'an index of some rows only',
    `DROP INDEX burin.issued_label;
     CREATE UNIQUE INDEX issued_label ON burin.event (edition, label) WHERE type = 'issued' AND number > 9`,
    'altered',
    'index issued_label',
  ],
  [
    'an index given up in mid-making',
    `UPDATE pg_index SET indisvalid = false WHERE indexrelid = 'burin.issued_label'::regclass`,
    'altered',
    'index issued_label',
  ],
  ['a foreign index', 'CREATE INDEX by_day ON burin.event (at)', 'foreign', 'index by_day'],
  [
    'a check dropped',
    'ALTER TABLE burin.event DROP CONSTRAINT body_is_object',
    'missing',
    'constraint body_is_object on event',
  ],
  [
    'a check made weaker',
    'ALTER TABLE burin.event DROP CONSTRAINT body_is_object, ADD CONSTRAINT body_is_object CHECK (length(body) > 2)',
    'altered',
    'constraint body_is_object on event',
  ],
  [
    'a key dropped',
    'ALTER TABLE burin.checkpoint DROP CONSTRAINT checkpoint_pkey',
    'missing',
    'index checkpoint_pkey',
  ],
  [
    'a column that may be empty',
    'ALTER TABLE burin.event ALTER COLUMN leaf DROP NOT NULL',
    'altered',
    'column event.leaf',
  ],
  [
    'a column that is not computed any more',
    'ALTER TABLE burin.event ALTER COLUMN label DROP EXPRESSION',
    'altered',
    'column event.label',
  ],
  ['a foreign column', 'ALTER TABLE burin.event ADD COLUMN colour text', 'foreign', 'column event.colour'],
];

/** What a register on this server finds of itself. */
export function postgresFaultRules(from: ServerPackage, version: number): void {
  const { fresh, open, raw } = onServer(from);

  /** A register with a life in it, and the hand of a superuser at its tables. */
  async function lived() {
    const url = await fresh();
    const register = await open(url);
    await register.issue({ ...ask, count: 5, key: 'job-7', parts: ['cap', 'barrel'] });
    await register.record(asking('engraved'));
    await register.closeEdition({
      edition: 'other',
      statement: 'ab'.repeat(32),
      stated: STATED,
      by: 'A. Moss',
    });
    await register.addCheckpoint({
      size: 3,
      note: 'three\n3\n',
      frontier: [Buffer.alloc(32, 1), Buffer.alloc(32, 2)],
    });
    return { url, register, hand: await raw(url) };
  }

  describe(`a register on PostgreSQL ${version}`, () => {
    test('runs on the version it is to be tried on', async () => {
      const { hand } = await lived();
      const { rows } = await hand.query(
        `SELECT current_setting('server_version_num')::integer / 10000 AS version`,
      );
      expect(rows[0].version).toBe(version);
    });

    test('finds nothing where nothing was done', async () => {
      const { register } = await lived();
      expect(await register.faults()).toEqual([]);
    });

    test('needs no more than the right to read', async () => {
      const { url, hand } = await lived();
      await hand.query('DROP ROLE IF EXISTS reader');
      await hand.query(`CREATE ROLE reader LOGIN PASSWORD 'not-for-anyone'`);
      await hand.query(
        'GRANT USAGE ON SCHEMA burin TO reader; GRANT SELECT ON ALL TABLES IN SCHEMA burin TO reader',
      );
      const register = await open(url.replace(/\/\/[^@]*@/, '//reader@'));
      expect(await register.faults()).toEqual([]);
      await hand.query('ALTER TABLE burin.event DISABLE TRIGGER event_not_deleted');
      expect(await register.faults()).toHaveLength(1);
      await register.close();
      await hand.query('DROP OWNED BY reader; DROP ROLE reader');
    });

    test.each(TAMPERED)('finds %s', async (_what, sql, code, object) => {
      const { register, hand } = await lived();
      await hand.query(sql);
      const found = (await register.faults()).map(({ code, values }) => [code, values.object]);
      expect(found).toContainEqual([
        `register.store-${code.startsWith('trigger') ? '' : 'object-'}${code}`,
        object,
      ]);
      await hand.query('DROP FUNCTION IF EXISTS public.event_3_allowed() CASCADE');
    });

    test('finds that ordinary triggers rest for its user', async () => {
      const { url, hand } = await lived();
      const { rows } = await hand.query('SELECT current_database() AS name');
      await hand.query(`ALTER DATABASE ${rows[0].name} SET session_replication_role = replica`);
      const register = await open(url);
      const found = (await register.faults()).map(({ code }) => code);
      await hand.query(`ALTER DATABASE ${rows[0].name} RESET session_replication_role`);
      expect(found).toEqual(['register.store-triggers-rest']);
    });

    test('finds an index that lacks a row of its table', async () => {
      const { register, hand } = await lived();
      const set = (ready: boolean) =>
        hand.query(
          `UPDATE pg_index SET indisready = ${ready} WHERE indexrelid = 'burin.issued_number'::regclass`,
        );
      await set(false);
      await register.issue(ask);
      await set(true);
      const found = (await register.faults()).map(({ code, values }) => [code, values.object]);
      expect(found).toEqual([['register.store-index-differs', 'index issued_number']]);
    });

    test('finds a computed column that was written past the server', async () => {
      const { register, hand } = await lived();
      // For a moment the column is a plain one, as a superuser may make it.
      const mark = (generated: string) =>
        hand.query(
          `UPDATE pg_attribute SET attgenerated = '${generated}' WHERE attrelid = 'burin.event'::regclass AND attname = 'number'`,
        );
      await mark('');
      await hand.query(
        `ALTER TABLE burin.event DISABLE TRIGGER ALL; UPDATE burin.event SET number = 77 WHERE seq = 2`,
      );
      await mark('s');
      const { rows } = await hand.query(
        `SELECT tgname AS name FROM pg_trigger WHERE tgrelid = 'burin.event'::regclass AND NOT tgisinternal`,
      );
      for (const { name } of rows) await hand.query(`ALTER TABLE burin.event ENABLE ALWAYS TRIGGER ${name}`);
      expect((await register.faults()).map(({ code, values }) => [code, values.seq])).toEqual([
        ['register.store-column-differs', 2],
      ]);
    });
  });
}
