/** Comes before the name of a log, so that its origin is not taken for that of another kind of log. */
const PREFIX = 'burin/';
const LONGEST = 60;

/**
 * A name as part of an origin and of a file name: small letters and digits of any script, with hyphens between. Accents
 * over Latin, Greek and Cyrillic letters are left out. The same name always gives the same slug; two names that differ
 * in other signs alone give the same.
 */
export function slugOf(name: string): string {
  const words = name
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .normalize('NFC')
    .toLowerCase()
    .match(/[\p{L}\p{M}\p{N}]+/gu);
  const slug = [...(words ?? []).join('-')].slice(0, LONGEST).join('');
  return slug.replace(/-$/, '') || 'workshop';
}

/** The origin of the log of a workshop of this name, which is also the name of its key. */
export const originOf = (name: string): string => `${PREFIX}${slugOf(name)}`;

/** The slug in an origin, or undefined when the origin is not of this form: it names no file then. */
export function slugIn(origin: string): string | undefined {
  const slug = origin.startsWith(PREFIX) ? origin.slice(PREFIX.length) : '';
  return slug !== '' && originOf(slug) === origin ? slug : undefined;
}
