import { createHash } from 'node:crypto';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { STATED } from './ask.js';
import { canonicalText } from './by-hand.js';
import { cleanAfterEach, open, unusedFile } from './folder.js';
import { ask } from './rules.js';

// The database itself must refuse: everything here is tried over a plain connection, past the register's own code.
cleanAfterEach();

let raw: Database.Database;
let before: unknown[];

beforeEach(async () => {
  const file = unusedFile();
  const register = await open(file);
  await register.issue({ ...ask, count: 2, key: 'job-7' });
  await register.issue({ ...ask, series: 'proofs' });
  raw = new Database(file);
  // As any other client has it, where REPLACE deletes without delete triggers.
  raw.pragma('recursive_triggers = OFF');
  before = everything();
});
afterEach(() => raw.close());

const everything = () => raw.prepare('SELECT seq, body, leaf FROM event ORDER BY seq').all();

const event = (change: object = {}) => ({
  type: 'issued',
  edition: 'nine-lights',
  series: 'main',
  number: 3,
  label: '3/90',
  by: 'B. Fern',
  at: '2021-03-02T12:00:00.000Z',
  why: 'by hand',
  ...change,
});

const insert = (value: object | string, seq: number | null = 3, verb = 'INSERT') =>
  raw
    .prepare(`${verb} INTO event (seq, body, leaf) VALUES (?, ?, ?)`)
    .run(seq, typeof value === 'string' ? value : canonicalText(value), Buffer.alloc(32));

test('takes what is in order, so that the refusals below mean something', () => {
  expect(insert(event()).changes).toBe(1);
  expect(insert(event({ type: 'engraved', at: '2021-03-02T12:00:00.001Z' }), 4).changes).toBe(1);
  const closing = {
    type: 'closed',
    edition: 'nine-lights',
    by: 'B',
    at: '2021-03-02T12:00:00.002Z',
    why: 'w',
    statement: 'ab'.repeat(32),
    stated: STATED,
  };
  expect(insert(closing, 5).changes).toBe(1);
});

describe('events are only added', () => {
  test.each([
    "UPDATE event SET body = replace(body, 'Moss', 'Fern')",
    'UPDATE event SET seq = 9 WHERE seq = 2',
    'UPDATE event SET leaf = zeroblob(32)',
    'UPDATE OR REPLACE event SET seq = 0 WHERE seq = 1',
  ])('%s', (sql) => {
    expect(() => raw.exec(sql)).toThrow('an event is never changed');
    expect(everything()).toEqual(before);
  });

  test.each(['DELETE FROM event', 'DELETE FROM event WHERE seq = 2'])('%s', (sql) => {
    expect(() => raw.exec(sql)).toThrow('an event is never deleted');
    expect(everything()).toEqual(before);
  });

  test.each(['INSERT OR REPLACE', 'REPLACE', 'INSERT OR IGNORE', 'INSERT OR FAIL', 'INSERT OR ROLLBACK'])(
    '%s cannot put another event in the place of one',
    (verb) => {
      expect(() => insert(event(), 0, verb)).toThrow('this place in the sequence is taken');
      expect(() => insert(event({ label: '1/90' }), 3, verb)).toThrow('number-mismatch');
      expect(() => insert(event({ number: 1 }), 3, verb)).toThrow('number-mismatch');
      expect(() => insert(event({ number: 1, label: '1/90' }), 3, verb)).toThrow('issued-before');
      expect(() => insert(event({ key: 'job-7', nth: 2 }), 3, verb)).toThrow('carried out before');
      expect(everything()).toEqual(before);
    },
  );

  test('an upsert cannot change one', () => {
    const sql = `INSERT INTO event (seq, body, leaf) SELECT seq, body, leaf FROM event WHERE true
      ON CONFLICT DO UPDATE SET leaf = zeroblob(32)`;
    expect(() => raw.exec(sql)).toThrow();
    expect(everything()).toEqual(before);
  });
});

