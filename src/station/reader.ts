import type { Problem } from '../problem.js';
import { MOST_PROGRAM_BYTES } from './reader-budget.js';
import { faultList, type Report } from './reader-faults.js';
import { HEAD_KEYS, headOf, type ReadHead, type Remark } from './reader-head.js';
import { type LineWords, type MoveWords, readPlainMove, readWords } from './reader-words.js';

/** Where the axes stand: X and Z in mm, A in degrees. */
export interface Position {
  readonly x: number;
  readonly a: number;
  readonly z: number;
}

export interface RapidMove {
  readonly kind: 'rapid';
  /** Line of the text, from 1. */
  readonly line: number;
  /** An axis is left out while the program has not yet said where it is. */
  readonly from: Partial<Position>;
  readonly to: Partial<Position>;
}

export interface FeedMove {
  readonly kind: 'feed';
  readonly line: number;
  readonly from: Position;
  readonly to: Position;
  /** The F word: 1/min in `inverse-time`; mm/min or degrees/min in `per-minute`. */
  readonly f: number;
  readonly mode: FeedMode;
  /** Spindle speed, 1/min; 0 when it stands. */
  readonly spindle: number;
  /** What the program says it is cutting here. */
  readonly cut: string;
}

/** What a control remembers from line to line, X and A apart. */
export interface ModalState {
  /** How many lines of settings there were: between two states with as many, nothing was set. */
  readonly settings: number;
  /** mm; undefined before the first move. */
  readonly z: number | undefined;
}

/** Where a program begins to cut a mark's block. */
export interface CutStart {
  readonly line: number;
  readonly name: string;
  readonly state: ModalState;
}

/** A line of the program that moves nothing, such as `G54`. */
export interface SettingLine {
  readonly line: number;
  /** Its words, a blank between two. */
  readonly text: string;
  /** How many blocks began before it, and how many moves were made. */
  readonly cuts: number;
  readonly moves: number;
}

export type FeedMode = 'inverse-time' | 'per-minute';
export type ReadMove = RapidMove | FeedMove;

export interface ReadProgram {
  readonly head: ReadHead;
  readonly mode: FeedMode;
  readonly moves: readonly ReadMove[];
  readonly cuts: readonly CutStart[];
  readonly settings: readonly SettingLine[];
  /** The state in which the last move leaves the control. */
  readonly afterMoves: ModalState;
  /** The spindle was never stopped by M5; M2 stops it (NISTIR 6556 section 3.6.1, from memory), but not on every control. */
  readonly leftTurning: boolean;
}

export type Reading =
  | { readonly ok: true; readonly program: ReadProgram }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** After this many problems the text is not a program of ours and the rest says nothing new. */
const MOST_PROBLEMS = 20;

/** Reads a program strictly: a word, order or character it does not know is a problem with its line, never a guess. */
export function readProgram(text: string): Reading {
  const { problems, isFull, report } = faultList(MOST_PROBLEMS);
  reportEncoding(text, report);
  // Every line would be at fault for the same cause, under another name.
  if (problems.length > 0) return { ok: false, problems };
  if (!text.endsWith('\n')) report(lineAt(text, text.length), 'station.read-no-last-line-feed', {});
  const state = newState();
  // A program may have a million lines: only those that are no plain moves are taken out of the text.
  let n = 0;
  for (let start = 0; start < text.length && !isFull() && !state.isOver; ) {
    const feed = text.indexOf('\n', start);
    const end = feed < 0 ? text.length : feed;
    // A line may end in a carriage return too, as other systems write it.
    takeLine(
      state,
      text,
      start,
      end > start && text.charCodeAt(end - 1) === RETURN ? end - 1 : end,
      ++n,
      report,
    );
    start = end + 1;
  }
  if (!state.ended) report(n, 'station.read-no-end', {});
  else if (state.percent === 'open') report(n, 'station.read-percent', {});
  if (problems.length === 0 && !state.mode) report(n, 'station.read-no-feed-mode', {});
  const head = headOf(state.head);
  if (problems.length > 0 || !head || !state.mode) return { ok: false, problems };
  const { mode, moves, cuts, settings, turning: leftTurning } = state;
  const afterMoves = { settings: state.settingsAtMove, z: state.at.z };
  return { ok: true, program: { head, mode, moves, cuts, settings, afterMoves, leftTurning } };
}

