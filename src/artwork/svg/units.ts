/** CSS lengths in px at 96 to the inch (CSS Values 4, 6.2). */
const PX: Readonly<Record<string, number>> = {
  '': 1,
  px: 1,
  mm: 96 / 25.4,
  cm: 96 / 2.54,
  q: 96 / 101.6,
  in: 96,
  pt: 96 / 72,
  pc: 16,
};

export const PX_IN_MM = 25.4 / 96;
/** The size of type that em and ex are taken from where a file says no other: that of a browser. */
const EM_PX = 16;

const FORM = /^\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)\s*([a-zA-Z%]*)\s*$/;

/** Characters in a length; a longer one is none. */
const LONGEST_LENGTH = 100;

/** A length in px, or a percentage of `whole`; undefined when it is neither. */
export function lengthOf(text: string | undefined, whole: number): number | undefined {
  const match = text === undefined || text.length > LONGEST_LENGTH ? undefined : FORM.exec(text);
  if (!match) return undefined;
  const figure = Number(match[1]);
  const unit = match[2]!.toLowerCase();
  if (!(Math.abs(figure) <= 1e7)) return undefined;
  if (unit === '%') return (figure / 100) * whole;
  if (unit === 'em' || unit === 'rem') return figure * EM_PX;
  if (unit === 'ex') return (figure * EM_PX) / 2;
  const px = PX[unit];
  return px === undefined ? undefined : figure * px;
}

/** A list of numbers, or undefined when it is none. */
export function numbersOf(text: string | undefined, most = Number.POSITIVE_INFINITY): number[] | undefined {
  const read = leadingNumbers(text ?? 'none', most);
  return read.whole ? read.numbers : undefined;
}

/** The numbers a text begins with, no more than `most`, and whether they are all of it. */
export function leadingNumbers(text: string, most: number): { numbers: number[]; whole: boolean } {
  const numbers: number[] = [];
  const form = /[\s,]*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)/y;
  let at = 0;
  while (at < text.length) {
    const match = form.exec(text);
    if (!match) return { numbers, whole: text.slice(at).trim() === '' };
    at = form.lastIndex;
    const figure = Number(match[1]);
    if (!(Math.abs(figure) <= 1e7) || numbers.length >= most) return { numbers, whole: false };
    numbers.push(figure);
  }
  return { numbers, whole: true };
}
