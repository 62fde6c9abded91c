/** Letters that NFKD does not take apart, and signs worth more than a `_`. */
const SPELLED: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  Æ: 'AE',
  œ: 'oe',
  Œ: 'OE',
  ø: 'o',
  Ø: 'O',
  ł: 'l',
  Ł: 'L',
  đ: 'd',
  Đ: 'D',
  ð: 'd',
  þ: 'th',
  '×': 'x',
  '‐': '-',
  '‑': '-',
  '‒': '-',
  '–': '-',
  '—': '-',
  '−': '-',
};

/** Characters that can neither end a comment, start one, nor mean anything to a control inside one. */
const UNSAFE = /[^A-Za-z0-9 .,\-_/#:]/gu;
const LONGEST = 200;

/** Words safe inside a program comment: plain ASCII, one line, at most 200 characters, never empty. */
export function remarkWords(value: string): string {
  const spelled = value
    .slice(0, 4 * LONGEST)
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^\p{ASCII}]/gu, (c) => SPELLED[c] ?? c)
    .replace(UNSAFE, '_')
    .slice(0, LONGEST)
    .trim();
  return spelled || '_';
}

/** One comment line of a program, without its line feed. */
export const remark = (key: string, value: string): string => `(${key}: ${remarkWords(value)})`;