/** Reports what a copy through another program does to a whole text. */
function reportEncoding(text: string, report: Report): void {
  const zero = text.indexOf('\0');
  const lone = /\r(?!\n)/.exec(text)?.index ?? -1;
  if (text === '') report(1, 'station.read-empty', {});
  if (text.length > MOST_PROGRAM_BYTES) report(1, 'station.program-too-long', { most: MOST_PROGRAM_BYTES });
  if (text.startsWith(BYTE_ORDER_MARK)) report(1, 'station.read-byte-order-mark', {});
  if (zero >= 0) report(lineAt(text, zero), 'station.read-wide-characters', {});
  else if (lone >= 0) report(lineAt(text, lone), 'station.read-carriage-return', {});
}

const RETURN = 0x0d;
const BYTE_ORDER_MARK = '\ufeff';

/** The line, from 1, that holds the character at an index. */
const lineAt = (text: string, index: number): number => text.slice(0, index).split('\n').length;

interface State {
  /** The lines of the head so far, and whether one was none of it. */
  readonly head: Remark[];
  headFailed: boolean;
  /** Whether a `%` opened the text, and another closed it. */
  percent: 'none' | 'open' | 'closed';
  /** Nothing more is to be read. */
  isOver: boolean;
  units: boolean;
  absolute: boolean;
  mode: FeedMode | undefined;
  speed: number;
  turning: boolean;
  ended: boolean;
  cut: string;
  at: Partial<Position>;
  readonly settings: SettingLine[];
  /** The number of settings at the last move. */
  settingsAtMove: number;
  /** A move that cuts was read. */
  fed: boolean;
  readonly moves: ReadMove[];
  readonly cuts: CutStart[];
}

const newState = (): State => ({
  head: [],
  headFailed: false,
  percent: 'none',
  isOver: false,
  units: false,
  absolute: false,
  mode: undefined,
  speed: 0,
  turning: false,
  ended: false,
  cut: '',
  at: {},
  settings: [],
  settingsAtMove: 0,
  fed: false,
  moves: [],
  cuts: [],
});

function startCut(state: State, line: number, name: string): void {
  state.cut = name;
  state.cuts.push({ line, name, state: { settings: state.settings.length, z: state.at.z } });
}

/** Reads one line of the text and applies it to the state. */
function takeLine(state: State, text: string, start: number, end: number, n: number, report: Report): void {
  const read = readPlainMove(text, start, end) ?? readWords(text.slice(start, end), n, report);
  if (read?.kind === 'nothing') return;
  if (read?.kind === 'percent') {
    takePercent(state, n, report);
    return;
  }
  if (state.ended) {
    report(n, 'station.read-after-end', {});
    state.isOver = true;
    return;
  }
  if (!state.headFailed && state.head.length < HEAD_KEYS.length && takeHeadLine(state, read, n, report))
    return;
  if (read?.kind === 'remark') takeRemark(state, read, n, report);
  else if (read?.kind === 'move') {
    const wrong = takeMove(state, n, read);
    if (wrong) report(n, wrong, {});
  } else if (read?.kind === 'setting') takeSetting(state, n, read, report);
}

/** Of comments in the work only those that name a block say anything. */
function takeRemark(state: State, { key, value }: Remark, n: number, report: Report): void {
  if (key === 'cut') startCut(state, n, value);
  else if (!state.headFailed && HEAD_KEYS.some((one) => one === key))
    report(n, 'station.read-head-again', { key });
}

