import type { Problem } from '../problem.js';
import { MOST_PROGRAM_BYTES } from './reader-budget.js';
import { faultList, type Report } from './reader-faults.js';
import { HEAD_KEYS, type ReadHead, readHead } from './reader-head.js';
import { type LineWords, readWords } from './reader-words.js';

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
  /** Every setting so far, as it was written and in its order. */
  readonly settings: readonly string[];
  /** mm; undefined before the first move. */
  readonly z: number | undefined;
}

/** Where a program begins to cut a mark's block. */
export interface CutStart {
  readonly line: number;
  readonly name: string;
  readonly state: ModalState;
}

export type FeedMode = 'inverse-time' | 'per-minute';
export type ReadMove = RapidMove | FeedMove;

export interface ReadProgram {
  readonly head: ReadHead;
  readonly mode: FeedMode;
  readonly moves: readonly ReadMove[];
  readonly cuts: readonly CutStart[];
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
  const lines = text.split('\n');
  if (lines.at(-1) === '') lines.pop();
  const head = readHead(lines.slice(0, HEAD_KEYS.length), (line, key) =>
    report(line, 'station.read-head-line', { key }),
  );
  const state = newState();
  for (let k = HEAD_KEYS.length; k < lines.length && !isFull(); k++) {
    if (state.ended) {
      report(k + 1, 'station.read-after-end', {});
      break;
    }
    const read = readWords(lines[k]!, k + 1, report);
    if (read?.kind === 'remark' && read.key === 'cut') startCut(state, k + 1, read.value);
    else if (read?.kind === 'move') {
      const wrong = takeMove(state, k + 1, read);
      if (wrong) report(k + 1, wrong, {});
    } else if (read?.kind === 'setting') takeSetting(state, k + 1, read, report);
  }
  if (!state.ended) report(lines.length, 'station.read-no-end', {});
  if (problems.length === 0 && !state.mode) report(lines.length, 'station.read-no-feed-mode', {});
  if (problems.length > 0 || !head || !state.mode) return { ok: false, problems };
  const { mode, moves, cuts, afterMoves, turning: leftTurning } = state;
  return { ok: true, program: { head, mode, moves, cuts, afterMoves, leftTurning } };
}

/** Reports what a copy through another program does to a whole text. */
function reportEncoding(text: string, report: Report): void {
  const zero = text.indexOf('\0');
  const end = text.indexOf('\r');
  if (text === '') report(1, 'station.read-empty', {});
  if (text.length > MOST_PROGRAM_BYTES)
    report(1, 'station.program-too-long', { bytes: text.length, most: MOST_PROGRAM_BYTES });
  if (text.startsWith(BYTE_ORDER_MARK)) report(1, 'station.read-byte-order-mark', {});
  if (zero >= 0) report(lineAt(text, zero), 'station.read-wide-characters', {});
  else if (end >= 0) report(lineAt(text, end), 'station.read-carriage-return', {});
}

const BYTE_ORDER_MARK = '\ufeff';

/** The line, from 1, that holds the character at an index. */
const lineAt = (text: string, index: number): number => text.slice(0, index).split('\n').length;

interface State {
  units: boolean;
  absolute: boolean;
  mode: FeedMode | undefined;
  speed: number;
  turning: boolean;
  ended: boolean;
  cut: string;
  at: Partial<Position>;
  /** Replaced, never added to, so that two equal lists are the same one. */
  settings: readonly string[];
  afterMoves: ModalState;
  readonly moves: ReadMove[];
  readonly cuts: CutStart[];
}

const newState = (): State => ({
  units: false,
  absolute: false,
  mode: undefined,
  speed: 0,
  turning: false,
  ended: false,
  cut: '',
  at: {},
  settings: [],
  afterMoves: { settings: [], z: undefined },
  moves: [],
  cuts: [],
});

function startCut(state: State, line: number, name: string): void {
  state.cut = name;
  state.cuts.push({ line, name, state: { settings: state.settings, z: state.at.z } });
}

type MoveFault =
  | 'station.read-move-before-units'
  | 'station.read-first-move'
  | 'station.read-feed-before-position'
  | 'station.read-feed-before-mode'
  | 'station.read-feed-without-rate';

/** Applies one move to the state; the code of what is wrong with it, if anything. */
function takeMove(state: State, line: number, move: LineWords & { kind: 'move' }): MoveFault | undefined {
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
  state.afterMoves = { settings: state.settings, z: to.z };
  if (move.rapid) {
    state.moves.push({ kind: 'rapid', line, from, to });
    return undefined;
  }
  if (!isKnown(from) || !isKnown(to)) return 'station.read-feed-before-position';
  if (!state.mode) return 'station.read-feed-before-mode';
  if (f === undefined || !(f > 0)) return 'station.read-feed-without-rate';
  const spindle = state.turning ? state.speed : 0;
  state.moves.push({ kind: 'feed', line, from, to, f, mode: state.mode, spindle, cut: state.cut });
  return undefined;
}

const isKnown = (at: Partial<Position>): at is Position =>
  at.x !== undefined && at.a !== undefined && at.z !== undefined;

/** Applies the words of one setting line to the state. */
function takeSetting(
  state: State,
  line: number,
  setting: LineWords & { kind: 'setting' },
  report: Report,
): void {
  state.settings = [...state.settings, setting.words.map((word) => word.text).join(' ')];
  for (const { letter, value, text } of setting.words) {
    if (letter === 'S') state.speed = value;
    if (letter === 'G') {
      if (value === 21) state.units = true;
      if (value === 90) state.absolute = true;
      if (value === 93 || value === 94) {
        if (state.moves.some((move) => move.kind === 'feed'))
          report(line, 'station.read-feed-mode-changes', { word: text });
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
