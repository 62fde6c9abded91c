import { boundsOf, boundsOfPaths, centreOf } from './bounds.js';
import type { Path } from './path.js';
import { type Polygons, sweepAtOnce, union } from './polygons.js';
import { outlineSteps, sweepSteps } from './sweep-steps.js';

/** Lines that take more steps than this are swept over in parts. */
const STEPS_AT_ONCE = 1_000_000;
/** A part that takes no more steps than this is not parted again. */
const STEPS_OF_PART = 50_000;
/** Edges of one run of a line. */
const RUN = 32;

/**
 * What lies within half a width, mm, of lines: the ground that a round cutter passes over. Lines that lie side by side
 * in great number, as those of a hatch, are swept over in parts, which are united two by two: what lies between them is
 * gone early, and is not held against all the others. `take` gets the steps of each piece of work before it is done.
 */
export function sweep(
  paths: readonly Path[],
  width: number,
  take: (steps: number) => void = () => undefined,
): Polygons {
  const steps = outlineSteps(paths, width);
  if (steps > STEPS_AT_ONCE) return sweepParts(paths.flatMap(runsOf), width, take);
  take(steps);
  return sweepAtOnce(paths, width);
}

function sweepParts(runs: readonly Path[], width: number, take: (steps: number) => void): Polygons {
  const steps = outlineSteps(runs, width);
  if (runs.length === 1 || steps <= STEPS_OF_PART) {
    take(steps);
    return sweepAtOnce(runs, width);
  }
  const both = halves(runs).flatMap((half) => sweepParts(half, width, take));
  take(sweepSteps(both));
  return union(both);
}

/** A line in runs, each of which begins where the one before ends. */
function runsOf({ points, closed }: Path): Path[] {
  const n = points.length / 2;
  const edges = closed ? n : n - 1;
  if (edges <= RUN) return [{ points, closed }];
  return Array.from({ length: Math.ceil(edges / RUN) }, (_, k) => {
    const count = Math.min(RUN, edges - k * RUN) + 1;
    return {
      closed: false,
      points: Float64Array.from({ length: 2 * count }, (_v, i) => points[(2 * k * RUN + i) % points.length]!),
    };
  });
}

/** Runs in two halves, parted across the longer side of their bounds. */
function halves(runs: readonly Path[]): readonly Path[][] {
  const [left, bottom, right, top] = boundsOfPaths(runs);
  const axis = right - left > top - bottom ? 0 : 1;
  const sorted = runs
    .map((run) => ({ run, at: centreOf(boundsOf(run.points))[axis]! }))
    .sort((a, b) => a.at - b.at)
    .map(({ run }) => run);
  const half = sorted.length >> 1;
  return [sorted.slice(0, half), sorted.slice(half)];
}
