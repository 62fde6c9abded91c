import type { Numbered } from './labels.js';
import { differing, inLatin, isPlain, withoutInvisible } from './look-alike.js';
import { ROMAN_MAX, toRoman } from './roman.js';

/** A planned label that an unknown one was probably meant for, and by what they differ. */
export interface NearMiss {
  readonly numbered: Numbered;
  readonly reason: string;
}

export const nearMissWords = ({ numbered, reason }: NearMiss): string => `${numbered.label} (${reason})`;

/** More than a few are no suspicion any more. */
const MOST = 5;

type Step = readonly [difference: string, take: (text: string) => string];

/** Texts that differ by these only are alike; the figures come last, once everything else is out of their way. */
const STEPS: readonly Step[] = [
  ['an invisible character', withoutInvisible],
  ['full-width or other forms of the characters', (t) => (isPlain(t) ? t : t.normalize('NFKC'))],
  ['letters of another script that look the same', inLatin],
  ['blanks', (t) => t.replace(/\s+/gu, '')],
  // Small l only where it stands among figures; in a word it is a letter.
  [
    'I or l and 1',
    (t) =>
      t.replace(/(?<![a-km-zA-Z])l+(?![a-km-zA-Z])/g, (l) => '1'.repeat(l.length)).replace(/[Ii|]/g, '1'),
  ],
  ['capital and small letters', (t) => t.toUpperCase()],
  ['O and 0', (t) => t.replaceAll('O', '0')],
  ['figures filled with 0', (t) => t.replace(/(?<![0-9])0+(?=[0-9])/g, '')],
  ['signs between the figures', (t) => t.replace(/[\p{P}\p{S}]+/gu, '/').replace(/^\/|\/$/g, '')],
];

const asRead = (text: string): string => STEPS.reduce((t, [, take]) => take(t), text);

/**
 * Looks for near misses of the planned labels. The labels are laid out once; each question then costs the same
 * however many there are.
 */
export function nearMissesOf(planned: readonly Numbered[]): (text: string) => NearMiss[] {
  const exact = new Map<string, Numbered>();
  const whole = new Map<string, Numbered[]>();
  const heads = new Map<string, Numbered[]>();
  const tails = new Map<string, Numbered[]>();
  let laidOut = false;
  const layOut = () => {
    for (const numbered of planned) {
      const { label } = numbered;
      exact.set(label, numbered);
      enter(whole, asRead(label), numbered);
      const cut = cutOf(label);
      if (!cut) continue;
      if (cut.head !== undefined) {
        enter(heads, asRead(cut.head), numbered);
      }
      if (cut.before !== '') enter(tails, asRead(label.slice(cut.before.length)), numbered);
    }
    laidOut = true;
  };

  return (text) => {
    if (!laidOut) layOut();
    if (exact.has(text) || text.trim() === '' || text.length > 200) return [];
    const found = new Map<Numbered, string>();
    const add = (some: readonly Numbered[] | undefined, reason: (n: Numbered) => string) => {
      if (some === undefined || some.length > MOST) return;
      for (const numbered of some) if (!found.has(numbered)) found.set(numbered, reason(numbered));
    };
    const alike = (numbered: Numbered, read = text): string =>
      differing(STEPS, read, numbered.label).join(', ') || 'reads the same';

    add(whole.get(asRead(text)), (n) => alike(n));
    for (const [slip, meant] of romanSlips(text)) {
      add(whole.get(asRead(meant)), () => slip);
    }
    for (const [pair, swapped] of swaps(text)) {
      const meant = exact.get(swapped);
      add(meant && [meant], () => `${pair} stand swapped`);
    }
    const cut = cutOf(text);
    if (cut) {
      if (cut.head !== undefined) {
        const others = heads.get(asRead(cut.head))?.filter((n) => lastFigures(n.label) !== lastFigures(text));
        add(others, (n) => `the total is ${lastFigures(n.label)}, not ${lastFigures(text)}`);
      }
      add(heads.get(asRead(text)), (n) => `the total ${lastFigures(n.label)} is missing`);
      add(tails.get(asRead(text)), (n) => `"${cutOf(n.label)?.before.trim()}" before the number is missing`);
    }
    return [...found].slice(0, MOST).map(([numbered, reason]) => ({ numbered, reason }));
  };
}

function enter(map: Map<string, Numbered[]>, key: string, numbered: Numbered): void {
  const there = map.get(key);
  if (there) there.push(numbered);
  else map.set(key, [numbered]);
}

/** Arabic figures, or Roman ones that are no part of a word. */
const FIGURES = /[0-9]+|(?<!\p{L})[IVXLCDM]+(?![\p{L}.])/gu;

/** What stands before the first figures of a label, and, when it has a total, before that. */
function cutOf(label: string): { before: string; head?: string } | undefined {
  const runs = [...label.matchAll(FIGURES)];
  const [first, last] = [runs[0], runs.at(-1)];
  if (!first || !last) return undefined;
  const before = label.slice(0, first.index);
  return runs.length < 2 ? { before } : { before, head: label.slice(0, last.index) };
}

const lastFigures = (label: string): string => [...label.matchAll(FIGURES)].at(-1)?.[0] ?? label;

const FIGURE_VALUES: Readonly<Record<string, number>> = {
  I: 1,
  V: 5,
  X: 10,
  L: 50,
  C: 100,
  D: 500,
  M: 1000,
};

/** For each run of Roman figures written as none is: what it was meant for, in words and as the whole text. */
function* romanSlips(text: string): Generator<readonly [slip: string, meant: string]> {
  for (const run of text.toUpperCase().matchAll(/(?<!\p{L})[IVXLCDM]{2,15}(?![\p{L}.])/gu)) {
    const value = romanLoosely(run[0]);
    if (value < 1 || value > ROMAN_MAX) continue;
    const meant = toRoman(value);
    if (meant === run[0]) continue;
    yield [
      `${meant} is written ${run[0]}`,
      text.slice(0, run.index) + meant + text.slice(run.index + run[0].length),
    ];
  }
}

/** A figure counts against those after it when any of them is larger: `IC` is 99, `IIX` 8, `IIII` 4, `VX` 5. */
function romanLoosely(figures: string): number {
  let sum = 0;
  let largest = 0;
  for (let i = figures.length - 1; i >= 0; i--) {
    const value = FIGURE_VALUES[figures[i]!]!;
    if (value < largest) sum -= value;
    else sum += value;
    largest = Math.max(largest, value);
  }
  return sum;
}

/** The text with each two unlike neighbours among its figures swapped. */
function* swaps(text: string): Generator<readonly [pair: string, swapped: string]> {
  for (let i = 0; i + 1 < text.length; i++) {
    const [a, b] = [text[i]!, text[i + 1]!];
    if (a === b || !(/[0-9]{2}/.test(a + b) || /[IVXLCDM]{2}/.test(a + b))) continue;
    yield [`the figures ${b}${a}`, text.slice(0, i) + b + a + text.slice(i + 2)];
  }
}
