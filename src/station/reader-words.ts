import type { Report } from './reader-faults.js';
import { type Remark, readRemark, remarkMeant } from './reader-head.js';

export interface Word {
  readonly letter: string;
  readonly value: number;
  readonly text: string;
}

export interface MoveWords {
  readonly kind: 'move';
  readonly rapid: boolean;
  readonly x: number | undefined;
  readonly a: number | undefined;
  readonly z: number | undefined;
  readonly f: number | undefined;
}

/** One line of a program. X and Z in mm, A in degrees. */
export type LineWords =
  | ({ readonly kind: 'remark' } & Remark)
  | MoveWords
  | { readonly kind: 'setting'; readonly words: readonly Word[] };

/** At most 256 characters a line: NISTIR 6556 section 3.3. */
const LONGEST_LINE = 256;
/** A number has no exponent: NISTIR 6556 section 3.3.2.1. */
const WORD = /^([A-Z])(-?[0-9]{1,12}(?:\.[0-9]{1,15})?)$/;
/** Settings that leave the path where it is. */
const SETTING_G: ReadonlySet<number> = new Set([
  4, 17, 21, 40, 49, 54, 55, 56, 57, 58, 59, 59.1, 59.2, 59.3, 61, 61.1, 80, 90, 93, 94,
]);
const SETTING_M: ReadonlySet<number> = new Set([0, 1, 2, 3, 5, 7, 8, 9]);

/** A double holds every whole number of this many digits, and every power of ten up to that of its decimals. */
const EXACT_DIGITS = 15;
const POWERS = [1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14];
const SPACE = 0x20;
const MINUS = 0x2d;
const POINT = 0x2e;
const ZERO = 0x30;
const NINE = 0x39;

/**
 * Reads a move such as nearly all lines are, G0 or G1 and plain words after it, from a text without taking it apart;
 * undefined for any other line, right or wrong, which `readWords` reads. Where both read a line they agree.
 */
export function readPlainMove(text: string, start: number, end: number): MoveWords | undefined {
  const rapid = text.startsWith('G0 ', start);
  if (!rapid && !text.startsWith('G1 ', start)) return undefined;
  let x: number | undefined;
  let a: number | undefined;
  let z: number | undefined;
  let f: number | undefined;
  for (let at = start + 3; at <= end; at++) {
    const letter = text.charAt(at++);
    const negative = text.charCodeAt(at) === MINUS;
    if (negative) at++;
    let whole = 0;
    let digits = 0;
    let decimals = -1;
    for (; at < end; at++) {
      const code = text.charCodeAt(at);
      if (code === POINT && decimals < 0 && digits > 0 && digits <= 12) decimals = 0;
      else if (code >= ZERO && code <= NINE) {
        whole = 10 * whole + (code - ZERO);
        digits++;
        if (decimals >= 0) decimals++;
      } else break;
    }
    const ended = at === end || text.charCodeAt(at) === SPACE;
    if (!ended || digits === 0 || digits > EXACT_DIGITS || decimals === 0) return undefined;
    if ((decimals < 0 && digits > 12) || (negative && whole === 0)) return undefined;
    // Both are exact, so the quotient is the double nearest to what is written.
    const size = decimals > 0 ? whole / POWERS[decimals]! : whole;
    const value = negative ? -size : size;
    if (letter === 'X' && x === undefined) x = value;
    else if (letter === 'A' && a === undefined) a = value;
    else if (letter === 'Z' && z === undefined) z = value;
    else if (letter === 'F' && f === undefined && !rapid) f = value;
    else return undefined;
  }
  if (x === undefined && a === undefined && z === undefined) return undefined;
  return { kind: 'move', rapid, x, a, z, f };
}

/** Reads one line, numbered `n`; reports what is wrong and returns undefined where it is not one of ours. */
export function readWords(line: string, n: number, report: Report): LineWords | undefined {
  if (line.length > LONGEST_LINE) {
    report(n, 'station.read-line-too-long', { characters: line.length, most: LONGEST_LINE });
    return undefined;
  }
  if (line.startsWith('(')) {
    const found = readRemark(line);
    const meant = found ? undefined : remarkMeant(line);
    if (meant) report(n, 'station.read-comment-blank', { comment: meant });
    else if (!found) report(n, 'station.read-comment', {});
    return found && { kind: 'remark', ...found };
  }
  if (line.trim() === '' || /^ | {2}| $/.test(line)) {
    report(n, line.trim() === '' ? 'station.read-blank-line' : 'station.read-blank', {});
    return undefined;
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
