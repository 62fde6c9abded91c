import { refuse } from '../../problem.js';
import { RETRY_FOR_MS, type RegisterDeps } from '../register.js';
import { isThere, told } from './file.js';
import { markMoved, prepareMustBeHere } from './moved.js';
import { patiently } from './patience.js';
import { openAlone } from './take-over.js';

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
  if (!isThere(file)) {
    throw refuse(2, file, 'There is no register to move.', 'Name the workshop that has it.');
  }
  const alone = () => {
    try {
      return openAlone(file, now);
    } catch (error) {
      throw told(error, file);
    }
  };
  const { db } = await patiently(alone, file, retryForMs);
  try {
    prepareMustBeHere(db, file)();
    const result = await copy();
    markMoved(db, to, now());
    db.exec('COMMIT');
    return result;
  } catch (error) {
    throw told(error, file);
  } finally {
    // Takes back whatever was not committed.
    db.close();
  }
}
