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
  | { readonly kind: 'setting'; readonly words: readonly Word[] }
  /** Blank, a line number alone, or comments that are not ours. */
  | { readonly kind: 'nothing' }
  /** One `%`, which marks where a text begins and ends: NISTIR 6556 section 3.1. */
  | { readonly kind: 'percent' };

/** At most 256 characters a line: NISTIR 6556 section 3.3. */
const LONGEST_LINE = 256;
/** A letter and a number without an exponent, with or without a sign: NISTIR 6556 section 3.3.2.1. */
const WORD = /([A-NP-Z])([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))/y;
/** So many digits before the point and after it a double holds to the last. */
const SHORT_NUMBER = /^[+-]?[0-9]{0,12}(?:\.[0-9]{0,15})?$/;
/** A line number, which says nothing: NISTIR 6556 section 3.3.1. */
const LINE_NUMBER = /^[Nn][0-9]{1,8}(?![0-9.])[ \t]*/;
/** A comment that a control shows, or acts on: NISTIR 6556 section 3.3.4 has MSG; controls have more. */
const ACTIVE_COMMENT = /^\s*(?:msg|[A-Z]+)\s*,/;
/** Axes whose numbers a control may read as a count of its smallest steps where they have no point. */
const NEEDS_POINT = 'XAZ';
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
    if (decimals < 0 && letter !== 'F') return undefined;
    if (letter === 'X' && x === undefined) x = value;
    else if (letter === 'A' && a === undefined) a = value;
    else if (letter === 'Z' && z === undefined) z = value;
    else if (letter === 'F' && f === undefined && !rapid) f = value;
    else return undefined;
  }
  if (x === undefined && a === undefined && z === undefined) return undefined;
  return { kind: 'move', rapid, x, a, z, f };
}

/**
 * Reads one line, numbered `n`, as RS274/NGC does: letters large or small, blanks and tabs anywhere, a line number, and
 * comments, which say nothing unless they are ours. Reports what is wrong and returns undefined where it cannot stand in
 * a program.
 */
export function readWords(line: string, n: number, report: Report): LineWords | undefined {
  if (line.length > LONGEST_LINE) {
    report(n, 'station.read-line-too-long', { characters: line.length, most: LONGEST_LINE });
    return undefined;
  }
  const own = line.replace(/^[ \t]+|[ \t]+$/g, '').replace(LINE_NUMBER, '');
  if (own === '%') return { kind: 'percent' };
  if (own.startsWith('(')) {
    const found = readRemark(own);
    if (found) return { kind: 'remark', ...found };
    const meant = remarkMeant(own);
    if (meant) {
      report(n, 'station.read-comment-blank', { comment: meant });
      return undefined;
    }
  }
  const outside = withoutComments(own, n, report);
  if (outside === undefined) return undefined;
  const sign = /[;/#[\]=*]/.exec(outside)?.[0];
  if (sign !== undefined) {
    const kind = sign === ';' ? 'semicolon' : sign === '/' ? 'slash' : 'formula';
    report(n, 'station.read-sign', { sign, kind });
    return undefined;
  }
  const words = wordsOf(outside.replaceAll(/[ \t]/g, '').toUpperCase(), n, report);
  if (!words) return undefined;
  if (words.length === 0) return { kind: 'nothing' };
  if (words.some(isMotion)) return readMove(words, n, report);
  const axis = words.find(({ letter }) => NEEDS_POINT.includes(letter));
  if (axis && words.every(({ letter }) => 'XAZF'.includes(letter))) {
    report(n, 'station.read-axis-without-motion', { word: axis.text });
    return undefined;
  }
  return readSetting(words, n, report);
}

/** What of a line stands outside comments; undefined, with a report, where a comment is none or is an order. */
function withoutComments(line: string, n: number, report: Report): string | undefined {
  let outside = '';
  for (let at = 0; at < line.length; ) {
    const open = line.indexOf('(', at);
    const part = line.slice(at, open < 0 ? line.length : open);
    outside += part;
    const close = open < 0 ? line.length : line.indexOf(')', open);
    const comment = open < 0 ? '' : line.slice(open + 1, close);
    const isWrong =
      part.includes(')') || close < 0 || !/^[\t\x20-\x7e]*$/.test(comment) || comment.includes('(');
    if (isWrong || ACTIVE_COMMENT.test(comment)) {
      report(n, isWrong ? 'station.read-comment' : 'station.read-comment-active', {});
      return undefined;
    }
    at = close + 1;
  }
  return outside;
}

/** The words of a line of letters and numbers alone. */
function wordsOf(text: string, n: number, report: Report): Word[] | undefined {
  const words: Word[] = [];
  for (let at = 0; at < text.length; ) {
    WORD.lastIndex = at;
    const [found = '', letter = '', number = ''] = WORD.exec(text) ?? [];
    const next = text.charAt(at + found.length);
    if (found === '' || !SHORT_NUMBER.test(number) || !/^[A-NP-Z]?$/.test(next)) {
      report(n, 'station.read-not-a-word', { text: JSON.stringify(text.slice(at, at + 20)) });
      return undefined;
    }
    if (NEEDS_POINT.includes(letter) && !number.includes('.')) {
      report(n, 'station.read-no-point', { word: found });
      return undefined;
    }
    // A nought below nought is nought.
    words.push({ letter, value: Number(number) + 0, text: found });
    at += found.length;
  }
  return words;
}

const isMotion = ({ letter, value }: Word): boolean => letter === 'G' && (value === 0 || value === 1);

function readMove(words: readonly Word[], n: number, report: Report): LineWords | undefined {
  const motion = words.find(isMotion)!;
  const at = new Map<string, number>();
  for (const word of words) {
    const { letter, value, text } = word;
    if (word === motion) continue;
    if (!'XAZF'.includes(letter) || at.has(letter)) {
      report(n, 'station.read-word-in-move', { word: text });
      return undefined;
    }
    at.set(letter, value);
  }
  const rapid = motion.value === 0;
  const f = at.get('F');
  const still = at.size === (f === undefined ? 0 : 1);
  if (still || (rapid && f !== undefined)) {
    report(n, still ? 'station.read-move-without-axis' : 'station.read-rapid-with-feed', {});
    return undefined;
  }
  return { kind: 'move', rapid, x: at.get('X'), a: at.get('A'), z: at.get('Z'), f };
}

/** Words of which a line holds one: modal groups, NISTIR 6556 tables 4 and 5 (from memory), and words by their letter. */
const GROUPS: readonly (readonly [letter: string, ...numbers: number[]])[] = [
  ['G', 93, 94],
  ['G', 54, 55, 56, 57, 58, 59, 59.1, 59.2, 59.3],
  ['G', 61, 61.1],
  ['M', 0, 1, 2],
  ['M', 3, 5],
  ['M', 7, 8, 9],
  ['S'],
  ['T'],
  ['P'],
];

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
  for (const [letter, ...numbers] of GROUPS) {
    const [one, other] = words.filter(
      (word) => word.letter === letter && (numbers.length === 0 || numbers.includes(word.value)),
    );
    if (!one || !other) continue;
    report(n, 'station.read-same-group', { word: one.text, other: other.text });
    return undefined;
  }
  const dwells = words.some(({ letter, value }) => letter === 'G' && value === 4);
  if (dwells !== words.some(({ letter }) => letter === 'P')) {
    report(n, 'station.read-dwell', {});
    return undefined;
  }
  return { kind: 'setting', words };
}
