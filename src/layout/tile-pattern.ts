import type { Phrase, Problem } from '../problem.js';
import type { Obstacle } from '../surface/keepouts.js';
import { SAFETY_MM, TURN_DEG, toRad } from '../units.js';
import type { TiledMark } from './mark-to-fit.js';
import { problem } from './messages.js';
import { type PatternInstance, patternInstances } from './pattern-instances.js';
import {
  anglesOf,
  type Barrier,
  barriersOf,
  firstBarrierOverlapped,
  firstBarrierTouched,
  type GrownPatches,
  trimAreas,
  trimLines,
} from './trim.js';

/** An instance that stands on the surface, clear of everything. */
export interface PlacedInstance extends PatternInstance {
  /** It met something, and was cut away there. */
  readonly trimmed: boolean;
}

/** What of a tiled mark stands on its surface. */
export interface TiledPattern {
  readonly instances: readonly PlacedInstance[];
  /** Instances left out because they met something. */
  readonly dropped: number;
  /** Their `where` is inside that of the mark. */
  readonly problems: readonly Problem[];
}

/** Left of a line that is trimmed, anything shorter is not worth a plunge, mm. */
const SHORTEST_MM = 0.2;

/**
 * Places a repeating drawing or a pattern among the obstacles of its surface and those of other marks. An instance that
 * meets one is dropped, trimmed or refused, as the mark's `meets` says.
 */
export function tilePattern(of: TiledMark, others: readonly Obstacle[]): TiledPattern {
  const { mark, motif, surface } = of;
  if (mark.kind === 'motif' && mark.repeat?.form === 'stretched' && !(motif!.line.width > 0))
    return { instances: [], dropped: 0, problems: [problem('layout.drawing-without-width', '', {})] };
  const instances: PlacedInstance[] = [];
  const problems: Problem[] = [];
  let dropped = 0;
  const grown: GrownPatches = new Map();
  for (const instance of patternInstances(of)) {
    const reach = anglesOf(
      surface,
      [...instance.areas, ...instance.lines].map((p) => p.points),
    );
    const barriers = (by: number) => [
      ...barriersOf(surface, of.obstacles, by, instance.turn, reach, grown),
      ...barriersOf(surface, others, by + mark.apart, instance.turn, reach, grown),
    ];
    const obstacle = metBy(of, instance, barriers);
    if (obstacle !== undefined && mark.meets === 'refuse')
      problems.push(problem('layout.meets-obstacle', instance.name, { obstacle }));
    else if (obstacle !== undefined && mark.meets === 'drop') dropped++;
    else {
      const trimmed = obstacle !== undefined;
      const left = { ...(trimmed ? trimInstance(of, instance, barriers) : instance), trimmed };
      const over = isMadeForRing(of) ? 0 : overItself(of, left, reach);
      if (over > 0) problems.push(problem('layout.meets-itself', instance.name, { over }));
      else instances.push(left);
    }
  }
  return { instances, dropped, problems };
}

/** Lines round the ring, and drawings drawn out to their share of it, meet their own start by design. */
const isMadeForRing = ({ mark }: TiledMark): boolean =>
  mark.kind === 'motif' ? mark.repeat?.form === 'stretched' : mark.pattern.form !== 'rosettes';

/**
 * How much too wide an instance is to go round the ring by itself, mm; 0 when its two sides stay clear of one another by
 * the width of the cut. The narrowest ring that it comes to decides. `reach` is what it reached over before it was trimmed.
 */
function overItself(
  { surface, spread, cutWidth }: TiledMark,
  { areas, lines }: PatternInstance,
  reach: readonly [least: number, most: number],
): number {
  if (reach[1] - reach[0] < TURN_DEG / 2) return 0;
  const paths = [...areas, ...lines].map((p) => p.points);
  const [least, most] = anglesOf(surface, paths);
  let ring = Number.POSITIVE_INFINITY;
  for (const points of paths)
    for (let i = 0; i < points.length; i += 2)
      ring = Math.min(ring, Math.abs(surface.radius(surface.toSurfaceNear(points[i]!, points[i + 1]!).z)));
  const wide = lines.length > 0 ? Math.max(spread, cutWidth) : spread;
  return Math.max(0, wide + SAFETY_MM - toRad(TURN_DEG - (most - least)) * ring);
}

/** Barriers for half the width of a cut, mm. */
type BarriersFor = (half: number) => Barrier[];

const isTraced = ({ mark }: TiledMark): boolean => !('way' in mark) || mark.way === 'trace';

/** The first obstacle an instance meets, by name. */
function metBy(of: TiledMark, { areas, lines }: PatternInstance, barriers: BarriersFor): Phrase | undefined {
  const beside = barriers(of.spread / 2);
  // An area that is taken out meets what lies within it, though no edge of it comes there.
  const edges = isTraced(of)
    ? firstBarrierTouched(areas, beside)
    : firstBarrierOverlapped(
        areas.map((p) => p.points),
        beside,
      );
  return edges ?? firstBarrierTouched(lines, barriers(of.cutWidth / 2));
}

function trimInstance(of: TiledMark, instance: PatternInstance, barriers: BarriersFor): PatternInstance {
  const lines = trimLines(instance.lines, barriers(of.cutWidth / 2), SHORTEST_MM);
  const beside = barriers(of.spread / 2);
  // An edge that is traced ends at the keep-out; an area that is cleared is closed along it.
  if (isTraced(of)) {
    const edges = trimLines(instance.areas, beside, SHORTEST_MM);
    return { ...instance, areas: [], lines: [...lines, ...edges] };
  }
  const areas = trimAreas(
    instance.areas.map((p) => p.points),
    beside,
  );
  return { ...instance, lines, areas: areas.map((points) => ({ points, closed: true })) };
}
