import { closeSync, existsSync, fsyncSync, linkSync, lstatSync, openSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { refuse } from '../messages.js';
import { makePrivate } from './connect.js';
import { toRefusal } from './errors.js';

/** Pages in one step: all of them, so that the copy is of one moment and no writer makes it begin again. */
const ALL_PAGES = 0x7fff_ffff;

/**
 * Copies an open register into a new file, with the database's own means: others may write meanwhile. The copy is
 * written beside its place and gets its name only once it is whole and on disk.
 */
export async function backUp(db: Database.Database, file: string): Promise<void> {
  // A link that leads nowhere is something too.
  if (lstatSync(file, { throwIfNoEntry: false })) {
    throw refuse('register.copy-exists', file, {});
  }
  if (!existsSync(dirname(file))) {
    throw refuse('register.copy-folder-missing', file, {});
  }
  const beside = `${file}.${process.pid}.part`;
  try {
    makePrivate(beside);
    await db.backup(beside, { progress: () => ALL_PAGES });
    makeSingleFile(beside);
    syncToDisk(beside);
    nameNew(beside, file);
    syncToDisk(dirname(file));
  } catch (error) {
    // It is the copy that the system speaks of: the register is open.
    const { syscall, code = 'unknown' } = error as NodeJS.ErrnoException;
    throw syscall === undefined
      ? toRefusal(error, file)
      : refuse('register.copy-not-written', file, { error: code });
  } finally {
    for (const end of ['', '-wal', '-shm', '-journal']) rmSync(beside + end, { force: true });
  }
}

/** Gives a new file its name, where nothing has it; another may have taken it meanwhile. */
function nameNew(beside: string, file: string): void {
  try {
    linkSync(beside, file);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') throw refuse('register.copy-exists', file, {});
    // A disk without hard links.
    if (code !== 'EPERM' && code !== 'ENOTSUP' && code !== 'ENOSYS') throw error;
    renameSync(beside, file);
  }
}

/** Makes the copy one file without companions, and checks it: a copy is needed on the day when all else is lost. */
function makeSingleFile(copy: string): void {
  const db = new Database(copy);
  try {
    db.pragma('journal_mode = DELETE');
    // What the register goes past may break them.
    db.pragma('ignore_check_constraints = ON');
    const found = db.pragma('integrity_check', { simple: true });
    if (found !== 'ok') {
      throw refuse('register.copy-unsound', copy, {});
    }
  } finally {
    db.close();
  }
}

function syncToDisk(path: string): void {
  const opened = openSync(path, 'r');
  try {
    fsyncSync(opened);
  } finally {
    closeSync(opened);
  }
}
