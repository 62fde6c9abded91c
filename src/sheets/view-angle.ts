import type { CutBlock } from '../cutting/cuts.js';
import type { Obstacle } from '../surface/keepouts.js';
import type { Surface } from '../surface/surface.js';
import { nearDeg, wrapDeg } from '../units.js';
import { anglesOf } from './block-copies.js';
import { extentOf } from './extent.js';

/** An arc of the ring, degrees: from `from` in [0, 360) on by `by`. */
interface Arc {
  readonly from: number;
  readonly by: number;
}

/** Clearance between the seam and a mark, mm. */
const SEAM_CLEARANCE_MM = 0.5;

/**
 * The angle for the middle of a picture, degrees, so that its seam, half a turn away, cuts no mark and if possible no
 * keep-out. Tried in order: 0, 180, the middles of the gaps between marks, and the middles of the gaps between marks
 * and keep-outs together, widest gap first.
 */
export function chooseViewAngle(
  surface: Surface,
  obstacles: readonly Obstacle[],
  blocks: Iterable<CutBlock>,
): number {
  const clearance =
    (SEAM_CLEARANCE_MM * 180) / (Math.PI * Math.min(surface.radius(surface.z0), surface.radius(surface.z1)));
  const marks = [...blocks]
    .filter((b) => b.lines.length > 0)
    .map((block) => {
      const [least, most] = anglesOf(surface, block);
      return arc(block.turn + least - clearance, block.turn + most + clearance);
    });
  const patches = obstacles.flatMap((o) =>
    o.shape === 'patch' ? [arc(...shiftBy(patchAngles(surface, o), o.turn))] : [],
  );
  const candidates = [0, 180, ...gapMiddles(marks), ...gapMiddles([...marks, ...patches])];
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (const view of candidates.map((c) => wrapDeg(c))) {
    const seam = view + 180;
    const cost = (meets(marks, seam) ? 2 : 0) + (meets(patches, seam) ? 1 : 0);
    if (cost < least) [best, least] = [view, cost];
  }
  return best;
}

const shiftBy = ([from, to]: [number, number], by: number): [number, number] => [from + by, to + by];

const arc = (from: number, to: number): Arc => ({
  from: wrapDeg(from),
  by: Math.min(360, to - from),
});

const meets = (arcs: readonly Arc[], angle: number): boolean =>
  arcs.some(({ from, by }) => wrapDeg(angle - from) <= by);

function patchAngles(surface: Surface, patch: Extract<Obstacle, { shape: 'patch' }>): [number, number] {
  const angles = patch.polygons.flatMap((ring) =>
    Array.from(
      { length: ring.length / 2 },
      (_, i) => surface.toSurfaceNear(ring[2 * i]!, ring[2 * i + 1]!).angle,
    ),
  );
  return extentOf(angles);
}

/** View angles that put the seam in the middle of a gap between arcs, widest gap first, then lowest angle. */
function gapMiddles(arcs: readonly Arc[]): number[] {
  const sorted = [...arcs].sort((a, b) => a.from - b.from || a.by - b.by);
  const gaps: { middle: number; width: number }[] = [];
  if (sorted.length === 0) return [];
  const first = sorted[0]!.from;
  // An arc that runs on through 0 also covers the start of the turn.
  let end = Math.max(first, extentOf(sorted.map(({ from, by }) => from + by - 360))[1]);
  for (const { from, by } of [...sorted, { from: first + 360, by: 0 }]) {
    if (from > end) gaps.push({ middle: (end + from) / 2, width: Math.round((from - end) * 1e6) / 1e6 });
    end = Math.max(end, from + by);
  }
  return gaps
    .sort((a, b) => b.width - a.width || a.middle - b.middle)
    .map(({ middle }) => Math.round(nearDeg(middle + 180) * 1000) / 1000);
}
