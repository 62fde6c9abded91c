import type { CutBlock } from '../cutting/cuts.js';
import { PATH_TOLERANCE_MM, toDeg, toRad } from '../units.js';
import { stationAxes } from './axes.js';
import { type SurfaceLine, toSurfaceLine } from './axis-line.js';
import { MOST_BLOCK_MOVES, wholeTurns } from './block.js';
import { checkBlock, type Span } from './limits.js';
import { type MachineSetup, safeHeight, strayMm } from './machine-setup.js';
import { atPasses } from './pass-lines.js';
import { remark } from './remark.js';

/** The longest line of a move has four words of axes and feed. */
const MOST_MOVE_BYTES = 80;
/** A chord of a cone's ring is shorter than its arc, by far less than this part. */
const CHORD_SLACK = 1.05;

/**
 * The most bytes that a block can take in a program, or undefined where it may be refused. It looks at where the lines
 * lie on the surface and writes none of them, which takes a small part of the time: a block that keeps a rounding away
 * from every limit of the station is not refused when it is written, and the others have to be tried.
 */
export function boundBlock(setup: MachineSetup, block: CutBlock): number | undefined {
  const { station, surface, feed } = setup;
  if (checkBlock(block).length > 0) return undefined;
  const passes = block.passes.length;
  const lines: SurfaceLine[] = [];
  let moves = 0;
  for (const line of block.lines) {
    const { points, closed, depths } = atPasses(line, block.passes);
    if ((moves + points.length / 2) * passes > MOST_BLOCK_MOVES) return undefined;
    const one = toSurfaceLine(surface, points, closed, strayMm(setup), depths);
    if (!one) return undefined;
    moves += one.z.length;
    lines.push(one);
  }
  if (moves * passes > MOST_BLOCK_MOVES) return undefined;

  const { x, a, z } = station.axes;
  const axes = stationAxes(station, surface);
  const step = 10 ** -station.decimals;
  const along = spanOf(lines.map((line) => line.z));
  if (Math.max(surface.z0 - along[0], along[1] - surface.z1) > PATH_TOLERANCE_MM) return undefined;
  const ends = [axes.x(along[0]), axes.x(along[1])];
  if (Math.min(...ends) < x.min + step || Math.max(...ends) > x.max - step) return undefined;
  const turn = block.turn + 360 * wholeTurns(setup, axes, block.turn, lines);
  const turned = spanOf(lines.map((line) => line.angle)).map((angle) => axes.a(turn + angle));
  if (a.min !== undefined && Math.min(...turned) < a.min + step) return undefined;
  if (a.max !== undefined && Math.max(...turned) > a.max - step) return undefined;
  const deepest = lines.some((line) => !line.depth)
    ? block.depth
    : spanOf(lines.map((line) => line.depth!))[1];
  const lowest = Math.min(axes.height(along[0]), axes.height(along[1])) - axes.plunge(deepest);
  if (lowest < z.min + step || safeHeight(setup) > z.max) return undefined;

  // No move asks more of an axis, for each mm of its way, than one that goes straight along that axis.
  const narrowest = Math.min(surface.radius(along[0]), surface.radius(along[1]));
  const slope = station.setup === 'level' ? Math.abs(Math.sin(toRad(surface.taper))) : 0;
  const sinks = lines.some((line) => line.depth) ? axes.plunge(1) : 0;
  if (feed * CHORD_SLACK > x.speed) return undefined;
  if ((feed * CHORD_SLACK * toDeg(1)) / narrowest > a.speed) return undefined;
  if (feed * CHORD_SLACK * Math.hypot(slope, sinks) > z.speed) return undefined;

  // Each line has a way there, a way down and a way up besides its moves, and a plunge for each pass.
  const written = moves * passes + lines.length * (3 + passes);
  return remark('cut', `${block.mark} ${block.name}`).length + 1 + written * MOST_MOVE_BYTES;
}

function spanOf(lists: readonly (readonly number[])[]): Span {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (const list of lists) {
    for (const value of list) {
      if (value < least) least = value;
      if (value > greatest) greatest = value;
    }
  }
  return [least, greatest];
}
