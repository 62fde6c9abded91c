import pg from 'pg';
import { type Refusal, refuse } from '../../problem.js';

/** What the unique indexes stand for, in the words the SQLite register has for it. */
const TAKEN: Readonly<Record<string, string>> = {
  event_pkey: 'this place in the sequence is taken',
  issued_label: 'this label was issued before',
  issued_number: 'this number was issued before',
  request_nth: 'this request was carried out before',
  closed_once: 'this edition was closed before',
  checkpoint_pkey: 'there is a checkpoint of this size',
};

/**
 * Puts an error of the server or the connection in words; what is neither stays as it is. Of the server's text only
 * its main line is repeated, never a detail: that may hold what was sent. The URL and the password are in none.
 */
export function told(error: unknown, name: string): unknown {
  if (error instanceof pg.DatabaseError) return inWords(error, name);
  if (!(error instanceof Error)) return error;
  const code = 'code' in error && typeof error.code === 'string' ? error.code : '';
  const say = (what: string, cure: string) => refuse(2, name, what, cure);
  if (code === 'ENOTFOUND') return say('There is no such host.', 'Correct the name of the host.');
  if (/client password must be a/.test(error.message)) {
    return say(
      'The server wants a password and none is given.',
      'Give it in the environment (BURIN_REGISTER, PGPASSWORD) or in a .pgpass file.',
    );
  }
  if (/SSL|TLS|certificate|self-signed/i.test(`${code} ${error.message}`)) {
    return say(
      `No secret connection could be agreed on (${code || 'TLS'}).`,
      'Look at sslmode and the certificate of the server.',
    );
  }
  if (/SASL|SCRAM|authentication/i.test(error.message)) {
    return say('The server does not prove itself or us in a way both know.', 'Look at the password.');
  }
  if ('syscall' in error) return say(`The connection failed (${code}).`, 'See to the network.');
  return error;
}

function inWords({ code = '', message, constraint = '' }: pg.DatabaseError, name: string): Refusal {
  const say = (exit: 2 | 3, what: string, cure: string) => refuse(exit, name, what, cure);
  // Integrity, and values that do not fit their columns.
  if (/^2[23]/.test(code)) {
    const what = TAKEN[constraint] ?? message;
    return say(
      3,
      `The register refuses the entry: ${what}.`,
      'Nothing was written; look at what was issued.',
    );
  }
  if (code.startsWith('28')) {
    return say(
      2,
      'The server does not let this user in.',
      'Look at user and password: in the environment (BURIN_REGISTER, PGUSER, PGPASSWORD) or a .pgpass file.',
    );
  }
  if (code === '3D000') {
    return say(2, 'The server has no such database.', 'Make it empty, or correct its name.');
  }
  if (code === '42501') {
    return say(
      2,
      `This user may not do what is needed (${message}).`,
      'Let the owner of the register use it first, and allow this user to select and insert.',
    );
  }
  if (code === '25006') {
    return say(2, 'The server takes no entries (it is read-only).', 'Name the server that does.');
  }
  if (/^53[12]/.test(code)) {
    return say(2, 'The server is out of room; nothing was issued.', 'Make room, then ask again.');
  }
  if (/^XX00[12]/.test(code)) {
    return say(3, `The register is damaged (${message}).`, 'Issue nothing; bring back your last good copy.');
  }
  return say(2, `The server could not do it (${message}).`, 'See to the server, then ask again.');
}
