import Database from 'better-sqlite3';
import type { Refusal } from '../../problem.js';
import { refuse } from '../messages.js';
import { ruleIn } from '../rule-sql.js';

/** Whether another connection has the file, which passes. */
export const isBusy = (error: unknown): boolean =>
  error instanceof Database.SqliteError && /^SQLITE_(BUSY|LOCKED)/.test(error.code);

/**
 * An error of the database or the disk as a refusal; what is neither stays as it is. Busy stays too: it is waited out,
 * not reported.
 */
export function toRefusal(error: unknown, file: string): unknown {
  if (error instanceof Database.SqliteError) return isBusy(error) ? error : ofDatabase(error, file);
  // From looking at the file: `ENOENT`, `EACCES` and the like.
  return error instanceof Error && 'syscall' in error
    ? refuse('register.file-not-readable', file, {
        error: (error as NodeJS.ErrnoException).code ?? 'unknown',
      })
    : error;
}

function ofDatabase({ code, message }: { code: string; message: string }, file: string): Refusal {
  if (code.startsWith('SQLITE_CONSTRAINT')) {
    const rule = ruleIn(message);
    if (rule === 'register.time-far-ahead') return refuse(rule, file, {});
    return refuse('register.entry-refused', file, { rule: rule ?? code });
  }
  if (code.startsWith('SQLITE_NOTADB')) return refuse('register.not-a-database', file, {});
  // Nothing is asked of the tables that they do not have: after SQLITE_ERROR they are not what they were.
  if (code === 'SQLITE_ERROR') return refuse('register.damaged', file, { error: 'tables' });
  if (code.startsWith('SQLITE_CORRUPT')) return refuse('register.damaged', file, { error: code });
  // The second where the file beside it that readers need, too, cannot grow.
  if (code.startsWith('SQLITE_FULL') || code === 'SQLITE_IOERR_SHMSIZE')
    return refuse('register.disk-full', file, {});
  if (/^SQLITE_(CANTOPEN|READONLY|PERM|AUTH)/.test(code))
    return refuse('register.file-not-writable', file, {});
  return refuse('register.disk-failed', file, { error: code });
}
