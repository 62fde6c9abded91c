import { codePointName } from './quote.js';

/**
 * Characters that nobody sees: of no width, changing the direction of reading, or blank without counting as a space (the
 * blank Braille cell, the null notehead, the blanks among hieroglyphs, the filler of Khitan).
 */
const INVISIBLE = /\p{Default_Ignorable_Code_Point}|\p{Cf}|[\u2800\u{1D159}\u{13441}\u{13442}\u{16FE4}]/gu;

/** Whether a text is printable ASCII only. Nearly all text is, and there may be a million lines of it. */
export const isPlain = (text: string): boolean => /^[\x20-\x7e]*$/.test(text);

export const withoutInvisible = (text: string): string =>
  isPlain(text) ? text : text.replace(INVISIBLE, '');

/** The text with its invisible characters written out: U+202E as `<U+202E>`. */
export const showInvisible = (text: string): string =>
  isPlain(text) ? text : text.replace(INVISIBLE, (c) => `<${codePointName(c)}>`);

/** The invisible characters of a text by name, each once. */
export const invisibleIn = (text: string): string[] => [
  ...new Set([...text.matchAll(INVISIBLE)].map((match) => codePointName(match[0]))),
];

/** Characters that change the direction of reading. */
const TURNING = /\p{Bidi_Control}/gu;

/** Those that change the direction of reading, by name, each once. */
export const turningIn = (text: string): string[] =>
  isPlain(text) ? [] : [...new Set([...text.matchAll(TURNING)].map((match) => codePointName(match[0])))];

/** Those, and what ends a line or moves the cursor of a terminal. */
const STEERING = /[\p{Bidi_Control}\p{Cc}\u2028\u2029]/gu;

/** The text with such characters written out: one line, and what stands beside it on a terminal stays as it was written. */
export const showSteering = (text: string): string =>
  isPlain(text) ? text : text.replace(STEERING, (c) => `<${codePointName(c)}>`);
