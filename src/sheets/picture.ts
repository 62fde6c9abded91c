import type { G, Svg } from '@svgdotjs/svg.js';
import type { Keepout, Part } from '../documents/schema/part.js';
import type { Polyline } from '../geometry/path.js';
import { intersection, type Polygons, union } from '../geometry/polygons.js';
import { freeRegion, patchOnSheet, ringOnSheet } from '../surface/free.js';
import { bareKeepout, middleAngle, type Obstacle } from '../surface/keepouts.js';
import type { Surface } from '../surface/surface.js';
import { figure, ringsData, spanOf } from './figures.js';
import { hatchData } from './hatch.js';
import { INK, PAPER, SECOND, SECOND_TINT } from './look.js';
import { draw, named } from './paper.js';
import { shown } from './text.js';

/** A surface to draw, and the angle laid on the picture's y axis (see `viewOf`). */
export interface Pictured {
  readonly part: Part;
  readonly surface: Surface;
  /** As `obstaclesOf` gives them: clearances added, the surface's two edges among them. */
  readonly obstacles: readonly Obstacle[];
  readonly view: number;
}

/** Where a surface's own sheet lies on the paper: its origin, mm, and paper mm for each mm of the surface. */
export interface Frame {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

export interface Bounds {
  readonly left: number;
  readonly right: number;
  /** y up. */
  readonly bottom: number;
  readonly top: number;
}

const HATCH_GAP_MM = 0.9;

export const outlineOf = (surface: Surface): Polyline => ringOnSheet(surface, 0, surface.slant(surface.z1));

/** The room a surface takes on its own sheet, mm. */
export function boundsOf(surface: Surface): Bounds {
  const ring = outlineOf(surface);
  const [left, right] = spanOf(ring.filter((_, i) => i % 2 === 0));
  const [bottom, top] = spanOf(ring.filter((_, i) => i % 2 === 1));
  return { left, right, bottom, top };
}

/** Drawn inside, a path may be given as the surface's own sheet has it: mm, y up. */
export const frameMatrix = ({ x, y, scale }: Frame): string =>
  `matrix(${figure(scale)} 0 0 ${figure(-scale)} ${figure(x)} ${figure(y)})`;

/** A group that lies on the paper as the frame says. */
export function framed(onto: G | Svg, role: string, frame: Frame): G {
  const group = named(onto, role);
  group.attr('transform', frameMatrix(frame));
  return group;
}

/** The surface with its keep-outs: what stands there is outlined and hatched, its clearance dashed round it. */
export function drawSurface(
  onto: G | Svg,
  pictured: Pictured,
  frame: Frame,
  free?: 'with the free region',
): void {
  const { surface, obstacles, view, part } = pictured;
  const { scale } = frame;
  const outline = outlineOf(surface);
  const sheet = framed(onto, 'surface', frame);
  draw(sheet, ringsData([outline]), { stroke: 'none', width: 0, fill: PAPER });

  const kept = framed(onto, 'keepout', frame);
  const taken = obstacles.map((obstacle) => ({
    obstacle,
    area: onPicture(obstacle, surface, view, outline),
  }));
  const all = union(taken.flatMap(({ area }) => area));
  if (all.length > 0) {
    draw(kept, ringsData(all), { stroke: 'none', width: 0, fill: SECOND_TINT });
    draw(kept, hatchData(all, HATCH_GAP_MM / scale), { stroke: SECOND, width: 0.08 }, scale);
  }
  if (free) {
    // Bare paper among the hatching, drawn from the free region itself: what the fit used is what is shown.
    const region = ringsData(freeRegion(surface, obstacles, view));
    draw(framed(onto, 'free', frame), region, { stroke: 'none', width: 0, fill: PAPER });
  }
  const edges = free ? framed(onto, 'keepout', frame) : kept;
  for (const { obstacle, area } of taken) {
    if (area.length === 0) continue;
    const edge = draw(edges, ringsData(area), { stroke: SECOND, width: 0.15, dashes: [0.8, 0.6] }, scale);
    edge.attr('data-name', shown(obstacle.name));
  }
  for (const keepout of part.keepouts) {
    const bare = onPicture(bareObstacle(keepout, surface), surface, view, outline);
    if (bare.length === 0) continue;
    const body = draw(edges, ringsData(bare), { stroke: SECOND, width: 0.25 }, scale);
    body.attr('data-bare', `${keepout.kind} ${keepout.id}`);
  }
  draw(framed(onto, 'edge', frame), ringsData([outline]), { stroke: INK, width: 0.2 }, scale);
}

/** The keep-out itself, without shadow or clearance, as an obstacle so that it is moved the same way. */
function bareObstacle(keepout: Keepout, surface: Surface): Obstacle {
  const name = keepout.id;
  if (keepout.kind === 'band' || keepout.kind === 'thread')
    return { shape: 'ring', name, from: surface.slant(keepout.from), to: surface.slant(keepout.to) };
  const bare = keepout.kind === 'clip' ? { ...keepout, shadow: 0 } : keepout;
  return { shape: 'patch', name, turn: middleAngle(keepout), polygons: bareKeepout(bare, surface) };
}

function onPicture(obstacle: Obstacle, surface: Surface, view: number, outline: Polyline): Polygons {
  if (obstacle.shape === 'patch') return intersection([outline], patchOnSheet(surface, obstacle, view));
  const from = Math.max(0, obstacle.from);
  const to = Math.min(surface.slant(surface.z1), obstacle.to);
  return to > from ? [ringOnSheet(surface, from, to)] : [];
}
