import { codePointName } from './quote.js';

/** Characters that nobody sees: of no width, or changing the direction of reading. */
const INVISIBLE = /\p{Default_Ignorable_Code_Point}|\p{Cf}/gu;

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
