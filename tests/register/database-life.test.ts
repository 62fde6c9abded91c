import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openFile } from '../../src/register/sqlite/file.js';
import { MIGRATIONS } from '../../src/register/sqlite/migrations.js';
import { ask, labels, NOON, PLAN, refusal } from './ask.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { asking } from './life-rules.js';

// The database itself must refuse: wrong events by hand, over a plain connection, past the register's own code.
cleanAfterEach();

const AT = NOON.toISOString();
const CLOSED = { type: 'closed', edition: 'nine-lights', by: 'A. Moss', statement: 'ab'.repeat(32) };

let raw: Database.Database;

beforeEach(() => {
  const file = newFile();
  openFile(file, () => NOON).db.close();
  raw = new Database(file);
});
afterEach(() => raw.close());

const size = () => raw.prepare<[], number>('SELECT count(*) FROM event').pluck().get()!;

/** An event of number 1, written as a hand would: not canonical, its leaf not its hash. */
const insert = (type: string, more: object = {}) => {
  const of =
    type === 'closed' ? CLOSED : { edition: 'nine-lights', series: 'main', number: 1, label: '1/90' };
  const body = JSON.stringify({ ...of, type, at: AT, by: 'A. Moss', why: 'by hand', ...more });
  return raw.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, zeroblob(32))').run(size(), body);
};

type Put = string | [type: string, more: object];
const put = (one: Put) => (typeof one === 'string' ? insert(one) : insert(...one));

const MATCHED: Put = ['issued', { parts: ['cap', 'barrel'] }];
const WITNESSED: Put = ['destroyed', { witness: 'B. Fern' }];
const of = (type: string, part: string, more: object = {}): Put => [type, { part, ...more }];

describe('the whole life goes in by hand where it is in order', () => {
  test.each<[string, Put[]]>([
    [
      'to a second piece',
      ['issued', 'engraved', 'scrapped', WITNESSED, 'recut', 'engraved', 'inspected', 'delivered'],
    ],
    ['part by part', [MATCHED, of('engraved', 'cap'), of('engraved', 'barrel'), 'inspected', 'delivered']],
    ['withheld before its issue', ['withheld', 'released', 'issued', 'withheld', 'released', 'engraved']],
    ['void', ['withheld', 'void']],
    ['after the closing', ['issued', 'closed', 'engraved']],
  ])('%s', (_what, events) => {
    for (const one of events) expect(put(one).changes).toBe(1);
  });
});

