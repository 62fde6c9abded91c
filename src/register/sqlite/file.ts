import { existsSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { type Refusal, refuse } from '../../problem.js';
import { MIGRATIONS } from './migrations.js';
import { SCHEMA_VERSION } from './soundness.js';

/** Marks the file as a register ("buri"), so that another program's database is not written into. */
const APPLICATION_ID = 0x62757269;
/** SQLite's own wait stops the whole program, so it is short; the longer wait is in `patiently`. */
const BUSY_TIMEOUT_MS = 200;

/** An open register file, and which file it was when opened. */
export interface OpenFile {
  readonly db: Database.Database;
  readonly dev: bigint;
  readonly ino: bigint;
}

/** Whether a register is there. One that has gone away from beside its companions is not "none yet". */
export function isThere(file: string): boolean {
  // Companions first: whoever makes a register makes the main file before them.
  const companion = ['-wal', '-shm'].map((end) => file + end).find((path) => existsSync(path));
  if (existsSync(file)) return true;
  if (companion !== undefined) {
    throw refuse(
      3,
      file,
      `The register is gone, but ${companion} is still there.`,
      'Bring the register back from where it went, or from a copy; a new one would issue every number again.',
    );
  }
  if (!existsSync(dirname(file))) {
    throw refuse(2, file, 'The folder of the register is missing.', 'Name the folder of a workshop.');
  }
  return false;
}

/** Opens the file, making it when missing, and brings its tables up to date. */
export function openFile(file: string, now: () => Date): OpenFile {
  let db: Database.Database | undefined;
  try {
    db = new Database(file, { timeout: BUSY_TIMEOUT_MS });
    checkOurs(db, file);
    if (db.pragma('journal_mode = WAL', { simple: true }) !== 'wal') {
      throw refuse(
        2,
        file,
        'This disk cannot keep a register.',
        'Keep the workshop on a disk of this machine.',
      );
    }
    db.pragma('synchronous = FULL');
    // Without it macOS may acknowledge what its disk has not yet written; elsewhere it changes nothing.
    db.pragma('fullfsync = ON');
    db.pragma('foreign_keys = ON');
    db.pragma('recursive_triggers = ON');
    migrate(db, file, now);
    const { dev, ino } = statSync(file, { bigint: true });
    return { db, dev, ino };
  } catch (error) {
    db?.close();
    throw told(error, file);
  }
}

/** A running program would go on writing into a file that was put aside, while others begin in the new one. */
export function checkSameFile(open: OpenFile, file: string): void {
  const seen = statSync(file, { bigint: true, throwIfNoEntry: false });
  if (seen?.dev === open.dev && seen.ino === open.ino) return;
  throw refuse(
    3,
    file,
    'The register was moved or replaced while this program had it open.',
    'Put the right file in its place and start the program again.',
  );
}

function checkOurs(db: Database.Database, file: string): void {
  const mark = db.pragma('application_id', { simple: true });
  if (mark === APPLICATION_ID) return;
  const things = db.prepare<[], number>('SELECT count(*) FROM sqlite_schema').pluck().get() ?? 0;
  if (mark !== 0 || things > 0) {
    throw refuse(3, file, 'This is a database, but not a register.', 'Name the register of the workshop.');
  }
}

function migrate(db: Database.Database, file: string, now: () => Date): void {
  if (formOf(db) === MIGRATIONS.length) return;
  db.transaction(() => {
    // Read again now that nobody else can write: another process may have been first.
    const form = formOf(db);
    if (form > MIGRATIONS.length) {
      throw refuse(
        3,
        file,
        `The register is of form ${form}; this program knows forms up to ${MIGRATIONS.length}.`,
        'Use the newer program that wrote it.',
      );
    }
    if (form === 0) {
      db.pragma(`application_id = ${APPLICATION_ID}`);
      db.exec(SCHEMA_VERSION);
    }
    const enter = db.prepare('INSERT INTO schema_version (version, at) VALUES (?, ?)');
    for (let version = form + 1; version <= MIGRATIONS.length; version++) {
      db.exec(MIGRATIONS[version - 1]!);
      enter.run(version, now().toISOString());
    }
  }).immediate();
}

function formOf(db: Database.Database): number {
  const made = db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'schema_version'").get();
  if (!made) return 0;
  return db.prepare<[], number>('SELECT coalesce(max(version), 0) FROM schema_version').pluck().get() ?? 0;
}

/** Puts an error of the database or the disk in words. Busy stays as it is: it is waited out, not told. */
export function told(error: unknown, file: string): unknown {
  if (error instanceof Database.SqliteError) {
    return /^SQLITE_(BUSY|LOCKED)/.test(error.code) ? error : inWords(error, file);
  }
  // From looking at the file: `ENOENT`, `EACCES` and the like.
  return error instanceof Error && 'syscall' in error
    ? refuse(
        2,
        file,
        `The register cannot be looked at (${error.message}).`,
        'Check the path and permissions.',
      )
    : error;
}

function inWords(error: { code: string; message: string }, file: string): Refusal {
  const { code, message } = error;
  const say = (exit: 2 | 3, what: string, cure: string) => refuse(exit, file, what, cure);
  if (code.startsWith('SQLITE_CONSTRAINT')) {
    return say(
      3,
      `The register refuses the entry: ${message}.`,
      'Nothing was written; look at what was issued.',
    );
  }
  if (code.startsWith('SQLITE_NOTADB')) {
    return say(3, 'This is not a register.', 'Name the register of the workshop, or bring back a copy.');
  }
  if (code.startsWith('SQLITE_CORRUPT')) {
    return say(3, 'The register is damaged.', 'Issue nothing; bring back your last good copy.');
  }
  // Nothing is asked of the tables that they do not have: they are not what they were.
  if (code === 'SQLITE_ERROR') {
    return say(3, `The tables are damaged (${message}).`, 'Issue nothing; bring back your last good copy.');
  }
  if (code.startsWith('SQLITE_FULL')) {
    return say(2, 'The disk is full; nothing was issued.', 'Make room, then ask again with the same key.');
  }
  if (/^SQLITE_(CANTOPEN|READONLY|PERM|AUTH)/.test(code)) {
    return say(2, 'The register cannot be opened for writing.', 'Check the path, its owner and permissions.');
  }
  return say(
    2,
    `The disk did not answer (${message}).`,
    'See to the disk, then ask again with the same key.',
  );
}
