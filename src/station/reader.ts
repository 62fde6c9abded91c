import { type Problem, problem } from '../problem.js';
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
  const problems: Problem[] = [];
  const fault = (line: number, what: string, cure = 'Write the program again.') => {
    if (problems.length < MOST_PROBLEMS) problems.push(problem(`line ${line}`, what, cure));
  };
  if (!text.endsWith('\n')) fault(1, 'the text does not end in a line feed', 'The file may be cut short.');
  const lines = text.split('\n');
  lines.pop();
  const head = readHead(lines.slice(0, HEAD_KEYS.length), fault);
  const state = newState();
  for (let k = HEAD_KEYS.length; k < lines.length && problems.length < MOST_PROBLEMS; k++) {
    const say = (what: string) => fault(k + 1, what);
    if (state.ended) {
      say('there is something after M2');
      break;
    }
    const read = readWords(lines[k]!, say);
    if (read?.kind === 'remark' && read.key === 'cut') startCut(state, k + 1, read.value);
    else if (read?.kind === 'move') {
      const wrong = takeMove(state, k + 1, read);
      if (wrong) say(wrong);
    } else if (read?.kind === 'setting') takeSetting(state, read, say);
  }
  if (!state.ended) fault(lines.length, 'the program does not end with M2', 'The file may be cut short.');
  if (problems.length === 0 && !state.mode) fault(lines.length, 'it never says how feed is measured');
  if (problems.length > 0 || !head || !state.mode) return { ok: false, problems };
  const { mode, moves, cuts, afterMoves, turning: leftTurning } = state;
  return { ok: true, program: { head, mode, moves, cuts, afterMoves, leftTurning } };
}

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

type Say = (what: string) => void;

/** Takes one move on; says what is wrong with it. */
function takeMove(state: State, line: number, move: LineWords & { kind: 'move' }): string | undefined {
  if (!state.units || !state.absolute) return 'it moves before G21 and G90';
  const { x, a, z, f } = move;
  if (
    state.moves.length === 0 &&
    (move.rapid === false || z === undefined || x !== undefined || a !== undefined)
  )
    return 'its first move is not Z alone, up to safe height';
  const from = state.at;
  const to = { x: x ?? from.x, a: a ?? from.a, z: z ?? from.z };
  state.at = to;
  state.afterMoves = { settings: state.settings, z: to.z };
  if (move.rapid) {
    state.moves.push({ kind: 'rapid', line, from, to });
    return undefined;
  }
  if (!known(from) || !known(to)) return 'it feeds before it has said where every axis is';
  if (!state.mode) return 'it feeds before G93 or G94';
  if (f === undefined || !(f > 0)) return 'a G1 line has no F above nought';
  const spindle = state.turning ? state.speed : 0;
  state.moves.push({ kind: 'feed', line, from, to, f, mode: state.mode, spindle, cut: state.cut });
  return undefined;
}

const known = (at: Partial<Position>): at is Position =>
  at.x !== undefined && at.a !== undefined && at.z !== undefined;

/** Takes the words of one setting line on. */
function takeSetting(state: State, setting: LineWords & { kind: 'setting' }, say: Say): void {
  state.settings = [...state.settings, setting.words.map((word) => word.text).join(' ')];
  for (const { letter, value, text } of setting.words) {
    if (letter === 'S') state.speed = value;
    if (letter === 'G') {
      if (value === 21) state.units = true;
      if (value === 90) state.absolute = true;
      if (value === 93 || value === 94) {
        if (state.moves.some((move) => move.kind === 'feed')) say(`${text} changes the feed mode on the way`);
        state.mode = value === 93 ? 'inverse-time' : 'per-minute';
      }
      if (value >= 49 && value < 60 && state.moves.length > 0) say(`${text} shifts zero after a move`);
    }
    if (letter === 'M') {
      if (value === 2) state.ended = true;
      if (value === 3) state.turning = true;
      if (value === 5) state.turning = false;
    }
  }
  if (state.turning && state.speed <= 0) say('the spindle is started without a speed');
}
