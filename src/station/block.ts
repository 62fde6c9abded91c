import type { CutBlock } from '../cutting/cuts.js';
import type { Problem } from '../problem.js';
import { PATH_TOLERANCE_MM } from '../units.js';
import { type StationAxes, stationAxes } from './axes.js';
import { type AxisLine, axisLine, type SurfaceLine, toSurfaceLine, wayOf } from './axis-line.js';
import {
  blockPlace,
  checkBlock,
  checkSpeed,
  checkTravel,
  type Demand,
  type Extent,
  greatestFeed,
  type Span,
} from './limits.js';
import { checkSetup, type MachineSetup, safeHeight, strayMm, usefulStepMm } from './machine-setup.js';
import { problem } from './messages.js';
import { atPasses, cutPasses } from './pass-lines.js';
import { formatFixed, formatRoundedDown } from './program-numbers.js';
import { remark } from './remark.js';

/** The most moves of one block, its passes counted: about 40 MB of program. */
export const MOST_BLOCK_MOVES = 1_000_000;

/** The position of X (mm) and A (degrees) at safe height. */
export interface AxisPosition {
  readonly x: number;
  readonly a: number;
}

/** A block's part of a program: from a rapid at safe height to its start, to the retract at its end. */
export interface PreparedBlock {
  readonly key: string;
  readonly text: string;
  /** Minutes from its start to its end, both at safe height. */
  readonly minutes: number;
  readonly start: AxisPosition;
  readonly end: AxisPosition;
  readonly extent: Extent;
}

/** Writes one block for a set-up, or says why it cannot be cut. The text is the same whatever stands around it. */
export function prepareBlock(
  setup: MachineSetup,
  block: CutBlock,
  mostMoves = MOST_BLOCK_MOVES,
): PreparedBlock | Problem[] {
  const laidOut = layOutBlock(setup, block, mostMoves);
  if (Array.isArray(laidOut)) return laidOut;
  const { axes, lines, extent, demand } = laidOut;
  const found = [...checkTravel(setup, block, extent), ...checkSpeed(setup, block, demand)];
  if (found.length > 0) return found;
  return writeBlock(setup, axes, block, lines, extent);
}

/** The greatest feed at which the axes of a set-up keep up with each of these blocks, rounded down; those that cannot be cut left out. */
export function greatestFeedOf(setup: MachineSetup, blocks: Iterable<CutBlock>): string {
  let feed = Number.POSITIVE_INFINITY;
  for (const block of blocks) {
    const laidOut = layOutBlock(setup, block, MOST_BLOCK_MOVES);
    if (!Array.isArray(laidOut)) feed = Math.min(feed, greatestFeed(setup, laidOut.demand));
  }
  return formatRoundedDown(feed);
}

/** A block as the axes of a set-up go through it. */
interface BlockOnAxes {
  readonly axes: StationAxes;
  readonly lines: readonly AxisLine[];
  readonly extent: Extent;
  readonly demand: Demand;
}

function layOutBlock(setup: MachineSetup, block: CutBlock, mostMoves: number): BlockOnAxes | Problem[] {
  const early = [...checkSetup(setup), ...checkBlock(block)];
  if (early.length > 0) return early;
  const { station, surface } = setup;
  const stray = strayMm(setup);
  const passes = block.passes.length;
  const tooMany = () => [problem('station.too-many-moves', blockPlace(block), { most: mostMoves, passes })];
  const surfaceLines: SurfaceLine[] = [];
  let moves = 0;
  for (const line of block.lines) {
    const { points, closed, depths } = atPasses(line, block.passes);
    // Each point takes a move at the least.
    if ((moves + points.length / 2) * passes > mostMoves) return tooMany();
    const one = toSurfaceLine(surface, points, closed, stray, depths);
    if (!one) {
      return [problem('station.line-behind-apex', blockPlace(block), {})];
    }
    moves += one.z.length;
    if (moves * passes > mostMoves) return tooMany();
    surfaceLines.push(one);
  }
  const off = checkEdges(setup, block, surfaceLines);
  if (off) return [off];
  const axes = stationAxes(station, surface);
  const turn = block.turn + 360 * wholeTurns(setup, axes, block.turn, surfaceLines);
  const limits = { step: usefulStepMm(setup), stray };
  const lines = surfaceLines.map((line) => axisLine(axes, surface, line, turn, station.decimals, limits));
  return { axes, lines, extent: extentOf(setup, axes, block, lines), demand: demandOf(axes, lines) };
}

