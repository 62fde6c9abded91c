import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openFile } from '../../src/register/sqlite/file.js';
import { MIGRATIONS } from '../../src/register/sqlite/migrations.js';
import { ask, labels, NOON, PLAN, refusal } from './ask.js';
import { bodyOf, MISSHAPEN, type Put, WHOLE_LIVES, WRONG } from './by-hand.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { asking } from './life-rules.js';

// The database itself must refuse: wrong events by hand, over a plain connection, past the register's own code.
cleanAfterEach();

const AT = NOON.toISOString();

let raw: Database.Database;

beforeEach(() => {
  const file = newFile();
  openFile(file, () => NOON).db.close();
  raw = new Database(file);
});
afterEach(() => raw.close());

const size = () => raw.prepare<[], number>('SELECT count(*) FROM event').pluck().get()!;

/** As a hand would: not canonical, its leaf not its hash. */
const put = (one: Put) =>
  raw.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, zeroblob(32))').run(size(), bodyOf(one));

describe('the whole life goes in by hand where it is in order', () => {
  test.each(WHOLE_LIVES)('%s', (_what, events) => {
    for (const one of events) expect(put(one).changes).toBe(1);
  });
});

describe('a wrong event by hand is refused', () => {
  test.each(WRONG)('%s', (_what, events, wrong, why) => {
    for (const one of events) put(one);
    expect(() => put(wrong)).toThrow(why);
    expect(size()).toBe(events.length);
  });

  test.each(MISSHAPEN)('%s', (_what, wrong) => {
    expect(() => put(wrong)).toThrow(/CHECK|no kind|names|of no use|no such/);
    expect(size()).toBe(0);
  });

  test('a second closing, should the triggers be gone', () => {
    raw.exec('DROP TRIGGER closed_before');
    put('closed');
    expect(() => put('closed')).toThrow(/UNIQUE.*edition/);
  });
});

describe('a checkpoint by hand', () => {
  const keep = (at: number, more = '', verb = 'INSERT') =>
    raw.prepare(`${verb} INTO checkpoint VALUES (?, 'note${more}', zeroblob(32))`).run(at);

  test('is only added, each size once, of events that are there', () => {
    put('issued');
    keep(1);
    expect(() => keep(2)).toThrow('not so many events');
    for (const verb of ['INSERT', 'REPLACE', 'INSERT OR IGNORE']) {
      expect(() => keep(1, 'x', verb)).toThrow('there is a checkpoint of this size');
    }
    expect(() => raw.exec("UPDATE checkpoint SET note = 'x'")).toThrow('never changed');
    expect(() => raw.exec('DELETE FROM checkpoint')).toThrow('never deleted');
    expect(() => raw.exec("INSERT INTO checkpoint VALUES (0, 'n', zeroblob(31))")).toThrow(/CHECK/);
  });
});

test('a file of the first form is brought up to date and keeps every hash', async () => {
  const file = newFile();
  // As the first form was left by the program that made it: the pragmas it set, and events of issue alone.
  const old = new Database(file);
  old.pragma('journal_mode = WAL');
  old.pragma(`application_id = ${0x62757269}`);
  old.exec('CREATE TABLE schema_version (version INTEGER PRIMARY KEY, at TEXT NOT NULL) STRICT');
  old.exec(MIGRATIONS[0]!);
  old.prepare('INSERT INTO schema_version VALUES (1, ?)').run(AT);
  const source = newFile();
  const register = await open(source);
  await register.issue({ ...ask, count: 3, key: 'job-7' });
  await register.issue({ ...ask, series: 'proofs' });
  for await (const { seq, body, leaf } of register.events()) {
    old.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, ?)').run(seq, body, leaf);
  }
  const kept = old.prepare('SELECT seq, body, leaf FROM event ORDER BY seq').all();
  old.close();

  const now = await open(file);
  expect(labels(await now.statuses('nine-lights'))).toEqual(['1/90', '2/90', '3/90', 'A.P. I/IX']);
  expect((await now.record(asking('engraved'))).state).toBe('engraved');
  expect((await refusal(now.record(asking('engraved')))).exit).toBe(3);
  expect(labels(await now.issue({ ...ask, count: 3, key: 'job-7' }))).toEqual(labels(PLAN.slice(0, 3)));
  const db = new Database(file, { readonly: true });
  expect(db.prepare('SELECT seq, body, leaf FROM event ORDER BY seq LIMIT 4').all()).toEqual(kept);
  expect(db.prepare('SELECT version FROM schema_version').pluck().all()).toEqual([1, 2, 3]);
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
  db.close();
});
