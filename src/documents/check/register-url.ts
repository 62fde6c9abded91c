/** What may follow the database in a URL: how the connection is kept secret, nothing else. */
const PARAMETERS = ['sslmode', 'sslrootcert'];
const FORM = 'postgres://host/database';

/**
 * What is wrong with the URL of a register, and its cure. Nothing of the URL is repeated: it may hold a password, even
 * in the wrong place.
 */
export function registerUrlFault(
  text: string,
  password: 'allowed' | 'refused',
): [what: string, cure: string] | undefined {
  const url = URL.canParse(text) ? new URL(text) : undefined;
  if (!url || !/^postgres(ql)?:$/.test(url.protocol)) {
    return ['This is not the URL of a PostgreSQL database.', `Write ${FORM}.`];
  }
  if (!decodable(text)) return ['This URL has a broken % in it.', `Write ${FORM}.`];
  if (password === 'refused' && (url.password !== '' || url.searchParams.has('password'))) {
    return [
      'This URL has a password in it.',
      'Keep the password in the environment (BURIN_REGISTER, PGPASSWORD) or in a .pgpass file.',
    ];
  }
  if (url.hostname === '') return ['This URL names no host.', `Write ${FORM}.`];
  if (!/^\/[^/]+$/.test(url.pathname)) return ['This URL names no database.', `Write ${FORM}.`];
  if ([...url.searchParams.keys()].some((name) => !PARAMETERS.includes(name)) || url.hash !== '') {
    return [
      'This URL has something after the database that is not known.',
      `Leave it out; ${PARAMETERS.join(' and ')} may stand there.`,
    ];
  }
  return undefined;
}

function decodable(text: string): boolean {
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
