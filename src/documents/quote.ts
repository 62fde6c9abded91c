/** Longest piece of someone's document that a message repeats. */
const LONGEST = 60;

const UNPRINTABLE = /[\p{Cc}\p{Cs}\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;

/** Text from a document as a message may repeat it: cut, on one line, and unable to move a terminal's cursor. */
export function plainText(text: string, longest = LONGEST): string {
  const head = Array.from(text.slice(0, longest * 2 + 2));
  const cut = head.length > longest ? `${head.slice(0, longest - 1).join('')}…` : text;
  return cut.replace(UNPRINTABLE, '\ufffd');
}

export const quote = (text: string, longest = LONGEST): string => `\`${plainText(text, longest)}\``;

/** `U+00AD`. */
export const codePointName = (character: string): string =>
  `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`;

/** A bad value, named without repeating more of it than helps. */
export function formatValue(value: unknown): string {
  if (typeof value === 'string') return quote(value);
  if (typeof value === 'number') {
    if (Number.isNaN(value)) return '`.nan`';
    if (!Number.isFinite(value)) return value > 0 ? '`.inf`' : '`-.inf`';
    return String(value);
  }
  if (typeof value === 'boolean') return `\`${value}\``;
  if (value === null || value === undefined) return 'nothing';
  return Array.isArray(value) ? 'a list' : 'a mapping';
}

/** The same at the head of a sentence. */
export function subject(value: unknown): string {
  if (value === null || value === undefined) return 'An empty value';
  if (typeof value === 'object') return Array.isArray(value) ? 'A list' : 'A mapping';
  return formatValue(value);
}

/** "`a`, `b` or `c`", so that a cure can offer every choice. */
export function joinChoices(choices: readonly string[]): string {
  const last = choices.at(-1);
  if (last === undefined) return 'nothing';
  return choices.length === 1 ? last : `${choices.slice(0, -1).join(', ')} or ${last}`;
}

export const article = (noun: string): string => `${/^[aeiou]/i.test(noun) ? 'an' : 'a'} ${noun}`;
