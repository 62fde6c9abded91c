/**
 * Words that a station's own lines may hold: none moves an axis, shifts zero after a move, changes the tool or loosens
 * the path. A reader that does not know a word cannot prove a program that holds it.
 */
const PROVABLE_WORD =
  /^(G0?4|G17|G40|G49|G5[4-9](\.[1-3])?|G61(\.1)?|G80|M0?[01]|M0?[35789]|[PST][0-9]+(\.[0-9]+)?)$/;

/** The first word of one of a station's own lines that no program can hold, or undefined when all may stand there. */
export const unprovableWord = (line: string): string | undefined =>
  line.split(' ').find((word) => !PROVABLE_WORD.test(word));
