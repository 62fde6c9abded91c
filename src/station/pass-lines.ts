import type { CutBlock, CutLine } from '../cutting/cuts.js';
import type { StationAxes } from './axes.js';
import { type AxisLine, nearlyEqual, wayOf } from './axis-line.js';
import { feedWord } from './feed-word.js';
import { type MachineSetup, usefulStepMm } from './machine-setup.js';
import { formatFixed } from './program-numbers.js';

/** A line with points of its own where its depth passes that of a pass, so that every pass is straight between points. */
export function atPasses(line: CutLine, passes: readonly number[]): CutLine {
  const { points, closed, depths } = line;
  if (!depths) return line;
  const [out, deep]: [number[], number[]] = [[], []];
  const n = depths.length;
  for (let k = 0; k < n; k++) {
    out.push(points[2 * k]!, points[2 * k + 1]!);
    deep.push(depths[k]!);
    if (k === n - 1 && !closed) break;
    const next = (k + 1) % n;
    const [d0, d1] = [depths[k]!, depths[next]!];
    const crossed = passes
      .map((pass) => (pass - d0) / (d1 - d0))
      .filter((t) => t > 0 && t < 1)
      .sort((a, b) => a - b);
    for (const t of crossed) {
      out.push(points[2 * k]! + t * (points[2 * next]! - points[2 * k]!));
      out.push(points[2 * k + 1]! + t * (points[2 * next + 1]! - points[2 * k + 1]!));
      deep.push(d0 + t * (d1 - d0));
    }
  }
  return { points: Float64Array.from(out), closed, depths: Float64Array.from(deep) };
}

/**
 * Down, along, and deeper until the full depth. A line that ends where it began goes round again; another is cut back
 * the way it came. Says where it ended: the point, the Z, and the minutes it took.
 */
export function cutPasses(
  setup: MachineSetup,
  axes: StationAxes,
  block: CutBlock,
  line: AxisLine,
  approachWord: string,
  out: string[],
): { at: number; z: number; minutes: number } {
  const { station, feed, plunge } = setup;
  const { xWords, aWords, x, a, surfaceZ, length, depth } = line;
  const last = x.length - 1;
  const same = last > 0 && xWords[0] === xWords[last] && aWords[0] === aWords[last];
  const round = same && (!depth || nearlyEqual(depth[0]!, depth[last]!, station.decimals));
  const shortest = usefulStepMm(setup);
  let minutes = 0;
  let at = 0;
  let zWord = approachWord;
  let before = 0;
  for (const pass of block.passes) {
    // What was cut to its depth already is not gone over again.
    if (before > 0 && depth?.every((d) => d <= before)) break;
    before = pass;
    const moves: string[] = [];
    const sunk = (k: number): number => (depth ? Math.min(depth[k]!, pass) : pass);
    const words = surfaceZ.map((z, k) => formatFixed(z - axes.plunge(sunk(k)), station.decimals));
    const sink = (word: string): void => {
      const drop = Math.abs(Number(word) - Number(zWord));
      if (word === zWord) return;
      moves.push(`G1 Z${word} ${feedWord(station.feed, plunge, drop, drop, 0)}`);
      minutes += drop / plunge;
      zWord = word;
    };
    sink(words[at]!);
    const back = at === last && last > 0;
    for (let k = 0; k < last; k++) {
      const from = back ? last - k : k;
      const to = back ? from - 1 : from + 1;
      if (length[Math.max(from, to)] === 0) {
        sink(words[to]!);
        continue;
      }
      // As written, so that the way is the one the control will go.
      const written = (at: number): number => (surfaceZ[at]! - Number(words[at]!)) / axes.plunge(1);
      const flat = length[Math.max(from, to)]!;
      // Where a move stays short, the rounding of Z is a part of its length.
      const dive = depth || flat < shortest ? written(to) - written(from) : 0;
      const long = wayOf(flat, dive);
      const lift = Math.abs(Number(words[to]!) - Number(words[from]!));
      // Going deeper on its way, the cutter sinks no faster than in a plunge; nor does rounding ask more of Z than it has.
      const pace = Math.min(
        feed,
        dive > 0 ? (plunge * long) / dive : feed,
        lift > 0 ? (station.axes.z.speed * long) / lift : feed,
      );
      const linear = Math.hypot(x[to]! - x[from]!, lift);
      let move = 'G1';
      if (xWords[to] !== xWords[from]) move += ` X${xWords[to]}`;
      if (aWords[to] !== aWords[from]) move += ` A${aWords[to]}`;
      if (words[to] !== words[from]) move += ` Z${words[to]}`;
      moves.push(`${move} ${feedWord(station.feed, pace, long, linear, Math.abs(a[to]! - a[from]!))}`);
      minutes += long / pace;
      zWord = words[to]!;
    }
    // One text for a pass: a million short ones would be held until the end.
    if (moves.length > 0) out.push(moves.join('\n'));
    at = round || back ? 0 : last;
  }
  return { at, z: Number(zWord), minutes };
}
