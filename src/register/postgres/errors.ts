import pg from 'pg';
import type { Refusal } from '../../problem.js';
import { refuse } from '../messages.js';
import { ruleIn } from '../rule-sql.js';
import { ConnectionError, codeOf } from './client.js';

/** The commit was asked for and no answer came: it is not known whether anything was written. */
export class AnswerLost extends Error {
  constructor(cause: unknown) {
    super('the answer was lost', { cause });
  }
}

/** The rows that were sent are not there as they were sent. */
export class NotEntered extends Error {
  constructor(cause: unknown) {
    super('the rows are not there', { cause });
  }
}

/** The rules that the unique indexes stand for, by the codes that the triggers of the SQLite register give. */
const TAKEN: Readonly<Record<string, string>> = {
  event_pkey: 'register.place-taken',
  issued_label: 'register.issued-before',
  issued_number: 'register.issued-before',
  request_nth: 'register.request-repeated',
  checkpoint_pkey: 'register.checkpoint-exists',
};

/**
 * An error of the server or the connection as a refusal; what is neither stays as it is. No text of the
 * server is repeated: it may hold what was sent. The URL and the password are in none.
 */
export function toRefusal(error: unknown, name: string): unknown {
  if (error instanceof pg.DatabaseError) return ofServer(error, name);
  if (error instanceof NotEntered) return refuse('register.not-entered', name, {});
  if (!(error instanceof Error)) return error;
  const code = codeOf(error);
  if (code === 'ENOTFOUND') return refuse('register.no-such-host', name, {});
  const fault = error instanceof ConnectionError ? error.fault : undefined;
  if (fault === 'password-missing') return refuse('register.password-missing', name, {});
  if (fault === 'password-unsafe') return refuse('register.password-unsafe', name, {});
  if (fault === 'not-secured') return refuse('register.no-tls', name, { error: code || 'none' });
  if (fault === 'not-authenticated') return refuse('register.authentication-failed', name, {});
  if ('syscall' in error) return refuse('register.connection-failed', name, { error: code });
  return error;
}

/** By SQLSTATE (PostgreSQL documentation, appendix A). */
function ofServer({ code = '', message, constraint = '' }: pg.DatabaseError, name: string): Refusal {
  // Integrity, and values that do not fit their columns.
  if (/^2[23]/.test(code)) {
    const rule = TAKEN[constraint] ?? ruleIn(message);
    if (rule === 'register.time-far-ahead' || rule === 'register.not-keeper') return refuse(rule, name, {});
    return refuse('register.entry-refused', name, { rule: rule ?? (constraint || code) });
  }
  if (code.startsWith('28')) return refuse('register.user-refused', name, {});
  if (code === '3D000') return refuse('register.no-such-database', name, {});
  if (code === '42501') return refuse('register.not-permitted', name, {});
  if (code === '25006') return refuse('register.read-only-server', name, {});
  if (/^53[12]/.test(code)) return refuse('register.server-full', name, {});
  // XX001, XX002: damaged data, damaged index. 42P01, 42703, 42883: a table, column or function is gone.
  if (/^(42P01|42703|42883)/.test(code)) return refuse('register.damaged', name, { error: 'tables' });
  if (/^XX00[12]/.test(code)) return refuse('register.damaged', name, { error: code });
  return refuse('register.server-failed', name, { error: code });
}
