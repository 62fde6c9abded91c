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

/** The first character that keeps text from being one line: a line break, or the code point of a control character. */
export function controlCharacterOf(text: string): string | undefined {
  const found = /[\p{Cc}\u2028\u2029]/u.exec(text)?.[0];
  if (found === undefined) return undefined;
  return /[\n\r\u0085\u2028\u2029]/.test(found) ? 'line break' : codePointName(found);
}

/** A bad value, named without repeating more of it than helps: a number as it is `written`, not as it is read. */
export function formatValue(value: unknown, written?: string): string {
  if (typeof value === 'string') return quote(value);
  if (typeof value === 'number') return formatNumber(value, written);
  if (typeof value === 'boolean') return quote(written ?? String(value));
  if (value === null || value === undefined) return 'nothing';
  return Array.isArray(value) ? 'a list' : 'a mapping';
}

function formatNumber(value: number, written = String(value)): string {
  return Number.isFinite(value) && written === String(value) ? written : quote(written);
}

/** The same at the head of a sentence. */
export function subject(value: unknown, written?: string): string {
  if (value === null || value === undefined) return 'An empty value';
  if (typeof value === 'object') return Array.isArray(value) ? 'A list' : 'A mapping';
  return formatValue(value, written);
}

/** "`a`, `b` or `c`", so that a hint can offer every choice. */
export function joinChoices(choices: readonly string[]): string {
  const last = choices.at(-1);
  if (last === undefined) return 'nothing';
  return choices.length === 1 ? last : `${choices.slice(0, -1).join(', ')} or ${last}`;
}

export const article = (noun: string): string => `${/^[aeiou]/i.test(noun) ? 'an' : 'a'} ${noun}`;
