import {
  accessSync,
  closeSync,
  constants,
  copyFileSync,
  existsSync,
  mkdtempSync,
  openSync,
  rmSync,
  statSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import Database from 'better-sqlite3';
import { refuse } from '../messages.js';
import { tableVersion } from '../table-version.js';
import { toRefusal } from './errors.js';
import { isAsMade } from './faults.js';
import { APPLICATION_ID, migrationFrom, SCHEMA_VERSION, STEPS } from './migrations.js';
import { CREATE_RULES } from './rules.js';

/** SQLite's own wait stops the whole program, so it is short; the longer wait is in `retry.ts`. */
const BUSY_TIMEOUT_MS = 200;

/** An open register file, and which file it was when opened. */
export interface OpenFile {
  readonly db: Database.Database;
  readonly dev: bigint;
  readonly ino: bigint;
  /** The version of its tables; 0 where it has none yet. */
  readonly form: number;
  close(): void;
}

/** Whether a register is there. One that has gone away from beside its companions is not "none yet". */
export function registerExists(file: string): boolean {
  // Companions first: whoever makes a register makes the main file before them.
  const companion = ['-wal', '-shm'].map((end) => file + end).find((path) => existsSync(path));
  const found = statSync(file, { throwIfNoEntry: false });
  // SQLite would wait for a pipe, or say that the disk fails.
  if (found && !found.isFile())
    throw refuse('register.not-a-file', file, { kind: found.isDirectory() ? 'folder' : 'other' });
  if (found) return true;
  if (companion !== undefined) throw refuse('register.file-gone', file, { companion });
  if (!existsSync(dirname(file))) throw refuse('register.folder-missing', file, {});
  return false;
}

/**
 * A file that is made here is for its owner alone, as it has people's names, and SQLite gives its companions the same rights.
 * One that is there keeps those it has.
 */
export function makePrivate(file: string): void {
  try {
    closeSync(openSync(file, 'wx', 0o600));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
}

/** Opens the file, making it when missing, and brings its tables up to date. */
export function openFile(file: string, now: () => Date): OpenFile {
  let db: Database.Database | undefined;
  try {
    makePrivate(file);
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
    return opened(db, file, STEPS.length);
  } catch (error) {
    db?.close();
    throw toRefusal(error, file);
  }
}

function opened(db: Database.Database, file: string, form: number, close?: () => void): OpenFile {
  const { dev, ino } = statSync(file, { bigint: true });
  return { db, dev, ino, form, close: close ?? (() => void db.close()) };
}

/**
 * Opens a register to be looked at: its tables are left as they are, of whatever form, and no write access is needed.
 */
export function openFileForReading(file: string): OpenFile {
  let open: OpenDatabase | undefined;
  try {
    open = isWritable(file) ? openInPlace(file, false) : openUnwritable(file);
    const { db, close } = open;
    checkOurs(db, file);
    const form = formOf(db);
    if (form > STEPS.length) throw refuse('register.newer-form', file, { form, known: STEPS.length });
    return opened(db, file, form, close);
  } catch (error) {
    open?.close();
    throw toRefusal(error, file);
  }
}

function isWritable(file: string): boolean {
  try {
    for (const path of [file, dirname(file)]) accessSync(path, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

interface OpenDatabase {
  readonly db: Database.Database;
  readonly close: () => void;
}

function openInPlace(file: string, readonly: boolean): OpenDatabase {
  const db = new Database(file, { timeout: BUSY_TIMEOUT_MS, readonly, fileMustExist: true });
  const close = () => void db.close();
  try {
    // A connection that may write takes its companions away when it ends; it is only asked.
    db.pragma('query_only = ON');
    db.prepare('SELECT count(*) FROM sqlite_schema').get();
    return { db, close };
  } catch (error) {
    close();
    throw error;
  }
}

/**
 * In a folder that takes no companions, SQLite reads no file that is kept with a write-ahead log, unless they are there.
 * Where they are not, nobody writes, and a copy is read in its place.
 */
function openUnwritable(file: string): OpenDatabase {
  try {
    return openInPlace(file, true);
  } catch (error) {
    if (!(error instanceof Database.SqliteError && /^SQLITE_(CANTOPEN|READONLY)/.test(error.code)))
      throw error;
    if (existsSync(`${file}-shm`)) throw error;
  }
  const folder = mkdtempSync(join(tmpdir(), 'burin-register-'));
  const remove = () => rmSync(folder, { recursive: true, force: true });
  try {
    const copy = join(folder, 'register.db');
    const before = stateOf(file);
    for (const end of ['', '-wal']) {
      if (existsSync(file + end)) copyFileSync(file + end, copy + end, constants.COPYFILE_FICLONE);
    }
    if (stateOf(file) !== before) throw refuse('register.file-changing', file, {});
    const { db } = openInPlace(copy, false);
    return {
      db,
      close: () => {
        db.close();
        remove();
      },
    };
  } catch (error) {
    remove();
    throw error;
  }
}

/** Size and time of the last change of a file and its companions. */
const stateOf = (file: string): string =>
  ['', '-wal', '-shm']
    .map((end) => {
      const seen = statSync(file + end, { bigint: true, throwIfNoEntry: false });
      return seen ? `${seen.size} ${seen.mtimeNs}` : '-';
    })
    .join(', ');

/** A running program would go on writing into a file that was put aside, while others begin in the new one. */
export function checkSameFile(open: Pick<OpenFile, 'dev' | 'ino'>, file: string): void {
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
    db.exec(CREATE_RULES);
  }).immediate();
}

function formOf(db: Database.Database): number {
  const made = db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'schema_version'").get();
  if (!made) return 0;
  const rows = db.prepare<[], number>('SELECT version FROM schema_version').pluck().all();
  const form = tableVersion(rows, STEPS.length);
  // Of another version only where its tables are others too: each step changes them, and anybody may put a row in.
  return form !== STEPS.length && isAsMade(db) ? STEPS.length : form;
}
