import { createHash } from 'node:crypto';
import type pg from 'pg';
import { beforeEach, describe, expect, test } from 'vitest';
import { leafHash } from '../../src/register/event.js';
import { ask } from './ask.js';
import { bodyOf, canonicalText, codeIn, MISSHAPEN, type Put, WHOLE_LIVES, WRONG } from './by-hand.js';
import { onServer } from './postgres-open.js';

// The database itself must refuse: everything here is tried over a plain connection of the tables' owner, past the
// register's own code.
const { unused, open, raw } = onServer();

let hand: pg.Client;

/** A hand at tables with nothing in them. */
async function atEmptyTables(): Promise<void> {
  hand = await raw(await unused());
}

const everything = async () =>
  (await hand.query('SELECT seq, body, leaf FROM burin.event ORDER BY seq')).rows;
const size = async (): Promise<number> =>
  (await hand.query('SELECT count(*)::integer AS n FROM burin.event')).rows[0].n;

const insert = (body: string, seq: number, leaf = leafHash(body)) =>
  hand.query('INSERT INTO burin.event (seq, body, leaf) VALUES ($1, $2, $3)', [seq, body, leaf]);
const put = async (one: Put) => insert(bodyOf(one), await size());

describe('a life by hand', () => {
  beforeEach(atEmptyTables);

  test.each(WHOLE_LIVES)('%s goes in where it is in order', async (_what, events) => {
    for (const one of events) expect((await put(one)).rowCount).toBe(1);
  });

  test.each(WHOLE_LIVES)('%s goes in by one statement', async (_what, events) => {
    const bodies = events.map(bodyOf);
    const done = await hand.query(
      `INSERT INTO burin.event (seq, body, leaf)
         SELECT place - 1, body, leaf FROM unnest($1::text[], $2::bytea[]) WITH ORDINALITY AS g (body, leaf, place)`,
      [bodies, bodies.map(leafHash)],
    );
    expect(done.rowCount).toBe(events.length);
  });

  test.each(WRONG)('is refused: %s', async (_what, events, wrong, code) => {
    for (const one of events) await put(one);
    expect(await put(wrong).catch(codeIn)).toBe(code.includes('.') ? code : `register.${code}`);
    expect(await size()).toBe(events.length);
  });

  test.each(MISSHAPEN)('is refused: %s', async (_what, wrong) => {
    expect(await put(wrong).catch(codeIn)).toBe('register.malformed-event');
    expect(await size()).toBe(0);
  });
});

