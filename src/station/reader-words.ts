import type { Report } from './reader-faults.js';
import { type Remark, readRemark } from './reader-head.js';

export interface Word {
  readonly letter: string;
  readonly value: number;
  readonly text: string;
}

/** One line of a program. X and Z in mm, A in degrees. */
export type LineWords =
  | ({ readonly kind: 'remark' } & Remark)
  | {
      readonly kind: 'move';
      readonly rapid: boolean;
      readonly x: number | undefined;
      readonly a: number | undefined;
      readonly z: number | undefined;
      readonly f: number | undefined;
    }
  | { readonly kind: 'setting'; readonly words: readonly Word[] };

/** At most 256 characters a line: NISTIR 6556 section 3.3. */
const LONGEST_LINE = 256;
/** A number has no exponent: NISTIR 6556 section 3.3.2.1. */
const WORD = /^([A-Z])(-?[0-9]{1,12}(?:\.[0-9]{1,15})?)$/;
/** Settings that leave the path where it is. */
const SETTING_G = new Set([
  4, 17, 21, 40, 49, 54, 55, 56, 57, 58, 59, 59.1, 59.2, 59.3, 61, 61.1, 80, 90, 93, 94,
]);
const SETTING_M = new Set([0, 1, 2, 3, 5, 7, 8, 9]);

/** Reads one line, numbered `n`; reports what is wrong and returns undefined where it is not one of ours. */
export function readWords(line: string, n: number, report: Report): LineWords | undefined {
  if (line.length > LONGEST_LINE) {
    report(n, 'station.read-line-too-long', { characters: line.length, most: LONGEST_LINE });
    return undefined;
  }
  if (line.startsWith('(')) {
    const found = readRemark(line);
    if (!found) report(n, 'station.read-comment', {});
    return found && { kind: 'remark', ...found };
  }
  const words: Word[] = [];
  for (const text of line.split(' ')) {
    const found = WORD.exec(text);
    const value = Number(found?.[2]);
    if (!found || Object.is(value, -0)) {
      report(n, 'station.read-not-a-word', { text: JSON.stringify(text.slice(0, 20)) });
      return undefined;
    }
    words.push({ letter: found[1]!, value, text });
  }
  const first = words[0]!;
  return first.letter === 'G' && (first.value === 0 || first.value === 1)
    ? readMove(words, n, report)
    : readSetting(words, n, report);
}

function readMove(words: readonly Word[], n: number, report: Report): LineWords | undefined {
  const at = new Map<string, number>();
  for (const { letter, value, text } of words.slice(1)) {
    if (!'XAZF'.includes(letter) || at.has(letter)) {
      report(n, 'station.read-word-in-move', { word: text });
      return undefined;
    }
    at.set(letter, value);
  }
  const rapid = words[0]!.value === 0;
  const f = at.get('F');
  const still = at.size === (f === undefined ? 0 : 1);
  if (still || (rapid && f !== undefined)) {
    report(n, still ? 'station.read-move-without-axis' : 'station.read-rapid-with-feed', {});
    return undefined;
  }
  return { kind: 'move', rapid, x: at.get('X'), a: at.get('A'), z: at.get('Z'), f };
}

function readSetting(words: readonly Word[], n: number, report: Report): LineWords | undefined {
  for (const { letter, value, text } of words) {
    const known =
      letter === 'G'
        ? SETTING_G.has(value)
        : letter === 'M'
          ? SETTING_M.has(value)
          : 'STP'.includes(letter) && value >= 0;
    if (known) continue;
    report(n, 'station.read-word-unknown', { word: text });
    return undefined;
  }
  return { kind: 'setting', words };
}