/** A text may stand between two lines with a `%` (NISTIR 6556 section 3.1): before its head, and after its end. */
function takePercent(state: State, n: number, report: Report): void {
  const { percent, head, ended } = state;
  if (percent === 'none' && head.length === 0 && !state.headFailed) state.percent = 'open';
  else if (percent === 'open' && ended) state.percent = 'closed';
  else report(n, 'station.read-percent', {});
}

/** Takes the next line of the head; false where it is another line. One fault is named: those that follow come of it. */
function takeHeadLine(state: State, read: LineWords | undefined, n: number, report: Report): boolean {
  const key = HEAD_KEYS[state.head.length]!;
  if (read?.kind === 'remark' && read.key === key) {
    state.head.push(read);
    return true;
  }
  state.headFailed = true;
  // What is no line at all is reported already.
  if (read) report(n, key === 'documents' ? 'station.read-head-old' : 'station.read-head-line', { key });
  return false;
}

type MoveFault =
  | 'station.read-move-before-units'
  | 'station.read-first-move'
  | 'station.read-feed-before-position'
  | 'station.read-feed-before-mode'
  | 'station.read-feed-without-rate';

/** Applies one move to the state; the code of what is wrong with it, if anything. */
function takeMove(state: State, line: number, move: MoveWords): MoveFault | undefined {
  if (!state.units || !state.absolute) return 'station.read-move-before-units';
  const { x, a, z, f } = move;
  if (
    state.moves.length === 0 &&
    (move.rapid === false || z === undefined || x !== undefined || a !== undefined)
  )
    return 'station.read-first-move';
  const from = state.at;
  const to = { x: x ?? from.x, a: a ?? from.a, z: z ?? from.z };
  state.at = to;
  state.settingsAtMove = state.settings.length;
  if (move.rapid) {
    state.moves.push({ kind: 'rapid', line, from, to });
    return undefined;
  }
  if (!isKnown(from) || !isKnown(to)) return 'station.read-feed-before-position';
  if (!state.mode) return 'station.read-feed-before-mode';
  if (f === undefined || !(f > 0)) return 'station.read-feed-without-rate';
  const spindle = state.turning ? state.speed : 0;
  state.fed = true;
  state.moves.push({ kind: 'feed', line, from, to, f, mode: state.mode, spindle, cut: state.cut });
  return undefined;
}

const isKnown = (at: Partial<Position>): at is Position =>
  at.x !== undefined && at.a !== undefined && at.z !== undefined;

/** The words of a line that moves nothing, a blank between two, each number in its shortest form. */
export const settingText = ({ words }: LineWords & { kind: 'setting' }): string =>
  words.map(({ letter, value }) => `${letter}${value}`).join(' ');

/** Applies the words of one setting line to the state. */
function takeSetting(
  state: State,
  line: number,
  setting: LineWords & { kind: 'setting' },
  report: Report,
): void {
  state.settings.push({
    ...{ line, text: settingText(setting), cuts: state.cuts.length, moves: state.moves.length },
  });
  for (const { letter, value, text } of setting.words) {
    if (letter === 'S') state.speed = value;
    if (letter === 'G') {
      if (value === 21) state.units = true;
      if (value === 90) state.absolute = true;
      if (value === 93 || value === 94) {
        if (state.fed) report(line, 'station.read-feed-mode-changes', { word: text });
        state.mode = value === 93 ? 'inverse-time' : 'per-minute';
      }
      if (value >= 49 && value < 60 && state.moves.length > 0)
        report(line, 'station.read-zero-shifted', { word: text });
    }
    if (letter === 'M') {
      if (value === 2) state.ended = true;
      if (value === 3) state.turning = true;
      if (value === 5) state.turning = false;
    }
  }
  if (state.turning && state.speed <= 0) report(line, 'station.read-spindle-without-speed', {});
}