describe('a duplicate is refused', () => {
  test('label in another series', () => {
    expect(() => insert(event({ series: 'second', label: '1/90' }))).toThrow('number-mismatch');
  });

  test('number under another label', () => {
    expect(() => insert(event({ number: 2 }))).toThrow('number-mismatch');
  });

  test('by the unique indexes alone, should the triggers be gone', () => {
    raw.exec('DROP TRIGGER event_place; DROP TRIGGER event_issued');
    expect(() => insert(event({ label: '1/90' }))).toThrow(/UNIQUE.*label/);
    expect(() => insert(event({ number: 2 }))).toThrow(/UNIQUE.*number/);
    expect(() => insert(event({ key: 'job-7', nth: 1 }))).toThrow(/UNIQUE.*nth/);
    expect(() => insert(event(), 1)).toThrow(/UNIQUE.*seq/);
  });

  test('but another edition has numbers of its own', () => {
    expect(insert(event({ edition: 'other', number: 1, label: '1/90' })).changes).toBe(1);
  });
});

test.each([4, 100, -1, null])('a gap in the sequence is refused: %s', (seq) => {
  // null leaves the place to SQLite, which picks the right one.
  if (seq === null) expect(insert(event(), null).lastInsertRowid).toBe(3);
  else expect(() => insert(event(), seq)).toThrow(/gap|CHECK/);
});

test.each([
  ['never issued', { label: '9/90', number: 9 }],
  ['with another number', { label: '1/90', number: 2 }],
  ['with another series', { label: '1/90', number: 1, series: 'proofs' }],
])('a later event of a number %s is refused', (_what, change) => {
  expect(() => insert(event({ type: 'engraved', ...change }))).toThrow(/not-issued|number-mismatch/);
});

describe('columns cannot disagree with the text', () => {
  test('they cannot be given', () => {
    const sql = 'INSERT INTO event (seq, body, leaf, label) VALUES (3, ?, zeroblob(32), ?)';
    expect(() => raw.prepare(sql).run(JSON.stringify(event()), '4/90')).toThrow(/generated/);
  });

  test('they are what the text says', () => {
    const row = raw
      .prepare('SELECT type, edition, series, number, label, who, at, why, key, nth FROM event')
      .get();
    expect(row).toEqual({
      type: 'issued',
      edition: 'nine-lights',
      series: 'main',
      number: 1,
      label: '1/90',
      who: 'A. Moss',
      at: '2021-03-01T12:00:00.000Z',
      why: 'next free number',
      key: 'job-7',
      nth: 1,
    });
  });

  test('a name twice in the text is refused', () => {
    const twice = JSON.stringify(event()).replace('{', '{"label":"1/90",');
    expect(() => insert(twice)).toThrow(/malformed-event|number-mismatch|issued-before/);
    const late = JSON.stringify(event()).replace(/}$/, ',"label":"1/90"}');
    expect(() => insert(late)).toThrow('malformed-event');
  });

  test.each([
    ['no JSON', 'x'],
    ['a list', '[]'],
    ['no type', event({ type: undefined })],
    ['a number as text', event({ number: '3' })],
    ['a broken number', event({ number: 3.5 })],
    ['number 0', event({ number: 0 })],
    ['no label', event({ label: undefined })],
    ['a label that is a number', event({ label: 3 })],
    ['no series', event({ series: undefined })],
    ['no edition', event({ edition: undefined })],
    ['nobody', event({ by: undefined })],
    ['no reason', event({ why: undefined })],
    ['no time', event({ at: undefined })],
    ['a local time', event({ at: '2021-03-02T12:00:00.000+01:00' })],
    ['a key without a place', event({ key: 'k' })],
    ['a place without a key', event({ nth: 1 })],
  ])('%s is refused', (_what, value) => {
    expect(() => insert(value)).toThrow(/CHECK|JSON|cannot store REAL|malformed-event/);
    expect(everything()).toEqual(before);
  });

  test('a leaf that is no SHA-256 is refused', () => {
    const sql = 'INSERT INTO event (seq, body, leaf) VALUES (3, ?, zeroblob(31))';
    expect(() => raw.prepare(sql).run(canonicalText(event()))).toThrow(/CHECK/);
  });
});

test('every leaf is SHA-256 of a zero byte and the text (RFC 9162, 2.1.1)', () => {
  const rows = raw
    .prepare<[], { seq: number; body: string; leaf: Buffer }>('SELECT * FROM event ORDER BY seq')
    .all();
  expect(rows.map(({ seq }) => seq)).toEqual([0, 1, 2]);
  for (const { body, leaf } of rows) {
    expect(leaf).toEqual(
      createHash('sha256')
        .update(Buffer.from(`\0${body}`, 'utf8'))
        .digest(),
    );
  }
});
