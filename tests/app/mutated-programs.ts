import { expect } from 'vitest';
import { cutDifference } from '../fixtures/faults/cut-difference.js';
import { oneOf, type Pick, pickFrom } from '../fixtures/faults/program-lines.js';
import { type Bench, textOf } from '../fixtures/faults/sample-programs.js';

/** Chance at work on a text: bytes, words, numbers, lines and stretches changed, lost, doubled or moved. */
const MUTATIONS: readonly ((text: string, pick: Pick) => string)[] = [
  (text, pick) => splice(text, pick(text.length), 1, String.fromCharCode(32 + pick(95))),
  (text, pick) => splice(text, pick(text.length), 1, ''),
  (text, pick) => splice(text, pick(text.length), 0, oneOf([...' \t\n.-+0123456789GXAZFMNSP()%;'], pick)!),
  (text, pick) => splice(text, pick(text.length), 1 + pick(200), ''),
  (text, pick) => {
    const from = pick(text.length);
    return splice(text, pick(text.length), 0, text.slice(from, from + 1 + pick(300)));
  },
  onLines((lines, n) => lines.toSpliced(n, 1)),
  onLines((lines, n) => lines.toSpliced(n, 0, lines[n]!)),
  onLines((lines, n) => lines.toSpliced(n, 2, lines[n + 1] ?? '', lines[n]!)),
  onLines((lines, n, pick) => lines.toSpliced(n, 1 + pick(30))),
  onLines((lines, n, pick) => lines.toSpliced(pick(lines.length), 0, ...lines.slice(n, n + 1 + pick(30)))),
  onLines((lines, n, pick) => {
    const count = 1 + pick(30);
    return lines.toSpliced(n, count).toSpliced(pick(lines.length - count), 0, ...lines.slice(n, n + count));
  }),
  onLines((lines, n, pick) => lines.toSpliced(n, 1, lines[pick(lines.length)]!)),
  onNumbers((value, pick) => value + (pick(401) - 200) / 1e5),
  onNumbers((value, pick) => value + (pick(2001) - 1000) / 1e5),
  onNumbers((value, pick) => value + (pick(2001) - 1000) / 100),
  onNumbers((value) => -value),
  onNumbers((value) => value + 360),
  onNumbers((value) => value * 10),
  onNumbers((value) => value / 10),
];

const splice = (text: string, at: number, lost: number, put: string): string =>
  text.slice(0, at) + put + text.slice(at + lost);

function onLines(work: (lines: string[], n: number, pick: Pick) => string[]) {
  return (text: string, pick: Pick): string => {
    const lines = text.split('\n');
    return work(lines, pick(lines.length), pick).join('\n');
  };
}

function onNumbers(work: (value: number, pick: Pick) => number) {
  return (text: string, pick: Pick): string => {
    const numbers = [...text.matchAll(/(?<=[XAZF])-?\d+\.\d+/g)];
    const { 0: number, index } = oneOf(numbers, pick)!;
    return splice(text, index, number.length, work(Number(number), pick).toFixed(4));
  };
}

/**
 * Changes programs by chance, one to three times each. Whatever comes of it is read to its end; what is called good cuts
 * what the program cut before, as an independent comparison of the moves sees it. Gives how many were called good.
 */
export function readMutatedPrograms(benches: readonly Bench[], count: number, from = 0): number {
  const samples = benches.flatMap((bench) => bench.programs.map((program) => ({ bench, program })));
  const wrong: string[] = [];
  let good = 0;
  for (let seed = from; seed < from + count; seed++) {
    const { bench, program } = samples[seed % samples.length]!;
    const pick = pickFrom(seed);
    const text = textOf(program.lines);
    let mutated = text;
    for (let k = pick(3); k >= 0; k--) mutated = oneOf(MUTATIONS, pick)!(mutated, pick);
    if (!bench.read(mutated).ok) continue;
    good++;
    const difference = cutDifference(text, mutated, program.radius);
    if (difference !== undefined) wrong.push(`${program.name}, seed ${seed}: ${difference}`);
  }
  expect(wrong).toEqual([]);
  return good;
}
