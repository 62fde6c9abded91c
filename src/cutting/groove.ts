import type { Polyline } from '../geometry/path.js';
import { type Polygons, union } from '../geometry/polygons.js';
import { toRad } from '../units.js';
import { CutWork } from './cut-work.js';
import type { CutLine } from './cuts.js';
import { checkEdges, insetLevels } from './levels.js';
import { type MedialAxis, type MedialNode, medialAxis } from './medial.js';
import { medialLines, simplifyMedialLine } from './medial-lines.js';

export interface Cone {
  /** Tip width, mm. */
  readonly tip: number;
  /** Included angle, degrees. */
  readonly angle: number;
}

/** Taken off every radius, so that what chords and sampling add never cuts outside, mm. */
const HAIR_MM = 0.0002;
/** How far lines may be straightened, mm, sideways and in the radius they cut. */
const STRAIGHTEN_MM = 0.0005;
/** Lines that nowhere go deeper are left out, mm. */
const SHALLOWEST_MM = 0.0005;
/**
 * Steps between the rings of a floor, as a part of the tip's width, and at least this part of the widest radius: a cone
 * that ends in a point leaves ridges whatever is done, and these are a twentieth of the depth high.
 */
const STEP_OF_TIP = 0.9;
const STEP_OF_RADIUS = 0.1;

/**
 * The lines of a groove, with a depth at each point: a cone follows the medial axis, as deep as the area is wide there.
 * Where the distance to the edge is w, d = (w - t / 2) / tan(angle / 2), t the tip width (plane trigonometry), so that
 * its rim just touches both edges; corners come out sharp because the axis runs into them as the depth runs out. Where
 * that would be deeper than `depth`, the floor is flat at `depth`: rings clear it first, and the axis between them what
 * they leave. Where the area is narrower than the tip nothing is cut. Rings given are closed, in mm, and may overlap
 * (non-zero fill).
 */
export function groove(
  rings: readonly Polyline[],
  { tip, angle }: Cone,
  depth: number,
  work = new CutWork(),
): CutLine[] {
  checkEdges(rings, 0);
  const area = union(rings);
  const slope = Math.tan(toRad(angle) / 2);
  const least = tip / 2 + HAIR_MM;
  const radius = least + depth * slope;
  const depthAt = ({ r }: MedialNode) => Math.min(depth, Math.max(0, (r - least) / slope));
  const axis = medialAxis(area, work);
  const sunk = medialLines(limitRadii(axis, least, radius))
    .map((line) => simplifyMedialLine(line, STRAIGHTEN_MM))
    .map((line) => ({
      points: Float64Array.from(line.flatMap(({ x, y }) => [x, y])),
      closed: false,
      depths: Float64Array.from(line, depthAt),
    }))
    .filter(({ depths }) => depths.some((d) => d > SHALLOWEST_MM));
  const step = Math.max(STEP_OF_TIP * tip, STEP_OF_RADIUS * radius);
  const deepest = axis.nodes.reduce((most, { r }) => Math.max(most, r), 0);
  return [...floor(area, { from: radius, step, to: deepest }, depth, work), ...sunk];
}

/** Rings at full depth, from the middle outward; their insets from the edge are `step` mm apart. */
function floor(
  area: Polygons,
  by: { from: number; step: number; to: number },
  depth: number,
  work: CutWork,
): CutLine[] {
  const count = Math.max(0, Math.ceil((by.to - by.from) / by.step));
  return insetLevels(area, by.from, by.step, count, work, 'floor of a groove')
    .reverse()
    .flat()
    .map((points) => ({ points, closed: true, depths: new Float64Array(points.length / 2).fill(depth) }));
}

/** The parts of an axis where the radius is above the least, with radii brought down to the most. */
function limitRadii({ nodes, joints }: MedialAxis, least: number, most: number): MedialAxis {
  const all = nodes.map(({ x, y, r }): MedialNode => ({ x, y, r: Math.min(r, most) }));
  const end = (node: number, other: MedialNode): number => {
    const from = nodes[node]!;
    if (from.r >= least) return node;
    const t = (least - from.r) / (other.r - from.r);
    const [x, y] = [from.x + t * (other.x - from.x), from.y + t * (other.y - from.y)];
    return all.push({ x, y, r: least }) - 1;
  };
  const kept = joints
    .filter(([a, b]) => Math.max(nodes[a]!.r, nodes[b]!.r) > least)
    .map(([a, b]) => [end(a, nodes[b]!), end(b, nodes[a]!)] as const);
  return { nodes: all, joints: kept };
}
