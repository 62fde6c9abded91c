/** Roman numerals in the usual subtractive form, 1 to 3999. */

const STEPS = [
  [1000, 'M'],
  [900, 'CM'],
  [500, 'D'],
  [400, 'CD'],
  [100, 'C'],
  [90, 'XC'],
  [50, 'L'],
  [40, 'XL'],
  [10, 'X'],
  [9, 'IX'],
  [5, 'V'],
  [4, 'IV'],
  [1, 'I'],
] as const;

/** Beyond this a bar or a box would be needed, which nobody can engrave without being asked what it means. */
export const ROMAN_MAX = 3999;

export function toRoman(n: number): string {
  if (!Number.isInteger(n) || n < 1 || n > ROMAN_MAX) {
    throw new RangeError(`Roman numerals run from 1 to ${ROMAN_MAX}, not ${n}`);
  }
  let rest = n;
  let text = '';
  for (const [value, numeral] of STEPS) {
    while (rest >= value) {
      text += numeral;
      rest -= value;
    }
  }
  return text;
}

/** The number, or undefined for anything but the one accepted way of writing it: `IIII`, `IM` and `iv` are not. */
export function fromRoman(text: string): number | undefined {
  let n = 0;
  let at = 0;
  for (const [value, numeral] of STEPS) {
    while (text.startsWith(numeral, at)) {
      n += value;
      at += numeral.length;
    }
  }
  if (at !== text.length || n < 1 || n > ROMAN_MAX) return undefined;
  return toRoman(n) === text ? n : undefined;
}
