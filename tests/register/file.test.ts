import { chmodSync, copyFileSync, existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { openFile } from '../../src/register/sqlite/connect.js';
import { linesOf } from '../words-of.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { ask, codesOf, labels, NOON, refusal } from './rules.js';

cleanAfterEach();

const onFile = <T>(file: string, work: (db: Database.Database) => T): T => {
  const db = new Database(file);
  try {
    return work(db);
  } finally {
    db.close();
  }
};

describe('the file', () => {
  test('is made by the first issue, not by looking', async () => {
    const file = newFile();
    const register = await open(file);
    expect(await register.statuses('nine-lights')).toEqual([]);
    expect(await register.stateOf('nine-lights', '1/90')).toBeUndefined();
    expect(existsSync(file)).toBe(false);
    await register.issue(ask);
    expect(existsSync(file)).toBe(true);
  });

  test('is not made by a request that is not well formed', async () => {
    const file = newFile();
    await refusal((await open(file)).issue({ ...ask, count: 0 }));
    expect(existsSync(file)).toBe(false);
  });

  test('is found again', async () => {
    const file = newFile();
    await (await open(file)).issue({ ...ask, count: 2 });
    const again = await open(file);
    expect(labels(await again.statuses('nine-lights'))).toEqual(['1/90', '2/90']);
    expect(labels(await again.issue(ask))).toEqual(['3/90']);
  });

  test('keeps a write-ahead log and counts its form', async () => {
    const file = newFile();
    await (await open(file)).issue(ask);
    onFile(file, (db) => {
      expect(db.pragma('journal_mode', { simple: true })).toBe('wal');
      expect(db.prepare('SELECT version FROM schema_version').pluck().all()).toEqual([
        1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11,
      ]);
      expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    });
  });

  test('is waited on for every commit: nothing is acknowledged before the disk has it', async () => {
    const { db } = openFile(newFile(), () => NOON);
    // SQLite documentation, "PRAGMA synchronous": 2 is FULL, which syncs the write-ahead log at each commit.
    expect(db.pragma('synchronous', { simple: true })).toBe(2);
    expect(db.pragma('foreign_keys', { simple: true })).toBe(1);
    db.close();
  });

  test('may be an empty one, left by a program that died while making it', async () => {
    const file = newFile();
    writeFileSync(file, '');
    expect(labels(await (await open(file)).issue(ask))).toEqual(['1/90']);
  });
});

describe('a file that will not do is refused:', () => {
  const both = async (file: string) => {
    const register = await open(file);
    const refused = [await refusal(register.issue(ask)), await refusal(register.statuses('nine-lights'))];
    for (const { message } of refused) expect(message).toContain(file);
    expect(refused[0]!.exit).toBe(refused[1]!.exit);
    return refused[0]!;
  };

  test('in no folder', async () => {
    const refused = await both(join(dirname(newFile()), 'nowhere', 'register.db'));
    expect(refused.exit).toBe(2);
    expect(linesOf(refused)).toContain('folder');
  });

  test('a folder', async () => {
    const file = newFile();
    mkdirSync(file);
    expect((await both(file)).exit).toBe(2);
  });

  test('no database', async () => {
    const file = newFile();
    writeFileSync(file, 'numbers: none\n'.repeat(100));
    expect((await both(file)).exit).toBe(3);
  });

  test("another program's database, which is left as it was", async () => {
    const file = newFile();
    onFile(file, (db) => db.exec('CREATE TABLE letter (id)'));
    expect((await both(file)).exit).toBe(3);
    onFile(file, (db) => {
      expect(db.pragma('journal_mode', { simple: true })).toBe('delete');
      expect(db.prepare('SELECT name FROM sqlite_schema').pluck().all()).toEqual(['letter']);
    });
  });

  test('of a later form', async () => {
    const file = newFile();
    const first = await open(file);
    await first.issue(ask);
    await first.close();
    // What the next burin does to it: other tables, and the row that says so.
    onFile(file, (db) =>
      db.exec(`DROP TRIGGER schema_version_by_burin; ALTER TABLE event ADD COLUMN later TEXT;
        INSERT INTO schema_version VALUES (12, 'later')`),
    );
    const refused = await both(file);
    expect(refused.exit).toBe(3);
    expect(linesOf(refused)).toContain('format 12');
  });

  test('gone, with its companions left behind', async () => {
    const file = newFile();
    await (await open(file)).issue(ask);
    renameSync(file, `${file}.aside`);
    const refused = await both(file);
    expect(refused.exit).toBe(3);
    expect(existsSync(file)).toBe(false);
  });

  test('moved or replaced while open', async () => {
    const file = newFile();
    const register = await open(file);
    await register.issue(ask);
    renameSync(file, `${file}.aside`);
    expect((await refusal(register.issue(ask))).exit).toBe(3);
    copyFileSync(`${file}.aside`, file);
    expect((await refusal(register.issue(ask))).exit).toBe(3);
    rmSync(file);
    renameSync(`${file}.aside`, file);
    expect(labels(await register.issue(ask))).toEqual(['2/90']);
  });

  // The owner of everything may write everywhere, so there is nothing to see as root.
  test.skipIf(process.getuid?.() === 0)('not to be written', async () => {
    const file = newFile();
    chmodSync(dirname(file), 0o500);
    const refused = await refusal((await open(file)).issue(ask));
    chmodSync(dirname(file), 0o700);
    expect(refused.exit).toBe(2);
  });

  test('changed behind its back', async () => {
    const file = newFile();
    await (await open(file)).issue({ ...ask, count: 2 });
    onFile(file, (db) => {
      db.exec('DROP TRIGGER event_not_changed');
      db.exec(`UPDATE event SET body = replace(body, 'Moss', 'Fern') WHERE seq = 1`);
    });
    const refused = await refusal((await open(file)).statuses('nine-lights'));
    expect(refused.exit).toBe(3);
    expect(linesOf(refused)).toContain('event 1');
  });
});

test('that went back to an older state is refused while a program that saw more is running', async () => {
  const file = newFile();
  const register = await open(file);
  await register.issue({ ...ask, count: 3 });
  onFile(file, (db) => db.exec('DROP TRIGGER event_not_deleted; DELETE FROM event WHERE seq = 2'));
  expect((await refusal(register.issue(ask))).problems[0]).toMatchObject({
    code: 'register.rolled-back',
    values: { seq: 2 },
  });
});

test('finds what was done to its triggers, indexes and tables', async () => {
  const file = newFile();
  const register = await open(file);
  expect(await register.faults()).toEqual([]);
  await register.issue(ask);
  expect(await register.faults()).toEqual([]);
  onFile(file, (db) =>
    db.exec(`
      DROP TRIGGER event_not_deleted;
      DROP TRIGGER event_void;
      CREATE TRIGGER event_void BEFORE INSERT ON event WHEN false BEGIN SELECT 1; END;
      CREATE TRIGGER swallow BEFORE INSERT ON event BEGIN SELECT RAISE(IGNORE); END;
      DROP INDEX issued_number`),
  );
  expect((await register.faults()).map(({ code, values }) => `${code} ${values.object}`).sort()).toEqual([
    'register.store-object-altered trigger event_void',
    'register.store-object-foreign trigger swallow',
    'register.store-object-missing index issued_number',
    'register.store-object-missing trigger event_not_deleted',
  ]);
});

/** Longer than any machine takes over what is waited for. */
const LONG_MS = 120_000;

describe('a busy register', () => {
  const held = async (retryForMs: number) => {
    const file = newFile();
    const register = await open(file, retryForMs);
    await register.issue(ask);
    const other = new Database(file);
    other.exec('BEGIN IMMEDIATE');
    return { register, other };
  };

  test('is waited for', async () => {
    const { register, other } = await held(LONG_MS);
    setTimeout(() => other.exec('COMMIT'), 350);
    expect(labels(await register.issue(ask))).toEqual(['2/90']);
    other.close();
  });

  test('is told in one clear line when it stays so, and nothing was written', async () => {
    const { register, other } = await held(600);
    const refused = await refusal(register.issue(ask));
    expect(refused.exit).toBe(2);
    expect(codesOf(refused)).toEqual(['register.busy']);
    expect(linesOf(refused)).not.toContain('\n');
    expect(labels(await register.statuses('nine-lights'))).toEqual(['1/90']);
    other.close();
    expect(labels(await register.issue(ask))).toEqual(['2/90']);
  });

  test('is waited for while it is being made', async () => {
    const file = newFile();
    const other = new Database(file);
    other.exec('BEGIN EXCLUSIVE');
    setTimeout(() => other.exec('COMMIT'), 350);
    expect(labels(await (await open(file, LONG_MS)).issue(ask))).toEqual(['1/90']);
    other.close();
  });
});
