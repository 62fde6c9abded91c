/** The setting of a register URL for which nobody can stand between the program and its server. */
const VERIFIED = 'verify-full';
/** Less than that, and only where the URL says so. */
const WEAKER: readonly string[] = ['disable', 'no-verify'];

const isLoopback = (host: string): boolean =>
  host === 'localhost' || host === '[::1]' || /^127(\.[0-9]{1,3}){3}$/.test(host);

export interface SecuredUrl {
  readonly url: string;
  /** The setting, where the server is elsewhere and is not asked for its certificate. */
  readonly weaker?: string;
}

/**
 * The URL of a register with how its connection is secured. A server of another machine must show a certificate of a
 * known authority for its host name, unless the URL says less. What else `sslmode` may say in other programs is taken for
 * that too: none of it is a wish for less.
 */
export function withTls(text: string): SecuredUrl {
  const url = new URL(text);
  const mode = url.searchParams.get('sslmode');
  if (mode !== null && WEAKER.includes(mode))
    return { url: text, ...(!isLoopback(url.hostname) && { weaker: mode }) };
  if (mode === null && !url.searchParams.has('sslrootcert') && isLoopback(url.hostname)) return { url: text };
  url.searchParams.set('sslmode', VERIFIED);
  return { url: url.href };
}
