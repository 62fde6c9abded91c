const LETTER_WITH_MARKS = /\P{M}\p{M}*|\p{M}+/gu;
/** Text of such characters alone, as most labels are, is composed and has no marks. */
const ASCII = /^[\0-\x7f]*$/;

/**
 * The characters of a text, composed (Unicode NFC), each with those of its marks for which Unicode has no composed
 * form.
 */
export const charactersOf = (text: string): string[] =>
  ASCII.test(text) ? text.split('') : (text.normalize('NFC').match(LETTER_WITH_MARKS) ?? []);

/**
 * Whether a character is a space that may be widened or narrowed: the plain and the no-break space. Other spaces have a
 * fixed width. Unicode Standard Annex 14, section 3, from memory.
 */
export const isWordSpace = (character: string): boolean => character === ' ' || character === '\u00a0';
