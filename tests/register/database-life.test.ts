import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { leafHash } from '../../src/register/event.js';
import { bodyOf, codeIn, MISSHAPEN, type Put, WHOLE_LIVES, WRONG } from './by-hand.js';
import { cleanAfterEach, unusedFile } from './folder.js';

// The database itself must refuse: wrong events by hand, over a plain connection, past the register's own code.
cleanAfterEach();

let raw: Database.Database;

beforeEach(() => {
  raw = new Database(unusedFile());
});
afterEach(() => raw.close());

const size = () => raw.prepare<[], number>('SELECT count(*) FROM event').pluck().get()!;

const put = (one: Put) => {
  const body = bodyOf(one);
  return raw
    .prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, ?)')
    .run(size(), body, leafHash(body));
};

/** The rule by which the database refuses it. */
function refusedBy(one: Put): string | undefined {
  try {
    put(one);
    return undefined;
  } catch (error) {
    return codeIn(error);
  }
}

describe('the whole life goes in by hand where it is in order', () => {
  test.each(WHOLE_LIVES)('%s', (_what, events) => {
    for (const one of events) expect(put(one).changes).toBe(1);
  });
});

describe('a wrong event by hand is refused', () => {
  test.each(WRONG)('%s', (_what, events, wrong, code) => {
    for (const one of events) put(one);
    expect(refusedBy(wrong)).toBe(code.includes('.') ? code : `register.${code}`);
    expect(size()).toBe(events.length);
  });

  test.each(MISSHAPEN)('%s', (_what, wrong) => {
    expect(refusedBy(wrong)).toMatch(/^register.(malformed-event|not-issued|no-such-entry)$|CHECK/);
    expect(size()).toBe(0);
  });
});

describe('a checkpoint by hand', () => {
  const keep = (at: number, more = '', verb = 'INSERT') =>
    raw
      .prepare(`${verb} INTO checkpoint VALUES (?, 'note${more}' || char(10) || ? || char(10), zeroblob(32))`)
      .run(at, String(at));

  test('is only added, each size once, of events that are there', () => {
    put('issued');
    keep(1);
    expect(() => keep(2)).toThrow('not so many events');
    for (const verb of ['INSERT', 'REPLACE', 'INSERT OR IGNORE']) {
      expect(() => keep(1, 'x', verb)).toThrow('there is a checkpoint of this size');
    }
    expect(() => raw.exec("UPDATE checkpoint SET note = 'x'")).toThrow('never changed');
    expect(() => raw.exec('DELETE FROM checkpoint')).toThrow('never deleted');
    expect(() =>
      raw.exec("INSERT INTO checkpoint VALUES (0, 'n' || char(10) || '0' || char(10), zeroblob(31))"),
    ).toThrow(/CHECK/);
  });
});
