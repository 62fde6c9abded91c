/** Text from people, made safe to print. Nothing here throws: a strange label is printed, not refused. */

/** Characters XML 1.0 does not allow at all (section 2.2), lone surrogates among them. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being taken out
const ILLEGAL = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/gu;

/** Marks that turn the reading direction: a label holding one can look like another label. */
const TURNS = /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;

const codePoint = (c: string): string => `U+${c.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}`;

/** Without the characters XML has no way to write. */
export const stripIllegal = (text: string): string => text.replace(ILLEGAL, '');

/**
 * What a person is shown: one line, and a mark that would turn the reading direction written out as its code point,
 * so that two different labels never look the same.
 */
export const displayText = (text: string): string =>
  stripIllegal(text)
    .replace(/[\t\n\r\u0085\u2028\u2029]+/g, ' ')
    .replace(/[\u007f-\u009f]/g, '')
    .replace(TURNS, (c) => `[${codePoint(c)}]`);

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

const escapeMarkup = (text: string): string => text.replace(/[&<>"']/g, (c) => ENTITIES[c]!);

/** Text for the content of an element, XML or HTML. */
export const escapeContent = (text: string): string => escapeMarkup(displayText(text));

/**
 * An attribute's value, XML or HTML, quotes not included. Kept as it is but for what XML cannot hold: a reader gets
 * the label back. Line ends and turning marks are written as character references, so no file holds one raw.
 */
export const escapeAttribute = (text: string): string =>
  escapeMarkup(stripIllegal(text)).replace(
    /[\t\n\r\u007f-\u009f\u2028\u2029\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g,
    (c) => `&#x${c.codePointAt(0)!.toString(16).toUpperCase()};`,
  );
