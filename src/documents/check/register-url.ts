import type { Problem } from '../../problem.js';
import { problem } from '../messages.js';

/** What may follow the database in a URL: how the connection is kept secret, nothing else. */
const PARAMETERS = ['sslmode', 'sslrootcert'];

/**
 * What is wrong with the URL of a register. Nothing of the URL is repeated: it may hold a password, even in the wrong
 * place.
 */
export function registerUrlProblem(
  where: string,
  text: string,
  password: 'allowed' | 'refused',
): Problem | undefined {
  const url = URL.canParse(text) ? new URL(text) : undefined;
  if (!url || !/^postgres(ql)?:$/.test(url.protocol)) {
    return problem('documents.register-url', where, {});
  }
  if (!isDecodable(text)) return problem('documents.register-url-percent', where, {});
  if (password === 'refused' && (url.password !== '' || url.searchParams.has('password'))) {
    return problem('documents.register-url-password', where, {});
  }
  if (url.hostname === '') return problem('documents.register-url-host', where, {});
  if (!/^\/[^/]+$/.test(url.pathname)) return problem('documents.register-url-database', where, {});
  if ([...url.searchParams.keys()].some((name) => !PARAMETERS.includes(name)) || url.hash !== '') {
    return problem('documents.register-url-rest', where, { known: PARAMETERS });
  }
  return undefined;
}

function isDecodable(text: string): boolean {
  try {
    decodeURIComponent(text);
    return true;
  } catch {
    return false;
  }
}

/** A register's URL as messages name it: host and database, without user or password. */
export function registerName(text: string): string {
  const { host, pathname } = new URL(text);
  return `${host}${decodeURIComponent(pathname)}`;
}
