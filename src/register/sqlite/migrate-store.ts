import type Database from 'better-sqlite3';
import { type Problem, Refusal } from '../../problem.js';
import { problem, refuse } from '../messages.js';
import { RETRY_FOR_MS, type RegisterDeps } from '../register.js';
import { type OpenFile, openFile, registerExists } from './connect.js';
import { toRefusal } from './errors.js';
import { retryWhileBusy } from './retry.js';

/**
 * Looks where a register was moved to; undefined where it was not. What its file says of a number may be out of date, so
 * nothing is asked of it but all that it holds.
 */
export function prepareMovedCheck(db: Database.Database, file: string): () => Problem | undefined {
  // Registers of the first forms could not be moved.
  if (!db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'moved'").get()) return () => undefined;
  const copied = db.prepare<[], string>('SELECT register FROM moved').pluck();
  return () => {
    const register = copied.get();
    return register === undefined ? undefined : problem('register.moved', file, { register });
  };
}

/**
 * Holds every writer of a register file off while `copy` brings its events to another place; when that has succeeded,
 * the file is marked as moved there. When it fails, the file is as it was.
 */
export async function migrateStore<T>(
  file: string,
  to: string,
  { now, retryForMs = RETRY_FOR_MS }: RegisterDeps,
  copy: () => Promise<T>,
): Promise<T> {
  if (!registerExists(file)) throw refuse('register.nothing-to-move', file, {});
  const { db } = await retryWhileBusy(async () => exclusiveLock(file, now), file, retryForMs);
  try {
    const moved = prepareMovedCheck(db, file)();
    if (moved) throw new Refusal([moved]);
    const result = await copy();
    db.prepare('INSERT INTO moved (one, register, at) VALUES (1, ?, ?)').run(to, now().toISOString());
    db.exec('COMMIT');
    return result;
  } catch (error) {
    throw toRefusal(error, file);
  } finally {
    // Takes back whatever was not committed.
    db.close();
  }
}

/** A connection with a transaction begun, in which nobody else writes; closing it takes back what is not committed. */
function exclusiveLock(file: string, now: () => Date): OpenFile {
  const open = openFile(file, now);
  try {
    open.db.exec('BEGIN IMMEDIATE');
    return open;
  } catch (error) {
    open.db.close();
    throw error;
  }
}
