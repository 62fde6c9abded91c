import type { CutBlock } from '../cutting/cuts.js';
import { type Problem, problem } from '../problem.js';
import { PATH_TOLERANCE_MM } from '../units.js';
import { type StationAxes, stationAxes } from './axes.js';
import { feedWord } from './feed.js';
import { fixed } from './figures.js';
import {
  blockPlace,
  checkBlock,
  checkSpeed,
  checkTravel,
  type Demand,
  type Extent,
  type Span,
} from './limits.js';
import { type AxisLine, axisLine, type LaidLine, layLine } from './path.js';
import { remark } from './remark.js';
import { checkRun, type Run, safeHeight, strayMm } from './run.js';

/** Where X (mm) and A (degrees) stand, at safe height. */
export interface Stand {
  readonly x: number;
  readonly a: number;
}

/** A block's part of a program: from a rapid at safe height to its start, to the retract at its end. */
export interface PreparedBlock {
  readonly key: string;
  readonly text: string;
  /** Minutes from its start to its end, both at safe height. */
  readonly minutes: number;
  readonly start: Stand;
  readonly end: Stand;
  readonly extent: Extent;
}

/** Writes one block for a run, or says why it cannot be cut. The text is the same whatever stands around it. */
export function prepareBlock(run: Run, block: CutBlock): PreparedBlock | Problem[] {
  const early = [...checkRun(run), ...checkBlock(block)];
  if (early.length > 0) return early;
  const { station, surface } = run;
  const stray = strayMm(run);
  const laid: LaidLine[] = [];
  for (const line of block.lines) {
    const one = layLine(surface, line.points, line.closed, stray);
    if (!one) {
      return [
        problem(blockPlace(block), 'a line runs round the far side of the sheet', 'Make the mark smaller.'),
      ];
    }
    laid.push(one);
  }
  const off = checkEdges(run, block, laid);
  if (off) return [off];
  const axes = stationAxes(station, surface);
  const turn = block.turn + 360 * wholeTurns(run, axes, block.turn, laid);
  const lines = laid.map((line) => axisLine(axes, surface, line, turn, station.decimals));
  const extent = extentOf(run, axes, block, lines);
  const found = [...checkTravel(run, block, extent), ...checkSpeed(run, block, demandOf(lines))];
  if (found.length > 0) return found;
  return writeBlock(run, axes, block, lines, extent);
}

function checkEdges(run: Run, block: CutBlock, laid: readonly LaidLine[]): Problem | undefined {
  const { z0, z1 } = run.surface;
  let over = 0;
  for (const { z } of laid) for (const at of z) over = Math.max(over, z0 - at, at - z1);
  // A chord of a line that runs along a cone's edge passes outside it by what flattening took.
  if (over <= PATH_TOLERANCE_MM) return undefined;
  return problem(
    blockPlace(block),
    `it hangs ${over.toFixed(4)} mm over the edge of surface ${run.surface.id}`,
    'Move the mark, or make it smaller.',
  );
}

/** The whole turns, nearest to none, that bring a block inside A's limits; 0 where none does. */
function wholeTurns(run: Run, axes: StationAxes, turn: number, laid: readonly LaidLine[]): number {
  const { sign, min, max } = run.station.axes.a;
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (const { angle } of laid) {
    for (const at of angle) {
      least = Math.min(least, axes.a(turn + at));
      greatest = Math.max(greatest, axes.a(turn + at));
    }
  }
  const from = min === undefined ? Number.NEGATIVE_INFINITY : Math.ceil((min - least) / 360 - 1e-9);
  const to = max === undefined ? Number.POSITIVE_INFINITY : Math.floor((max - greatest) / 360 + 1e-9);
  if (from > to) return 0;
  return sign * Math.min(Math.max(0, from), to) + 0;
}

function extentOf(run: Run, axes: StationAxes, block: CutBlock, lines: readonly AxisLine[]): Extent {
  const span = (of: (line: AxisLine) => readonly number[]): Span => {
    let least = Number.POSITIVE_INFINITY;
    let greatest = Number.NEGATIVE_INFINITY;
    for (const line of lines) {
      for (const at of of(line)) {
        least = Math.min(least, at);
        greatest = Math.max(greatest, at);
      }
    }
    return [least, greatest];
  };
  const lowest = span((line) => line.surfaceZ)[0] - axes.plunge(block.depth);
  return {
    x: span((line) => line.x),
    a: span((line) => line.a),
    z: [Number(fixed(lowest, run.station.decimals)), safeHeight(run)],
  };
}

