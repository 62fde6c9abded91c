import type { Station } from '../schema/station.js';

/**
 * Words that a station's own lines may hold: none moves an axis, shifts zero after a move, changes the tool or loosens
 * the path. A reader that does not know a word cannot prove a program that holds it.
 */
const PROVABLE_WORD =
  /^(G0?4|G17|G40|G49|G5[4-9]|G59\.[1-3]|G61(\.1)?|G80|M0?[01]|M0?[35789]|[PST][0-9]+(\.[0-9]+)?)$/;

/** Groups of words of which a line holds one at most (NISTIR 6556, tables 4 and 5, from memory); other words are by their letter. */
const MODAL_GROUPS: readonly RegExp[] = [
  /^G0?4$/,
  /^G17$/,
  /^G40$/,
  /^G49$/,
  /^G5[4-9]/,
  /^G61(\.1)?$/,
  /^G80$/,
  /^M0?[01]$/,
  /^M0?[35]$/,
  /^M0?[789]$/,
  /^P/,
  /^S/,
  /^T/,
];

/** A number that a double holds to its last digit, and a control in its display. */
const SHORT_NUMBER = /^[A-Z][0-9]{1,12}(\.[0-9]{1,15})?$/;
const DWELL = /^G0?4$/;
const SHIFTS_ZERO = /^G(?:49|5[4-9])/;
const STARTS_SPINDLE = /^M0?3$/;
const STOPS_SPINDLE = /^M0?5$/;

/** What is wrong with one of a station's own lines. */
export interface StationLineFault {
  readonly kind:
    | 'unknown'
    | 'long-number'
    | 'same-group'
    | 'dwell-without-time'
    | 'time-without-dwell'
    | 'starts-spindle-after'
    | 'shifts-zero-after'
    | 'starts-without-speed'
    | 'speed-taken-away';
  readonly place: 'before' | 'after';
  /** The line, by its place. */
  readonly line: number;
  readonly word: string;
  /** The word of the same group that stands before it. */
  readonly other?: string;
}

type Spindle = { speed: number; turning: boolean };

/**
 * What is wrong with a station's own lines, one fault a line: words that no program of it can hold, words that RS274/NGC does
 * not take together, what would move zero or start the spindle after the last cut, and a spindle that turns at a speed
 * that nobody knows.
 */
export function stationLineFaults(station: Pick<Station, 'before' | 'after'>): StationLineFault[] {
  const spindle: Spindle = { speed: 0, turning: false };
  return (['before', 'after'] as const).flatMap((place) =>
    station[place].flatMap((text, line) => {
      const words = text.split(' ');
      const fault =
        wordFault(words, place) ?? (place === 'before' ? spindleFault(words, spindle) : undefined);
      return fault ? [{ ...fault, place, line }] : [];
    }),
  );
}

type WordFault = Pick<StationLineFault, 'kind' | 'word' | 'other'>;

function wordFault(words: readonly string[], place: 'before' | 'after'): WordFault | undefined {
  const seen = new Map<RegExp, string>();
  for (const word of words) {
    if (!PROVABLE_WORD.test(word)) return { kind: 'unknown', word };
    if (!SHORT_NUMBER.test(word)) return { kind: 'long-number', word };
    const group = MODAL_GROUPS.find((one) => one.test(word))!;
    const other = seen.get(group);
    if (other !== undefined) return { kind: 'same-group', word, other };
    seen.set(group, word);
    if (DWELL.test(word) && !words.some((w) => w.startsWith('P')))
      return { kind: 'dwell-without-time', word };
    if (word.startsWith('P') && !words.some((w) => DWELL.test(w)))
      return { kind: 'time-without-dwell', word };
    if (place === 'after' && STARTS_SPINDLE.test(word)) return { kind: 'starts-spindle-after', word };
    if (place === 'after' && SHIFTS_ZERO.test(word)) return { kind: 'shifts-zero-after', word };
  }
  return undefined;
}

/** Nobody knows how fast a cutter turns that is started before any speed above 0 is set; read-back refuses such a program. */
function spindleFault(words: readonly string[], spindle: Spindle): WordFault | undefined {
  const start = words.find((word) => STARTS_SPINDLE.test(word));
  const given = words.find((word) => word.startsWith('S'));
  turnSpindle(words, spindle);
  if (!spindle.turning || spindle.speed > 0) return undefined;
  // One fault for one spindle: the lines after it are read as if it stood.
  spindle.turning = false;
  return start !== undefined
    ? { kind: 'starts-without-speed', word: start }
    : { kind: 'speed-taken-away', word: given! };
}

function turnSpindle(words: readonly string[], spindle: Spindle): void {
  for (const word of words) {
    if (word.startsWith('S')) spindle.speed = Number(word.slice(1));
    if (STARTS_SPINDLE.test(word)) spindle.turning = true;
    if (STOPS_SPINDLE.test(word)) spindle.turning = false;
  }
}

/** The place of the line of `before` that leaves the spindle turning when the work begins; undefined where it stands. */
export function lineThatTurns(before: readonly string[]): number | undefined {
  const spindle: Spindle = { speed: 0, turning: false };
  let found: number | undefined;
  before.forEach((line, k) => {
    const words = line.split(' ');
    turnSpindle(words, spindle);
    if (words.some((word) => STARTS_SPINDLE.test(word))) found = k;
  });
  return spindle.turning ? found : undefined;
}
