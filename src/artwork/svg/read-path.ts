import svgpath from 'svgpath';
import type { PathCommand } from '../../geometry/path-command.js';
import { LimitExceeded } from '../budget.js';
import { type ArcNumbers, arcToCubics } from './arc.js';
import { LARGEST_NUMBER } from './css-values.js';

/**
 * Path data (SVG 2, 9.3) as absolute lines and curves, arcs as cubics. As the standard asks, a path is read up to the
 * first fault in it.
 */
export interface ReadPath {
  readonly path: readonly PathCommand[];
  readonly isWhole: boolean;
}

export const MOST_SEGMENTS = 500_000;
/** Numbers of the longest command, an arc. */
const MOST_NUMBERS_EACH = 7;

/**
 * Reads path data with svgpath. Around it stands what it lacks: faults that it
 * passes over; limits, since its memory has no bound and its time grows
 * with the square of a run of numbers; numbers that begin with 0; a range for numbers; and arcs as cubics that stay
 * within the tolerance of a program. Throws `LimitExceeded`.
 */
export function readPath(d: string): ReadPath {
  checkSize(d);
  const legal = legalPart(d);
  const read = svgpath(splitLongRuns(withoutLeadingZeros(legal))) as Parsed;
  const fault = read.segments.findIndex(([command, ...v]) => isBeyond(command, v));
  if (fault >= 0) read.segments.length = fault;
  const path: PathCommand[] = [];
  let isClosed = false;
  read
    .abs()
    .unshort()
    .iterate(([command, ...numbers], _, x, y) => {
      const v = numbers as number[];
      // After a closing, what follows begins a new subpath where the last one began.
      if (isClosed && command !== 'M' && command !== 'Z') path.push(['M', x, y]);
      isClosed = command === 'Z' || command === 'z';
      if (isClosed) path.push(['Z']);
      else if (command === 'H') path.push(['L', v[0]!, y]);
      else if (command === 'V') path.push(['L', x, v[0]!]);
      else if (command === 'A')
        for (const arc of arcToCubics([x, y], v as unknown as ArcNumbers, [v[5]!, v[6]!])) path.push(arc);
      else path.push([command, ...v] as unknown as PathCommand);
    });
  if (path.length > MOST_SEGMENTS) throw new LimitExceeded('artwork.too-many-segments', MOST_SEGMENTS);
  return { path, isWhole: fault < 0 && read.err === '' && legal === d };
}

/** What the type of the library leaves out: the segments up to the first fault, and a text where there is one. */
type Parsed = ReturnType<typeof svgpath> & {
  segments: [command: string, ...number[]][];
  readonly err: string;
};

/** `r` is a command of svgpath alone. */
const isBeyond = (command: string, v: readonly number[]): boolean =>
  command === 'r' || command === 'R' || !v.every((n) => Math.abs(n) <= LARGEST_NUMBER);

/** Stops at data of more commands or numbers than any path within the limit has, before any memory is taken for them. */
function checkSize(d: string): void {
  let [commands, numbers] = [0, 0];
  let inNumber = false;
  for (let i = 0; i < d.length; i++) {
    const code = d.charCodeAt(i);
    const isDigit = code >= 48 && code <= 57;
    if (isDigit && !inNumber) numbers++;
    inNumber = isDigit;
    if ((code | 32) >= 97 && (code | 32) <= 122 && (code | 32) !== 101) commands++;
  }
  if (commands > MOST_SEGMENTS || numbers > 2 * MOST_NUMBERS_EACH * MOST_SEGMENTS)
    throw new LimitExceeded('artwork.too-many-segments', MOST_SEGMENTS);
}

/** Signs of no path data, commas that no number follows or that follow no number, and numbers that end in a point. */
const ILLEGAL =
  /[^MZLHVCSQTAmzlhvcsqta\deE+\-.,\t\n\f\r ]|(?:^|[A-DF-Za-df-z,])[\t\n\f\r ]*,|,[\t\n\f\r ]*(?:[A-DF-Za-df-z]|$)|(?<![\d.])\d+\.(?!\d)|\.(?!\d)/;

/** The data up to a sign that svgpath takes and browsers do not. */
function legalPart(d: string): string {
  const at = d.search(ILLEGAL);
  return at < 0 ? d : d.slice(0, /[A-DF-Za-df-z]/.test(d[at]!) ? at + 1 : at);
}

/** Numbers of path data may begin with 0, where svgpath stops. Beside the flags of an arc, 0 is a number by itself. */
const withoutLeadingZeros = (d: string): string =>
  /[aA]/.test(d) ? d : d.replace(/(^|[^\d.eE]|[eE][-+]?)0+(?=\d)/g, '$1');

/** Characters of the numbers after one command, within which the time of svgpath is of no account. */
const LONG_RUN = 4_000;
const COUNTS: Readonly<Record<string, number>> = { M: 2, L: 2, H: 1, V: 1, C: 6, S: 4, Q: 4, T: 2, A: 7 };
const NUMBER = /[\s,]*[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?/y;
const FLAG = /[\s,]*[01]/y;

/** The same data with commands written again after so many numbers. */
function splitLongRuns(d: string): string {
  if (d.length <= LONG_RUN) return d;
  return d.replace(/([a-df-zA-DF-Z])([^a-df-zA-DF-Z]*)/g, (run, command: string, numbers: string) =>
    numbers.length <= LONG_RUN ? run : splitRun(command, numbers),
  );
}

function splitRun(command: string, numbers: string): string {
  const kind = command.toUpperCase();
  const count = COUNTS[kind];
  if (count === undefined) return command;
  // After a move, pairs go on as lines.
  const again = command === 'M' ? 'L' : command === 'm' ? 'l' : command;
  const parts: string[] = [];
  let [start, end] = [0, 0];
  for (let k = 0; ; k++) {
    if (k > 0 && k % count === 0 && end - start > LONG_RUN / 2) {
      parts.push(numbers.slice(start, end));
      start = end;
    }
    const form = kind === 'A' && (k % count === 3 || k % count === 4) ? FLAG : NUMBER;
    form.lastIndex = end;
    if (!form.test(numbers)) break;
    end = form.lastIndex;
  }
  // At a fault svgpath stops by itself, a few characters on.
  parts.push(numbers.slice(start, end + LONG_RUN));
  return parts
    .map((part, k) => `${k === 0 ? command : again}${part.replace(k === 0 ? /^$/ : /^[\s,]*/, '')}`)
    .join('');
}
