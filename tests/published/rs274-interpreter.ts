/**
 * A second reader of programs, written from the rules of the report and from nothing in src: T. R. Kramer, F. M. Proctor,
 * E. Messina, The NIST RS274/NGC Interpreter, version 3, NISTIR 6556, National Institute of Standards and Technology,
 * 2000. From memory; section numbers as remembered. It knows lines, comments, numbers, modal motion and feed modes, for
 * the axes X, A and Z; what it does not know ends it with the line.
 */

export interface InterpretedMove {
  /** From 1. */
  readonly line: number;
  readonly rapid: boolean;
  readonly from: readonly [x: number, a: number, z: number];
  readonly to: readonly [x: number, a: number, z: number];
  /** Of a feed move. */
  readonly minutes: number | undefined;
  /** The spindle turns. */
  readonly turning: boolean;
}

export class LineError extends Error {
  readonly line: number;
  constructor(line: number, message: string) {
    super(`line ${line}: ${message}`);
    this.line = line;
  }
}

interface Control {
  at: [number, number, number];
  motion: number | undefined;
  inverse: boolean | undefined;
  feed: number | undefined;
  turning: boolean;
  ended: boolean;
}

/** The moves of a text up to its end, or a `LineError`. Percent signs, section 3.1, are passed over. */
export function interpret(text: string): InterpretedMove[] {
  const control: Control = {
    ...{ at: [Number.NaN, Number.NaN, Number.NaN], motion: undefined, inverse: undefined },
    ...{ feed: undefined, turning: false, ended: false },
  };
  const moves: InterpretedMove[] = [];
  const lines = text.split('\n');
  for (let n = 0; n < lines.length && !control.ended; n++) {
    const line = lines[n]!.replace(/\r$/, '');
    if (line.length > 256) throw new LineError(n + 1, 'longer than 256 characters (3.3)');
    if (line.trim() !== '%') execute(control, wordsOf(line, n + 1), n + 1, moves);
  }
  return moves;
}

/** Section 3.3: comments out, blanks and tabs out, letters of either size; then letters with numbers. */
function wordsOf(line: string, n: number): [letter: string, value: number][] {
  let plain = '';
  let inComment = false;
  for (const c of line) {
    if (c === '(' && inComment) throw new LineError(n, 'a comment in a comment (3.3.4)');
    if (c === ')' && !inComment) throw new LineError(n, 'a comment closed that was not opened (3.3.4)');
    if (c === '(' || c === ')') inComment = c === '(';
    else if (!inComment && c !== ' ' && c !== '\t') plain += c.toLowerCase();
  }
  if (inComment) throw new LineError(n, 'a comment that is not closed (3.3.4)');
  const words: [string, number][] = [];
  for (let at = 0; at < plain.length; ) {
    const letter = plain[at++]!;
    let number = '';
    while (at < plain.length && /[0-9.+-]/.test(plain[at]!)) number += plain[at++];
    if (!/[a-z]/.test(letter) || !/^[+-]?(\d+\.?\d*|\.\d+)$/.test(number))
      throw new LineError(n, `no word: ${letter}${number} (3.3.2)`);
    if (letter === 'n' && (words.length > 0 || !/^\d+$/.test(number)))
      throw new LineError(n, 'a line number that is none (3.3.1)');
    words.push([letter, Number(number)]);
  }
  return words;
}

/** In the order of table 8: feed mode, feed, spindle, then the motion, then the end. */
function execute(control: Control, words: [string, number][], n: number, moves: InterpretedMove[]): void {
  const value = (letter: string): number | undefined => {
    const found = words.filter(([one]) => one === letter);
    if (found.length > 1 && letter !== 'g' && letter !== 'm')
      throw new LineError(n, `${letter} twice on a line (3.3.3)`);
    return found[0]?.[1];
  };
  const has = (letter: string, number: number) => words.some(([l, v]) => l === letter && v === number);
  for (const [letter, number] of words) {
    if (!'ngmxazfstp'.includes(letter)) throw new LineError(n, `the letter ${letter}`);
    if (
      letter === 'g' &&
      ![0, 1, 4, 17, 21, 40, 49, 54, 55, 56, 57, 58, 59, 61, 61.1, 80, 90, 93, 94].includes(number)
    )
      throw new LineError(n, `G${number}`);
    if (letter === 'm' && ![0, 1, 2, 3, 5, 7, 8, 9].includes(number)) throw new LineError(n, `M${number}`);
  }
  if (has('g', 0) && has('g', 1)) throw new LineError(n, 'two motions on a line (3.4)');
  if (has('g', 93) && has('g', 94)) throw new LineError(n, 'two feed modes on a line (3.4)');
  if (has('g', 93)) control.inverse = true;
  if (has('g', 94)) control.inverse = false;
  const f = value('f');
  if (f !== undefined) control.feed = f;
  if (has('m', 3)) control.turning = true;
  if (has('m', 5)) control.turning = false;
  for (const motion of [0, 1]) if (has('g', motion)) control.motion = motion;
  const [x, a, z] = [value('x'), value('a'), value('z')];
  const isMoved = x !== undefined || a !== undefined || z !== undefined;
  if ((has('g', 0) || has('g', 1)) && !isMoved)
    throw new LineError(n, 'a motion without an axis (3.5.1, 3.5.2)');
  if (isMoved) {
    if (control.motion === undefined) throw new LineError(n, 'an axis without a motion');
    const from = control.at;
    const to: [number, number, number] = [x ?? from[0], a ?? from[1], z ?? from[2]];
    control.at = to;
    const rapid = control.motion === 0;
    const minutes = rapid ? undefined : minutesOf(control, from, to, f, n);
    moves.push({ line: n, rapid, from, to, minutes, turning: control.turning });
  }
  if (has('m', 2)) control.ended = true;
}

/** Sections 2.1.2.5 and 3.5.19. */
function minutesOf(
  { inverse, feed }: Control,
  from: readonly number[],
  to: readonly number[],
  own: number | undefined,
  n: number,
): number {
  if (inverse === undefined) throw new LineError(n, 'no feed mode');
  // In inverse time each such line says its own time.
  const f = inverse ? own : feed;
  if (f === undefined || !(f > 0)) throw new LineError(n, 'no feed (3.5.19)');
  if (inverse) return 1 / f;
  const linear = Math.hypot(to[0]! - from[0]!, to[2]! - from[2]!);
  return (linear > 0 ? linear : Math.abs(to[1]! - from[1]!)) / f;
}
