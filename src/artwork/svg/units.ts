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

/** A length in px, or a percentage of `whole`; undefined when it is neither. */
export function lengthOf(text: string | undefined, whole: number): number | undefined {
  const match = text === undefined ? undefined : FORM.exec(text);
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
export function numbersOf(text: string | undefined): number[] | undefined {
  if (text === undefined) return undefined;
  const numbers: number[] = [];
  const form = /[\s,]*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)/y;
  while (form.lastIndex < text.length) {
    const at = form.lastIndex;
    const match = form.exec(text);
    if (!match) return text.slice(at).trim() === '' ? numbers : undefined;
    const figure = Number(match[1]);
    if (!(Math.abs(figure) <= 1e7)) return undefined;
    numbers.push(figure);
  }
  return numbers;
}