function checkEdges(
  setup: MachineSetup,
  block: CutBlock,
  lines: readonly SurfaceLine[],
): Problem | undefined {
  const { z0, z1 } = setup.surface;
  let over = 0;
  for (const { z } of lines) for (const at of z) over = Math.max(over, z0 - at, at - z1);
  // A chord of a line that runs along a cone's edge passes outside it by what flattening took.
  if (over <= PATH_TOLERANCE_MM) return undefined;
  return problem('station.past-edge', blockPlace(block), {
    over: over.toFixed(4),
    surface: setup.surface.id,
  });
}

/** The whole turns, nearest to none, that bring a block inside A's limits; 0 where none does. */
export function wholeTurns(
  setup: MachineSetup,
  axes: StationAxes,
  turn: number,
  lines: readonly SurfaceLine[],
): number {
  const { sign, min, max } = setup.station.axes.a;
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (const { angle } of lines) {
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

function extentOf(
  setup: MachineSetup,
  axes: StationAxes,
  block: CutBlock,
  lines: readonly AxisLine[],
): Extent {
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
  const deepest = lines.reduce(
    (most, line) => (line.depth ?? [block.depth]).reduce((deep, at) => Math.max(deep, at), most),
    0,
  );
  const lowest = span((line) => line.surfaceZ)[0] - axes.plunge(deepest);
  return {
    x: span((line) => line.x),
    a: span((line) => line.a),
    z: [Number(formatFixed(lowest, setup.station.decimals)), safeHeight(setup)],
  };
}

function demandOf(axes: StationAxes, lines: readonly AxisLine[]): Demand {
  const demand: Demand = { x: 0, a: 0, z: 0 };
  for (const { x, a, surfaceZ, length, depth } of lines) {
    for (let k = 1; k < x.length; k++) {
      const sunk = depth ? depth[k]! - depth[k - 1]! : 0;
      const long = wayOf(length[k]!, sunk);
      demand.x = Math.max(demand.x, Math.abs(x[k]! - x[k - 1]!) / long);
      demand.a = Math.max(demand.a, Math.abs(a[k]! - a[k - 1]!) / long);
      const lifted = surfaceZ[k]! - surfaceZ[k - 1]! - axes.plunge(sunk);
      demand.z = Math.max(demand.z, Math.abs(lifted) / long);
    }
  }
  return demand;
}

function writeBlock(
  setup: MachineSetup,
  axes: StationAxes,
  block: CutBlock,
  lines: readonly AxisLine[],
  extent: Extent,
): PreparedBlock {
  const { station } = setup;
  const { decimals } = station;
  const safeWord = formatFixed(safeHeight(setup), decimals);
  const safe = Number(safeWord);
  const out: string[] = [remark('cut', `${block.mark} ${block.name}`)];
  let minutes = 0;
  let position: AxisPosition | undefined;
  for (const line of lines) {
    const begin = { x: line.x[0]!, a: line.a[0]! };
    out.push(`G0 X${line.xWords[0]} A${line.aWords[0]}`);
    if (position) minutes += rapidMinutes(setup, position, begin);
    const approachWord = formatFixed(Math.min(safe, line.surfaceZ[0]! + station.approach), decimals);
    if (approachWord !== safeWord) out.push(`G0 Z${approachWord}`);
    minutes += (safe - Number(approachWord)) / station.axes.z.speed;

    const cut = cutPasses(setup, axes, block, line, approachWord, out);
    minutes += cut.minutes + (safe - cut.z) / station.axes.z.speed;
    out.push(`G0 Z${safeWord}`);
    position = { x: line.x[cut.at]!, a: line.a[cut.at]! };
  }
  return {
    key: block.key,
    text: `${out.join('\n')}\n`,
    minutes,
    start: { x: lines[0]!.x[0]!, a: lines[0]!.a[0]! },
    end: position!,
    extent,
  };
}

/** Minutes of a rapid move at safe height: as long as its slower axis takes. */
export function rapidMinutes(setup: MachineSetup, from: AxisPosition, to: AxisPosition): number {
  const { x, a } = setup.station.axes;
  return Math.max(Math.abs(to.x - from.x) / x.speed, Math.abs(to.a - from.a) / a.speed);
}
