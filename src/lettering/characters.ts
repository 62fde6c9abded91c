const LETTER_WITH_MARKS = /\P{M}\p{M}*|\p{M}+/gu;

/**
 * The characters of a text as they are set: composed (Unicode NFC), each with the marks on it that Unicode has no
 * composed form for.
 */
export const charactersOf = (text: string): string[] => text.normalize('NFC').match(LETTER_WITH_MARKS) ?? [];

/**
 * Whether a character is a space that may be drawn out or in between words: the plain and the no-break space. Others
 * have a width of their own. Unicode Standard Annex 14, section 3, from memory.
 */
export const isWordSpace = (character: string): boolean => character === ' ' || character === '\u00a0';
