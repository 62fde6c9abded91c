import type { Polyline } from '../geometry/path.js';
import { grow, type Polygons, union } from '../geometry/polygons.js';
import type { Phrase } from '../problem.js';
import { nearDeg, SAFETY_MM } from '../units.js';
import type { ClipKeepout, KeepoutShape, PartShape, SurfaceSpan, WindowKeepout } from './part-shape.js';
import { keepoutName, surfaceObstacles } from './phrases.js';
import type { Surface } from './surface.js';

/**
 * What a cut must stay clear of, with its clearance already added. A ring goes all the way round and is described by
 * distances along the generator alone; a patch is polygons on the sheet turned to its own middle, so that no patch
 * ever meets the seam of the sheet it is drawn on.
 */
export type Obstacle = RingObstacle | PatchObstacle;

export interface RingObstacle {
  readonly shape: 'ring';
  readonly name: Phrase;
  /** Slant distances from the lower edge, mm; may be infinite. */
  readonly from: number;
  readonly to: number;
}

export interface PatchObstacle {
  readonly shape: 'patch';
  readonly name: Phrase;
  /** The angle that lies on the y axis of its sheet, degrees. */
  readonly turn: number;
  readonly polygons: Polygons;
}

/** Edges of an outline are followed on the sheet to this closeness, mm. */
const EDGE_STEP_MM = 0.25;

/** Every obstacle of a surface: its two edges, then the part's keep-outs that come near it. */
export function obstaclesOf(
  part: Pick<PartShape, 'keepouts'>,
  spec: Pick<SurfaceSpan, 'id' | 'clearance'>,
  surface: Surface,
): Obstacle[] {
  const end = surface.slant(surface.z1);
  const edges: Obstacle[] = [
    {
      shape: 'ring',
      name: surfaceObstacles.phrase('surface.lower-edge', { surface: spec.id }),
      from: Number.NEGATIVE_INFINITY,
      to: spec.clearance,
    },
    {
      shape: 'ring',
      name: surfaceObstacles.phrase('surface.upper-edge', { surface: spec.id }),
      from: end - spec.clearance,
      to: Number.POSITIVE_INFINITY,
    },
  ];
  const near = part.keepouts.flatMap((keepout) => {
    const obstacle = obstacleOf(keepout, surface);
    return obstacle ? [obstacle] : [];
  });
  return [...edges, ...near];
}

/** A keep-out grown by its clearance, on this surface; undefined when it does not come near. */
export function obstacleOf(keepout: KeepoutShape, surface: Surface): Obstacle | undefined {
  const name = keepoutName(keepout);
  const { clearance } = keepout;
  if (keepout.kind === 'band' || keepout.kind === 'thread') {
    const from = surface.slant(keepout.from) - clearance;
    const to = surface.slant(keepout.to) + clearance;
    return to < 0 || from > surface.slant(surface.z1) ? undefined : { shape: 'ring', name, from, to };
  }
  const bare = bareOutline(keepout, surface, clearance);
  if (!bare) return undefined;
  return { shape: 'patch', name, turn: middleAngle(keepout), polygons: grow([bare], clearance + SAFETY_MM) };
}

/** A clip's or window's outline without clearance, on the sheet turned to its middle. For pictures. */
export function bareKeepout(keepout: ClipKeepout | WindowKeepout, surface: Surface): Polygons {
  const outline = bareOutline(keepout, surface, 0);
  return outline ? union([outline]) : [];
}

/** The angle of a keep-out's middle, degrees; 0 for one that goes all the way round. */
export function middleAngle(keepout: KeepoutShape): number {
  if (keepout.kind === 'clip') return keepout.angle;
  if (keepout.kind !== 'window') return 0;
  const angles = keepout.outline.map((p) => p.angle);
  return (Math.min(...angles) + Math.max(...angles)) / 2;
}

function bareOutline(
  keepout: ClipKeepout | WindowKeepout,
  surface: Surface,
  clearance: number,
): Polyline | undefined {
  // What lies past the surface's edges belongs to another surface; keep just enough to grow back from.
  const low = surface.z0 - Math.min(clearance, surface.radius(surface.z0) / 2);
  const high = surface.z1 + Math.min(clearance, surface.radius(surface.z1) / 2);
  const hold = (z: number) => Math.min(high, Math.max(low, z));
  if (keepout.kind === 'clip') {
    const from = keepout.from - keepout.shadow;
    const to = keepout.to + keepout.shadow;
    if (to < low || from > high) return undefined;
    const half = keepout.width / 2 + keepout.shadow;
    const y0 = surface.slant(hold(from));
    const y1 = surface.slant(hold(to));
    return Float64Array.of(-half, y0, half, y0, half, y1, -half, y1);
  }
  const zs = keepout.outline.map((p) => p.z);
  if (Math.max(...zs) < low || Math.min(...zs) > high) return undefined;
  const turn = middleAngle(keepout);
  const points: number[] = [];
  keepout.outline.forEach((a, i) => {
    const b = keepout.outline[(i + 1) % keepout.outline.length]!;
    const arc = (Math.abs(b.angle - a.angle) * Math.PI * surface.radius(hold((a.z + b.z) / 2))) / 180;
    const steps = Math.max(1, Math.ceil(Math.hypot(arc, b.z - a.z) / EDGE_STEP_MM));
    for (let k = 0; k < steps; k++) {
      const t = k / steps;
      const z = hold(a.z + t * (b.z - a.z));
      points.push(...surface.toSheet(z, a.angle + t * (b.angle - a.angle) - turn));
    }
  });
  return Float64Array.from(points);
}

/** How far, in degrees, `turn` lies from the middle of an obstacle, the short way: (-180, 180]. */
export const turnToObstacle = (obstacle: PatchObstacle, turn: number): number =>
  nearDeg(turn - obstacle.turn);
