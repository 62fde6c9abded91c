import type { Element } from '@svgdotjs/svg.js';
import type { Keepout, Part } from '../documents/schema/part.js';
import type { Polyline } from '../geometry/path.js';
import { intersection, type Polygons, union } from '../geometry/polygons.js';
import type { Phrase } from '../problem.js';
import { freeRegion, patchOnSheet, ringOnSheet } from '../surface/free-region.js';
import { bareKeepout, middleAngle, type Obstacle } from '../surface/keepouts.js';
import { keepoutName } from '../surface/phrases.js';
import type { Surface } from '../surface/surface.js';
import { extentOf } from './extent.js';
import { hatchData } from './hatch.js';
import { ringsData } from './path-data.js';
import { formatCoordinate } from './readable-numbers.js';
import { addGroup, drawPath, setAttributes } from './svg-canvas.js';
import { INK, PAPER, SECOND, SECOND_TINT } from './theme.js';

/** A surface to draw, and the angle at the middle of its picture (see `chooseViewAngle`). */
export interface SurfaceView {
  readonly part: Part;
  readonly surface: Surface;
  /** As `obstaclesOf` gives them: clearances added, the surface's two edges among them. */
  readonly obstacles: readonly Obstacle[];
  readonly viewAngle: number;
}

/** Where a surface's own sheet is on the paper: its origin, mm, and paper mm for each mm of the surface. */
export interface Frame {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

export interface SheetBounds {
  readonly left: number;
  readonly right: number;
  /** y up. */
  readonly bottom: number;
  readonly top: number;
}

const HATCH_GAP_MM = 0.9;

export const outlineOf = (surface: Surface): Polyline => ringOnSheet(surface, 0, surface.slant(surface.z1));

/** The room a surface takes on its own sheet, mm. */
export function boundsOf(surface: Surface): SheetBounds {
  const ring = outlineOf(surface);
  const [left, right] = extentOf(ring.filter((_, i) => i % 2 === 0));
  const [bottom, top] = extentOf(ring.filter((_, i) => i % 2 === 1));
  return { left, right, bottom, top };
}

/** Drawn inside, a path may be given as the surface's own sheet has it: mm, y up. */
export const frameMatrix = ({ x, y, scale }: Frame): string =>
  `matrix(${formatCoordinate(scale)} 0 0 ${formatCoordinate(-scale)} ${formatCoordinate(x)} ${formatCoordinate(y)})`;

/** A group in the frame of a surface's own sheet. */
export const addFramedGroup = (parent: Element, role: string, frame: Frame): Element =>
  addGroup(parent, role, { transform: frameMatrix(frame) });

/** The surface with its keep-outs: each is outlined and hatched, with its clearance dashed round it. */
export function drawSurface(
  parent: Element,
  view: SurfaceView,
  frame: Frame,
  free?: 'with the free region',
): void {
  const { surface, obstacles, viewAngle, part } = view;
  const { scale } = frame;
  const outline = outlineOf(surface);
  const sheet = addFramedGroup(parent, 'surface', frame);
  drawPath(sheet, ringsData([outline]), { stroke: 'none', width: 0, fill: PAPER });

  const hatching = addFramedGroup(parent, 'keepout', frame);
  const taken = obstacles.map((obstacle) => ({
    obstacle,
    area: obstacleOnPicture(obstacle, surface, viewAngle, outline),
  }));
  const all = union(taken.flatMap(({ area }) => area));
  if (all.length > 0) {
    drawPath(hatching, ringsData(all), { stroke: 'none', width: 0, fill: SECOND_TINT });
    drawPath(hatching, hatchData(all, HATCH_GAP_MM / scale), { stroke: SECOND, width: 0.08 }, scale);
  }
  if (free) {
    // Bare paper among the hatching, drawn from the free region itself: the picture shows what the fit used.
    const region = ringsData(freeRegion(surface, obstacles, viewAngle));
    drawPath(addFramedGroup(parent, 'free', frame), region, { stroke: 'none', width: 0, fill: PAPER });
  }
  const edges = free ? addFramedGroup(parent, 'keepout', frame) : hatching;
  for (const { obstacle, area } of taken) {
    if (area.length === 0) continue;
    const edge = drawPath(edges, ringsData(area), { stroke: SECOND, width: 0.15, dashes: [0.8, 0.6] }, scale);
    setAttributes(edge, { 'data-name': dataName(obstacle.name) });
  }
  for (const keepout of part.keepouts) {
    const bare = obstacleOnPicture(bareObstacle(keepout, surface), surface, viewAngle, outline);
    if (bare.length === 0) continue;
    const body = drawPath(edges, ringsData(bare), { stroke: SECOND, width: 0.25 }, scale);
    setAttributes(body, { 'data-bare': `${keepout.kind} ${keepout.id}` });
  }
  drawPath(addFramedGroup(parent, 'edge', frame), ringsData([outline]), { stroke: INK, width: 0.2 }, scale);
}

/** What an obstacle is called in the data of a sheet, whatever words messages have for it. */
const dataName = ({ phrase, values }: Phrase): string =>
  phrase === 'surface.keepout'
    ? `${values.kind} ${values.keepout}`
    : `${phrase === 'surface.lower-edge' ? 'lower' : 'upper'} edge of ${values.surface}`;

/** The keep-out itself, without shadow or clearance, as an obstacle so that it is moved the same way. */
function bareObstacle(keepout: Keepout, surface: Surface): Obstacle {
  const name = keepoutName(keepout);
  if (keepout.kind === 'band' || keepout.kind === 'thread')
    return { shape: 'ring', name, from: surface.slant(keepout.from), to: surface.slant(keepout.to) };
  const bare = keepout.kind === 'clip' ? { ...keepout, shadow: 0 } : keepout;
  return { shape: 'patch', name, turn: middleAngle(keepout), polygons: bareKeepout(bare, surface) };
}

function obstacleOnPicture(
  obstacle: Obstacle,
  surface: Surface,
  viewAngle: number,
  outline: Polyline,
): Polygons {
  if (obstacle.shape === 'patch') return intersection([outline], patchOnSheet(surface, obstacle, viewAngle));
  const from = Math.max(0, obstacle.from);
  const to = Math.min(surface.slant(surface.z1), obstacle.to);
  return to > from ? [ringOnSheet(surface, from, to)] : [];
}
