import { closeSync, existsSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import { refuse } from '../../problem.js';
import { told } from './file.js';

/** Pages in one step: all of them, so that the copy is of one moment and no writer makes it begin again. */
const ALL_PAGES = 0x7fff_ffff;

/**
 * Copies an open register into a new file, with the database's own means: others may write meanwhile. The copy is
 * written beside its place and shown there only once it is whole and on disk.
 */
export async function backUp(db: Database.Database, file: string): Promise<void> {
  if (existsSync(file)) {
    throw refuse(
      2,
      file,
      'There is a file already; a copy is never written over.',
      'Give the copy a new name.',
    );
  }
  if (!existsSync(dirname(file))) {
    throw refuse(2, file, 'Its folder is missing.', 'Make the folder, or name another.');
  }
  const beside = `${file}.${process.pid}.part`;
  try {
    await db.backup(beside, { progress: () => ALL_PAGES });
    makeWhole(beside);
    onDisk(beside);
    renameSync(beside, file);
    onDisk(dirname(file));
  } catch (error) {
    throw told(error, file);
  } finally {
    for (const end of ['', '-wal', '-shm', '-journal']) rmSync(beside + end, { force: true });
  }
}

/** One file without companions, and found sound: a copy is wanted on the day when all else is lost. */
function makeWhole(copy: string): void {
  const db = new Database(copy);
  try {
    db.pragma('journal_mode = DELETE');
    const found = db.pragma('integrity_check', { simple: true });
    if (found !== 'ok') {
      throw refuse(
        3,
        copy,
        `The copy is not sound (${found}).`,
        'Issue nothing; look at the register itself.',
      );
    }
  } finally {
    db.close();
  }
}

function onDisk(path: string): void {
  const opened = openSync(path, 'r');
  try {
    fsyncSync(opened);
  } finally {
    closeSync(opened);
  }
}
