import Database from 'better-sqlite3';
import pg from 'pg';
import { describe, expect, test } from 'vitest';
import { diskProblem } from '../../src/app/disk.js';
import { Refusal } from '../../src/problem.js';
import { toRefusal as fromServer } from '../../src/register/postgres/errors.js';
import { toRefusal as fromFile } from '../../src/register/sqlite/errors.js';
import { linesOf, lineOf as wordsOf } from '../words-of.js';

/** Text of a driver or a server, of which nothing may come into a message. */
const RAW = 'near "X": raw text of a library';

const lineOf = (refused: unknown): string => {
  if (!(refused instanceof Refusal)) throw new Error(`not refused, but ${String(refused)}`);
  return linesOf(refused);
};

describe('of an error, nothing is passed on but its code', () => {
  test.each([
    ['SQLITE_ERROR', 'a table, a column or a function is missing'],
    ['SQLITE_CORRUPT_VTAB', 'SQLITE_CORRUPT_VTAB'],
    ['SQLITE_IOERR_WRITE', 'SQLITE_IOERR_WRITE'],
    ['SQLITE_CONSTRAINT_UNIQUE', 'SQLITE_CONSTRAINT_UNIQUE'],
    ['SQLITE_CANTOPEN', 'cannot be opened for writing'],
  ])('%s of SQLite', (code, shown) => {
    const line = lineOf(fromFile(new Database.SqliteError(RAW, code), 'register.db'));
    expect(line).toContain(shown);
    expect(line).not.toContain('raw text');
  });

  test.each([
    ['42P01', 'a table, a column or a function is missing'],
    ['XX001', 'XX001'],
    ['42501', 'lacks a right'],
    ['57P05', '57P05'],
    ['23505', '23505'],
  ])('%s of PostgreSQL', (code, shown) => {
    const error = Object.assign(new pg.DatabaseError(RAW, RAW.length, 'error'), { code });
    const line = lineOf(fromServer(error, 'server.example/bench'));
    expect(line).toContain(shown);
    expect(line).not.toContain('raw text');
  });

  test.each([
    ['ECONNREFUSED', 'No server listens at this address'],
    ['EPROTO', 'EPROTO'],
  ])('%s of the network', (code, shown) => {
    const error = Object.assign(new Error(RAW), { code, syscall: 'connect' });
    expect(lineOf(fromServer(error, 'server.example/bench'))).toContain(shown);
  });

  test('of the disk', () => {
    const found = diskProblem(Object.assign(new Error(RAW), { code: 'EIO', syscall: 'read' }), 'a.csv');
    expect(wordsOf(found!)).toBe('a.csv: The disk fails (error EIO). Check the disk, then ask again.');
    const file = Object.assign(new Error(RAW), { code: 'EACCES', syscall: 'stat' });
    expect(lineOf(fromFile(file, 'register.db'))).toContain('error EACCES');
  });
});

test('a rule in the tables is named by its code', () => {
  const message = 'this number was issued before [register.issued-before]';
  const sqlite = new Database.SqliteError(message, 'SQLITE_CONSTRAINT_TRIGGER');
  const postgres = Object.assign(new pg.DatabaseError(message, 1, 'error'), { code: '23000' });
  const index = Object.assign(new pg.DatabaseError(RAW, 1, 'error'), {
    ...{ code: '23505', constraint: 'issued_label' },
  });
  for (const refused of [fromFile(sqlite, 'a'), fromServer(postgres, 'a'), fromServer(index, 'a')])
    expect((refused as Refusal).problems).toMatchObject([
      { code: 'register.entry-refused', values: { rule: 'register.issued-before' } },
    ]);
});
