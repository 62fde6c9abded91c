import { fromRoman, ROMAN_MAX, toRoman } from './roman.js';

/** Arabic digits, or roman numerals that are not part of a word. */
const NUMERALS = /[0-9]+|(?<!\p{L})[IVXLCDM]+(?![\p{L}.])/gu;

/** A label cut at its numerals. */
export interface LabelParts {
  /** What is before the first numerals. */
  readonly prefix: string;
  /** Everything before the last numerals, when there are two: they state a total then. */
  readonly head?: string;
  /** What is between the first numerals and the last. */
  readonly joiner?: string;
  /** The last numerals. */
  readonly total?: string;
}

/** Undefined for a text without numerals. */
export function labelParts(label: string): LabelParts | undefined {
  const digitRuns = [...label.matchAll(NUMERALS)];
  const [first, last] = [digitRuns[0], digitRuns.at(-1)];
  if (!first || !last) return undefined;
  const prefix = label.slice(0, first.index);
  if (digitRuns.length < 2) return { prefix };
  const before = digitRuns.at(-2)!;
  const joiner = label.slice(before.index + before[0].length, last.index);
  return { prefix, head: label.slice(0, last.index), joiner, total: last[0] };
}

const VALUES: Readonly<Record<string, number>> = { I: 1, V: 5, X: 10, L: 50, C: 100, D: 500, M: 1000 };

/** For each roman numeral that is not written in the usual form: the form written, the usual one, and the whole text with it. */
export function* unusualRomans(text: string): Generator<{ written: string; meant: string; label: string }> {
  for (const digitRun of text
    .replace(/[a-z]/g, (letter) => letter.toUpperCase())
    .matchAll(/(?<!\p{L})[IVXLCDM]{2,15}(?![\p{L}.])/gu)) {
    const value = looseRomanValue(digitRun[0]);
    if (value < 1 || value > ROMAN_MAX) continue;
    const meant = toRoman(value);
    if (meant === digitRun[0]) continue;
    const label = text.slice(0, digitRun.index) + meant + text.slice(digitRun.index + digitRun[0].length);
    yield { written: digitRun[0], meant, label };
  }
}

/** A letter counts against those after it when any of them is larger: `IC` is 99, `IIX` 8, `IIII` 4, `VX` 5. */
function looseRomanValue(numeral: string): number {
  let sum = 0;
  let largest = 0;
  for (let i = numeral.length - 1; i >= 0; i--) {
    const value = VALUES[numeral[i]!]!;
    if (value < largest) sum -= value;
    else sum += value;
    largest = Math.max(largest, value);
  }
  return sum;
}

/** The text with arabic numerals for roman ones and the other way round: all of them, then only the first. */
export function* otherNumerals(text: string): Generator<{ written: string; meant: string; label: string }> {
  // Only letters of one case each: others could change the length of the text.
  const digitRuns = [...text.replace(/[a-z]/g, (letter) => letter.toUpperCase()).matchAll(NUMERALS)];
  const converted = digitRuns.map((digitRun) => otherNumeral(digitRun[0]));
  for (const count of new Set([digitRuns.length, 1])) {
    if (count === 0 || digitRuns.length < count || converted.slice(0, count).some((one) => one === undefined))
      continue;
    let label = text;
    for (let i = count - 1; i >= 0; i--) {
      const { index, 0: digitRun } = digitRuns[i]!;
      label = label.slice(0, index) + converted[i] + label.slice(index + digitRun.length);
    }
    yield { written: digitRuns[0]![0], meant: converted[0]!, label };
  }
}

function otherNumeral(digitRun: string): string | undefined {
  if (/^[0-9]+$/.test(digitRun)) {
    const value = Number(digitRun);
    return value >= 1 && value <= ROMAN_MAX ? toRoman(value) : undefined;
  }
  return fromRoman(digitRun)?.toString();
}

/** The text with each two unlike neighbours among its numerals swapped. */
export function* swappedNeighbours(text: string): Generator<{ swapped: string; label: string }> {
  for (let i = 0; i + 1 < text.length; i++) {
    const [a, b] = [text[i]!, text[i + 1]!];
    if (a === b || !(/[0-9]{2}/.test(a + b) || /[IVXLCDM]{2}/.test(a + b))) continue;
    yield { swapped: `${b}${a}`, label: text.slice(0, i) + b + a + text.slice(i + 2) };
  }
}
