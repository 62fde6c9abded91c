import pg from 'pg';
import type { Refusal } from '../../problem.js';
import { refuse } from '../messages.js';
import { ConnectionError, codeOf } from './client.js';

/** The commit was asked for and no answer came: it is not known whether anything was written. */
export class AnswerLost extends Error {
  constructor(cause: unknown) {
    super('the answer was lost', { cause });
  }
}

/** What the unique indexes stand for, as the triggers of the SQLite register say it. */
const TAKEN: Readonly<Record<string, string>> = {
  event_pkey: 'this place in the sequence is taken [register.place-taken]',
  issued_label: 'this label was issued before [register.issued-before]',
  issued_number: 'this number was issued before [register.issued-before]',
  request_nth: 'this request was carried out before [register.request-repeated]',
  closed_once: 'this edition was closed before [register.closed-before]',
  checkpoint_pkey: 'there is a checkpoint of this size [register.checkpoint-exists]',
};

/**
 * An error of the server or the connection as a refusal; what is neither stays as it is. Of the server's text only its
 * main line is repeated, never a detail: that may hold what was sent. The URL and the password are in none.
 */
export function toRefusal(error: unknown, name: string): unknown {
  if (error instanceof pg.DatabaseError) return ofServer(error, name);
  if (!(error instanceof Error)) return error;
  const code = codeOf(error);
  if (code === 'ENOTFOUND') return refuse('register.no-such-host', name, {});
  const fault = error instanceof ConnectionError ? error.fault : undefined;
  if (fault === 'password-missing') return refuse('register.password-missing', name, {});
  if (fault === 'password-unsafe') return refuse('register.password-unsafe', name, {});
  if (fault === 'not-secured') return refuse('register.no-tls', name, { reason: code || 'TLS' });
  if (fault === 'not-authenticated') return refuse('register.authentication-failed', name, {});
  if ('syscall' in error) return refuse('register.connection-failed', name, { reason: code });
  return error;
}

/** By SQLSTATE (PostgreSQL documentation, appendix A). */
function ofServer({ code = '', message, constraint = '' }: pg.DatabaseError, name: string): Refusal {
  // Integrity, and values that do not fit their columns.
  if (/^2[23]/.test(code)) {
    return refuse('register.entry-refused', name, { reason: TAKEN[constraint] ?? message });
  }
  if (code.startsWith('28')) return refuse('register.user-refused', name, {});
  if (code === '3D000') return refuse('register.no-such-database', name, {});
  if (code === '42501') return refuse('register.not-permitted', name, { reason: message });
  if (code === '25006') return refuse('register.read-only-server', name, {});
  if (/^53[12]/.test(code)) return refuse('register.server-full', name, {});
  // XX001, XX002: damaged data, damaged index. 42P01, 42703, 42883: a table, column or function is gone.
  if (/^(XX00[12]|42P01|42703|42883)/.test(code))
    return refuse('register.damaged', name, { reason: message });
  return refuse('register.server-failed', name, { reason: message });
}
