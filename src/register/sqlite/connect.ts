import { existsSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { refuse } from '../messages.js';
import { toRefusal } from './errors.js';
import { APPLICATION_ID, migrationFrom, SCHEMA_VERSION, STEPS } from './migrations.js';

/** SQLite's own wait stops the whole program, so it is short; the longer wait is in `retry.ts`. */
const BUSY_TIMEOUT_MS = 200;

/** An open register file, and which file it was when opened. */
export interface OpenFile {
  readonly db: Database.Database;
  readonly dev: bigint;
  readonly ino: bigint;
}

/** Whether a register is there. One that has gone away from beside its companions is not "none yet". */
export function registerExists(file: string): boolean {
  // Companions first: whoever makes a register makes the main file before them.
  const companion = ['-wal', '-shm'].map((end) => file + end).find((path) => existsSync(path));
  if (existsSync(file)) return true;
  if (companion !== undefined) throw refuse('register.file-gone', file, { companion });
  if (!existsSync(dirname(file))) throw refuse('register.folder-missing', file, {});
  return false;
}

/** Opens the file, making it when missing, and brings its tables up to date. */
export function openFile(file: string, now: () => Date): OpenFile {
  let db: Database.Database | undefined;
  try {
    db = new Database(file, { timeout: BUSY_TIMEOUT_MS });
    checkOurs(db, file);
    if (db.pragma('journal_mode = WAL', { simple: true }) !== 'wal') {
      throw refuse('register.no-write-ahead-log', file, {});
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
    throw toRefusal(error, file);
  }
}

/** A running program would go on writing into a file that was put aside, while others begin in the new one. */
export function checkSameFile(open: OpenFile, file: string): void {
  const seen = statSync(file, { bigint: true, throwIfNoEntry: false });
  if (seen?.dev === open.dev && seen.ino === open.ino) return;
  throw refuse('register.file-replaced', file, {});
}

function checkOurs(db: Database.Database, file: string): void {
  // Both as of one moment: another process may be making the register just now.
  const { mark, things } = db
    .transaction(() => ({
      // The first read begins the snapshot; the mark is then read from the same one.
      things: db.prepare<[], number>('SELECT count(*) FROM sqlite_schema').pluck().get() ?? 0,
      mark: db.pragma('application_id', { simple: true }),
    }))
    .deferred();
  if (mark !== APPLICATION_ID && (mark !== 0 || things > 0))
    throw refuse('register.other-database', file, {});
}

function migrate(db: Database.Database, file: string, now: () => Date): void {
  if (formOf(db) === STEPS.length) return;
  db.transaction(() => {
    // Read again now that nobody else can write: another process may have been first.
    const form = formOf(db);
    if (form > STEPS.length) throw refuse('register.newer-form', file, { form, known: STEPS.length });
    if (form === STEPS.length) return;
    if (form === 0) {
      db.pragma(`application_id = ${APPLICATION_ID}`);
      db.exec(SCHEMA_VERSION);
    }
    db.exec(migrationFrom(form));
    const enter = db.prepare('INSERT INTO schema_version (version, at) VALUES (?, ?)');
    for (let version = form + 1; version <= STEPS.length; version++) enter.run(version, now().toISOString());
  }).immediate();
}

function formOf(db: Database.Database): number {
  const made = db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'schema_version'").get();
  if (!made) return 0;
  return db.prepare<[], number>('SELECT coalesce(max(version), 0) FROM schema_version').pluck().get() ?? 0;
}