function demandOf(lines: readonly AxisLine[]): Demand {
  const demand: Demand = { x: 0, a: 0, z: 0 };
  for (const { x, a, surfaceZ, length } of lines) {
    for (let k = 1; k < x.length; k++) {
      demand.x = Math.max(demand.x, Math.abs(x[k]! - x[k - 1]!) / length[k]!);
      demand.a = Math.max(demand.a, Math.abs(a[k]! - a[k - 1]!) / length[k]!);
      demand.z = Math.max(demand.z, Math.abs(surfaceZ[k]! - surfaceZ[k - 1]!) / length[k]!);
    }
  }
  return demand;
}

function writeBlock(
  run: Run,
  axes: StationAxes,
  block: CutBlock,
  lines: readonly AxisLine[],
  extent: Extent,
): PreparedBlock {
  const { station } = run;
  const { decimals } = station;
  const safeWord = fixed(safeHeight(run), decimals);
  const safe = Number(safeWord);
  const out: string[] = [remark('cut', `${block.mark} ${block.name}`)];
  let minutes = 0;
  let stand: Stand | undefined;
  for (const line of lines) {
    const begin = { x: line.x[0]!, a: line.a[0]! };
    out.push(`G0 X${line.xWords[0]} A${line.aWords[0]}`);
    if (stand) minutes += rapidMinutes(run, stand, begin);
    const approachWord = fixed(Math.min(safe, line.surfaceZ[0]! + station.approach), decimals);
    if (approachWord !== safeWord) out.push(`G0 Z${approachWord}`);
    minutes += (safe - Number(approachWord)) / station.axes.z.speed;

    const cut = cutPasses(run, axes, block, line, approachWord, out);
    minutes += cut.minutes + (safe - cut.z) / station.axes.z.speed;
    out.push(`G0 Z${safeWord}`);
    stand = { x: line.x[cut.at]!, a: line.a[cut.at]! };
  }
  return {
    key: block.key,
    text: `${out.join('\n')}\n`,
    minutes,
    start: { x: lines[0]!.x[0]!, a: lines[0]!.a[0]! },
    end: stand!,
    extent,
  };
}

/** Minutes of a rapid move at safe height: as long as its slower axis takes. */
export function rapidMinutes(run: Run, from: Stand, to: Stand): number {
  const { x, a } = run.station.axes;
  return Math.max(Math.abs(to.x - from.x) / x.speed, Math.abs(to.a - from.a) / a.speed);
}

/**
 * Down, along, and deeper until the full depth. A line that ends where it began goes round again; another is cut back
 * the way it came. Says where it ended: the point, the Z, and the minutes it took.
 */
function cutPasses(
  run: Run,
  axes: StationAxes,
  block: CutBlock,
  line: AxisLine,
  approachWord: string,
  out: string[],
): { at: number; z: number; minutes: number } {
  const { station, feed, plunge } = run;
  const { xWords, aWords, x, a, surfaceZ, length } = line;
  const last = x.length - 1;
  const round = last > 0 && xWords[0] === xWords[last] && aWords[0] === aWords[last];
  let minutes = 0;
  let at = 0;
  let zWord = approachWord;
  for (const depth of block.passes) {
    const down = axes.plunge(depth);
    const words = surfaceZ.map((z) => fixed(z - down, station.decimals));
    const drop = Math.abs(Number(words[at]!) - Number(zWord));
    if (words[at] !== zWord) {
      out.push(`G1 Z${words[at]} ${feedWord(station.feed, plunge, drop, drop, 0)}`);
      minutes += drop / plunge;
    }
    zWord = words[at]!;
    const back = at === last && last > 0;
    for (let k = 0; k < last; k++) {
      const from = back ? last - k : k;
      const to = back ? from - 1 : from + 1;
      const long = length[Math.max(from, to)]!;
      const linear = Math.hypot(x[to]! - x[from]!, Number(words[to]!) - Number(words[from]!));
      let move = 'G1';
      if (xWords[to] !== xWords[from]) move += ` X${xWords[to]}`;
      if (aWords[to] !== aWords[from]) move += ` A${aWords[to]}`;
      if (words[to] !== words[from]) move += ` Z${words[to]}`;
      out.push(`${move} ${feedWord(station.feed, feed, long, linear, Math.abs(a[to]! - a[from]!))}`);
      minutes += long / feed;
    }
    at = round || back ? 0 : last;
    zWord = words[at]!;
  }
  return { at, z: Number(zWord), minutes };
}