describe('a wrong event by hand is refused', () => {
  test.each<[string, Put[], Put, RegExp]>([
    ['second issue', ['issued'], 'issued', /issued before/],
    ['engraved twice', ['issued', 'engraved'], 'engraved', /not blank/],
    ['a part engraved twice', [MATCHED, of('engraved', 'cap')], 'engraved', /not blank/],
    ['a part it has not', [MATCHED], of('engraved', 'clip'), /no such part/],
    ['a part of one whole piece', ['issued'], of('engraved', 'cap'), /no such part/],
    ['engraved, never issued', [], 'engraved', /no such number was issued/],
    ['inspected while a part is blank', [MATCHED, of('engraved', 'cap')], 'inspected', /not just engraved/],
    ['inspected twice', ['issued', 'engraved', 'inspected'], 'inspected', /not just engraved/],
    ['delivered before inspected', ['issued', 'engraved'], 'delivered', /not just inspected/],
    ['delivered twice', ['issued', 'engraved', 'inspected', 'delivered'], 'delivered', /not just inspected/],
    ['recut of a live piece', ['issued', 'engraved'], 'recut', /two pieces/],
    ['recut before destroyed', ['issued', 'engraved', 'scrapped'], 'recut', /two pieces/],
    [
      'recut of the sound part',
      [MATCHED, of('scrapped', 'cap'), of('destroyed', 'cap', { witness: 'B' })],
      'recut',
      /two/,
    ],
    ['recut twice', ['issued', 'scrapped', WITNESSED, 'recut'], 'recut', /two pieces/],
    ['scrapped twice', ['issued', 'scrapped'], 'scrapped', /scrapped before/],
    ['destroyed, not scrapped', ['issued', 'engraved'], WITNESSED, /not scrapped/],
    ['destroyed unseen', ['issued', 'scrapped'], 'destroyed', /CHECK/],
    ['destroyed, seen by the same', ['issued', 'scrapped'], ['destroyed', { witness: 'A. Moss' }], /witness/],
    [
      'the same in small letters',
      ['issued', 'scrapped'],
      ['destroyed', { witness: ' a.  moss ' }],
      /witness/,
    ],
    ['issue of a withheld number', ['withheld'], 'issued', /withheld or void/],
    ['issue of a void number', ['void'], 'issued', /withheld or void/],
    ['engraved while withheld', ['issued', 'withheld'], 'engraved', /withheld/],
    ['withheld once delivered', ['issued', 'engraved', 'inspected', 'delivered'], 'withheld', /delivered/],
    ['withheld while scrapped', ['issued', 'scrapped'], 'withheld', /scrapped/],
    ['released, never withheld', ['issued'], 'released', /not withheld/],
    ['anything once void', ['issued', 'void'], 'withheld', /void/],
    ['void of a live piece', ['issued', 'engraved'], 'void', /still bears/],
    ['issue once closed', ['closed'], 'issued', /closed/],
    ['withheld once closed', ['closed'], 'withheld', /closed/],
    ['closed twice', ['closed'], 'closed', /closed before/],
    ['another number under the label', ['withheld'], ['void', { number: 2 }], /belongs to another number/],
    ['another label for the number', ['withheld'], ['void', { label: 'I' }], /another label/],
    ['issue under a label kept back', ['withheld', 'released'], ['issued', { number: 2 }], /another number/],
    ['issue of a number kept back', ['withheld', 'released'], ['issued', { label: 'I' }], /another label/],
    ['an earlier time', ['issued'], ['engraved', { at: '2031-03-01T11:59:59.999Z' }], /earlier/],
  ])('%s', (_what, events, wrong, why) => {
    for (const one of events) put(one);
    expect(() => put(wrong)).toThrow(why);
    expect(size()).toBe(events.length);
  });

  test.each<[string, Put]>([
    ['of no kind', 'melted'],
    ['a statement that is no hash', ['closed', { statement: 'AB'.repeat(32) }]],
    ['a closing of a number', ['closed', { series: 'main', number: 1, label: '1/90' }]],
    ['an issue of no number', ['issued', { series: undefined, number: undefined, label: undefined }]],
    ['a witness of an issue', ['issued', { witness: 'B' }]],
    ['a witness that is a number', ['destroyed', { witness: 7 }]],
    ['a part of an issue', of('issued', 'cap')],
    ['parts of nothing', ['issued', { parts: [] }]],
    ['parts that are no list', ['issued', { parts: 'cap' }]],
    ['parts that are no names', ['issued', { parts: [1] }]],
    ['a part twice', ['issued', { parts: ['cap', 'cap'] }]],
    ['a recipient of an issue', ['issued', { to: 'B' }]],
    ['a short salt', ['issued', { salt: 'AAAA' }]],
    ['a salt in other letters', ['issued', { salt: 'AAAAAAAAAAAAAAAAAAAAA_' }]],
    ['a day that is no text', ['issued', { on: 2031 }]],
    ['a name that is of no use', ['issued', { colour: 'red' }]],
  ])('%s', (_what, wrong) => {
    expect(() => put(wrong)).toThrow(/CHECK|no kind|names|of no use|no such/);
    expect(size()).toBe(0);
  });

  test('a second closing, should the triggers be gone', () => {
    raw.exec('DROP TRIGGER closed_before');
    insert('closed');
    expect(() => insert('closed')).toThrow(/UNIQUE.*edition/);
  });
});

describe('a checkpoint by hand', () => {
  const keep = (at: number, more = '', verb = 'INSERT') =>
    raw.prepare(`${verb} INTO checkpoint VALUES (?, 'note${more}', zeroblob(32))`).run(at);

  test('is only added, each size once, of events that are there', () => {
    insert('issued');
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
  expect(labels(await now.issued('nine-lights'))).toEqual(['1/90', '2/90', '3/90', 'A.P. I/IX']);
  expect((await now.record(asking('engraved'))).state).toBe('engraved');
  expect((await refusal(now.record(asking('engraved')))).exit).toBe(3);
  expect(labels(await now.issue({ ...ask, count: 3, key: 'job-7' }))).toEqual(labels(PLAN.slice(0, 3)));
  const db = new Database(file, { readonly: true });
  expect(db.prepare('SELECT seq, body, leaf FROM event ORDER BY seq LIMIT 4').all()).toEqual(kept);
  expect(db.prepare('SELECT version FROM schema_version').pluck().all()).toEqual([1, 2]);
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
  db.close();
});