describe('with three events', () => {
  let url: string;
  let before: unknown[];
  beforeEach(async () => {
    url = await unused();
    const register = await open(url);
    await register.issue({ ...ask, count: 2, key: 'job-7' });
    await register.issue({ ...ask, series: 'proofs' });
    hand = await raw(url);
    before = await everything();
  });

  const event = (change: object = {}) =>
    canonicalText({
      ...{ type: 'issued', edition: 'nine-lights', series: 'main', number: 3, label: '3/90' },
      ...{ by: 'B. Fern', at: '2021-03-02T12:00:00.000Z', why: 'by hand' },
      ...change,
    });

  test.each([
    ['changed', `UPDATE burin.event SET body = replace(body, 'Moss', 'Fern')`],
    ['changed', 'UPDATE burin.event SET seq = 9 WHERE seq = 2'],
    ['changed', 'UPDATE burin.event SET seq = 9 WHERE false'],
    ['deleted', 'DELETE FROM burin.event'],
    ['deleted', 'DELETE FROM ONLY burin.event WHERE seq = 2'],
    ['deleted', 'TRUNCATE burin.event'],
    ['deleted', 'TRUNCATE burin.event CASCADE'],
    [
      'changed',
      'MERGE INTO burin.event e USING burin.event o ON e.seq = o.seq WHEN MATCHED THEN UPDATE SET seq = 9',
    ],
    [
      'changed',
      `INSERT INTO burin.event (seq, body, leaf) SELECT seq, body, leaf FROM burin.event
         ON CONFLICT (seq) DO UPDATE SET leaf = sha256('')`,
    ],
    // As a session does that copies from another server: ordinary triggers rest then.
    ['changed', `SET session_replication_role = replica; UPDATE burin.event SET seq = 9 WHERE seq = 2`],
    ['deleted', `SET session_replication_role = replica; DELETE FROM burin.event`],
    ['deleted', `SET session_replication_role = replica; TRUNCATE burin.event`],
  ])('an event is never %s: %s', async (what, sql) => {
    await expect(hand.query(sql)).rejects.toThrow(`an event is never ${what}`);
    expect(await everything()).toEqual(before);
  });

  test.each([
    ['UPDATE burin.checkpoint SET size = 1', 'changed'],
    ['DELETE FROM burin.checkpoint', 'deleted'],
    ['TRUNCATE burin.checkpoint', 'deleted'],
  ])('nor is a checkpoint: %s', async (sql, what) => {
    await hand.query(`INSERT INTO burin.checkpoint VALUES (3, E'note\\n3\\n', '')`);
    await expect(hand.query(sql)).rejects.toThrow(`a checkpoint is never ${what}`);
    await expect(hand.query(`INSERT INTO burin.checkpoint VALUES (3, E'other\\n3\\n', '')`)).rejects.toThrow(
      /pkey/,
    );
    await expect(hand.query(`INSERT INTO burin.checkpoint VALUES (4, E'n\\n4\\n', '')`)).rejects.toThrow(
      /not so many/,
    );
  });

  test('takes what is in order, so that the refusals mean something', async () => {
    expect((await insert(event(), 3)).rowCount).toBe(1);
    expect((await insert(event({ edition: 'other', label: '1/90', number: 1 }), 4)).rowCount).toBe(1);
  });

  test.each([
    ['label', event({ label: '1/90' }), 3, 'issued_label'],
    ['label in another series', event({ series: 'second', label: '1/90' }), 3, 'issued_label'],
    ['number', event({ number: 1 }), 3, 'issued_number'],
    ['place of a request', event({ key: 'job-7', nth: 2 }), 3, 'request_nth'],
    ['place in the sequence', event(), 2, 'event_pkey'],
  ])('a second use of a %s is refused', async (_what, body, seq, index) => {
    await expect(insert(body, seq)).rejects.toThrow(index);
    // "Do nothing" would be no harm, but it is not an entry either.
    const quiet = 'INSERT INTO burin.event (seq, body, leaf) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING';
    expect((await hand.query(quiet, [seq, body, leafHash(body)])).rowCount).toBe(0);
    expect(await everything()).toEqual(before);
  });

  test.each([4, 100, -1])('a gap in the sequence is refused: %s', async (seq) => {
    await expect(insert(event(), seq)).rejects.toThrow(/sequence-gap|check constraint/);
  });

  test.each(['off', 'local'])(
    'an entry that is not waited for is refused: synchronous_commit %s',
    async (how) => {
      await hand.query(`SET synchronous_commit = ${how}`);
      await expect(insert(event(), 3)).rejects.toThrow('does not wait for the disk');
    },
  );

  test('a leaf that is not the hash of the text is refused', async () => {
    await expect(insert(event(), 3, createHash('sha256').update(event()).digest())).rejects.toThrow(
      /damaged-event/,
    );
  });

  test('columns cannot be given, and are what the text says', async () => {
    const given = 'INSERT INTO burin.event (seq, body, leaf, label) VALUES (3, $1, $2, $3)';
    await expect(hand.query(given, [event(), leafHash(event()), '4/90'])).rejects.toThrow(/label/);
    const { rows } = await hand.query(
      'SELECT type, edition, series, number, label, at, key, nth FROM burin.event WHERE seq = 0',
    );
    expect(rows[0]).toEqual({
      ...{ type: 'issued', edition: 'nine-lights', series: 'main', number: 1, label: '1/90' },
      ...{ at: '2021-03-01T12:00:00.000Z', key: 'job-7', nth: 1 },
    });
  });

  test('a name twice in the text is refused', async () => {
    await expect(insert(event().replace(/}$/, ',"label":"3/90"}'), 3)).rejects.toThrow('stands twice');
  });

  test.each([
    ['no JSON', 'x'],
    ['a list', '[]'],
    ['no type', event({ type: undefined })],
    ['a number as text', event({ number: '3' })],
    ['a broken number', event({ number: 3.5 })],
    ['number 0', event({ number: 0 })],
    ['a number past counting', event({ number: 1e12 })],
    ['no label', event({ label: undefined })],
    ['a label that is a number', event({ label: 3 })],
    ['no series', event({ series: undefined })],
    ['no edition', event({ edition: undefined })],
    ['an edition that is nothing', event({ edition: null })],
    ['nobody', event({ by: undefined })],
    ['a list of people', event({ by: ['A', 'B'] })],
    ['no reason', event({ why: undefined })],
    ['no time', event({ at: undefined })],
    ['a local time', event({ at: '2021-03-02T12:00:00.000+01:00' })],
    ['a key without a place', event({ key: 'k' })],
    ['a place without a key', event({ nth: 1 })],
  ])('%s is refused', async (_what, body) => {
    await expect(insert(body, 3)).rejects.toThrow(
      /check constraint|not-null|json|type integer|malformed-event/,
    );
    expect(await everything()).toEqual(before);
  });

  test('two hands that know nothing of each other cannot both enter', async () => {
    const other = await raw(url);
    await hand.query('BEGIN');
    await insert(event(), 3);
    const second = 'INSERT INTO burin.event (seq, body, leaf) VALUES ($1, $2, $3)';
    const body = event({ number: 4, label: '4/90' });
    // Further on there is a gap for it; in the same place it waits, and then the place is taken.
    await expect(other.query(second, [4, body, leafHash(body)])).rejects.toThrow('gap');
    const waiting = other.query(second, [3, body, leafHash(body)]);
    const refused = expect(waiting).rejects.toThrow('event_pkey');
    await hand.query('COMMIT');
    await refused;
    expect(await size()).toBe(4);
  });
});

describe('a user with no more than select and insert', () => {
  test('issues, and can do nothing else', async () => {
    const url = await unused();
    await (await open(url)).issue(ask);
    const owner = await raw(url);
    await owner.query(`DROP ROLE IF EXISTS engraver`);
    await owner.query(`CREATE ROLE engraver LOGIN PASSWORD 'not-for-anyone'`);
    await owner.query('GRANT USAGE ON SCHEMA burin TO engraver');
    await owner.query('GRANT SELECT, INSERT ON ALL TABLES IN SCHEMA burin TO engraver');
    const theirs = url.replace(/\/\/[^@]*@/, '//engraver@');
    const register = await open(theirs);
    expect(await register.issue({ ...ask, count: 2 })).toHaveLength(2);
    const client = await raw(theirs);
    for (const sql of [
      'DELETE FROM burin.event',
      'TRUNCATE burin.event',
      'ALTER TABLE burin.event DISABLE TRIGGER ALL',
      'DROP TRIGGER event_not_deleted ON burin.event',
      'DROP TABLE burin.event',
      'SET session_replication_role = replica',
    ]) {
      await expect(client.query(sql)).rejects.toThrow(/permission|must be owner/);
    }
    await owner.query('DROP OWNED BY engraver');
  });
});
