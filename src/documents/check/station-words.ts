/**
 * Words that a station's own lines may hold: none moves an axis, shifts zero after a move, changes the tool or loosens
 * the path. A reader that does not know a word cannot prove a program that holds it.
 */
const PROVABLE_WORD =
  /^(G0?4|G17|G40|G49|G5[4-9](\.[1-3])?|G61(\.1)?|G80|M0?[01]|M0?[35789]|[PST][0-9]+(\.[0-9]+)?)$/;

/** Groups of words of which a line holds one at most (NISTIR 6556, tables 4 and 5, from memory); other words are by their letter. */
const MODAL_GROUPS: readonly RegExp[] = [
  /^G0?4$/,
  /^G17$/,
  /^G40$/,
  /^G49$/,
  /^G5[4-9](\.[1-3])?$/,
  /^G61(\.1)?$/,
  /^G80$/,
  /^M0?[01]$/,
  /^M0?[35]$/,
  /^M0?[789]$/,
  /^P/,
  /^S/,
  /^T/,
];

/**
 * The first word of one of a station's own lines that no program can hold, or undefined when all may stand there. A line
 * has one word of a modal group and one of P, S and T; G4 needs its P, and P its G4 (NISTIR 6556, 3.3.2 and 3.5.4, from memory).
 */
export function unprovableWord(line: string): string | undefined {
  const words = line.split(' ');
  const dwells = words.some((word) => /^G0?4$/.test(word));
  const waits = words.some((word) => word.startsWith('P'));
  const seen = new Set<RegExp>();
  return words.find((word) => {
    const group = MODAL_GROUPS.find((one) => one.test(word));
    if (!PROVABLE_WORD.test(word) || !group || seen.has(group)) return true;
    seen.add(group);
    return word.startsWith('P') ? !dwells : /^G0?4$/.test(word) && !waits;
  });
}

/**
 * The line, by its place, that starts the spindle before any speed above 0 is set; read-back refuses such a program, for
 * nobody knows how fast the cutter turns.
 */
export function startsWithoutSpeed(lines: readonly string[]): number | undefined {
  let speed = 0;
  const place = lines.findIndex((line) => {
    const words = line.split(' ');
    const given = words.find((word) => word.startsWith('S'));
    if (given !== undefined) speed = Number(given.slice(1));
    return words.some(startsSpindle) && !(speed > 0);
  });
  return place < 0 ? undefined : place;
}

/** Whether a word starts the spindle: not after the last cut, where nothing would stop it. */
export const startsSpindle = (word: string): boolean => /^M0?[34]$/.test(word);
