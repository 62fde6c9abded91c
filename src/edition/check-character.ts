/**
 * Check characters of ISO/IEC 7064, pure systems. Each catches every single wrong character and every swap of two
 * neighbours.
 */
export type CheckSystem = 'MOD 11-2' | 'MOD 37-2' | 'MOD 97-10';

interface Pure {
  readonly modulus: number;
  readonly radix: number;
  /** What the text may hold. */
  readonly characters: string;
  /** What the check may be, by its value; two digits where left out. */
  readonly checks?: string;
}

const DIGITS = '0123456789';
const DIGITS_AND_LETTERS = `${DIGITS}ABCDEFGHIJKLMNOPQRSTUVWXYZ`;

const SYSTEMS: Readonly<Record<CheckSystem, Pure>> = {
  'MOD 11-2': { modulus: 11, radix: 2, characters: DIGITS, checks: `${DIGITS}X` },
  'MOD 37-2': { modulus: 37, radix: 2, characters: DIGITS_AND_LETTERS, checks: `${DIGITS_AND_LETTERS}*` },
  'MOD 97-10': { modulus: 97, radix: 10, characters: DIGITS },
};

/**
 * The check character of a text, or undefined when the text is empty or holds a character outside the system: the caller
 * removes hyphens and blanks that mean nothing.
 */
export const checkOf = (system: CheckSystem, text: string): string | undefined =>
  checkWriter(system, '')(text);

/** The same of many texts that begin alike, each given without its beginning. */
export function checkWriter(system: CheckSystem, beginning: string): (rest: string) => string | undefined {
  const before = sumOf(system, beginning, 0);
  return (rest) => {
    if (before === undefined || beginning.length + rest.length === 0) return undefined;
    const sum = sumOf(system, rest, before);
    return sum === undefined ? undefined : checkOfSum(system, sum);
  };
}

/** What the characters of a text add to a sum; undefined where one is outside the system. */
function sumOf(system: CheckSystem, text: string, before: number): number | undefined {
  const { modulus, radix, characters } = SYSTEMS[system];
  let sum = before;
  for (const character of text) {
    const value = characters.indexOf(character);
    if (value < 0) return undefined;
    sum = ((sum + value) * radix) % modulus;
  }
  return sum;
}

function checkOfSum(system: CheckSystem, sum: number): string {
  const { modulus, radix, checks } = SYSTEMS[system];
  if (checks !== undefined) return checks[(modulus + 1 - sum) % modulus]!;
  // The second digit of the check is one place further on. Two digits, 02 to 98, so that each check has one form.
  return String(modulus + 1 - ((sum * radix) % modulus)).padStart(2, '0');
}

/** Whether a text ends in its own check character. */
export function hasValidCheck(system: CheckSystem, text: string): boolean {
  const length = SYSTEMS[system].checks === undefined ? 2 : 1;
  return text.length > length && checkOf(system, text.slice(0, -length)) === text.slice(-length);
}
