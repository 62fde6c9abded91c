import type { CutBlock } from '../cutting/cuts.js';
import type { Polyline } from '../geometry/path.js';
import { rotateLine, type Surface } from '../surface/surface.js';
import { nearDeg } from '../units.js';
import { figure, pathData } from './figures.js';
import { INK } from './look.js';
import { attribute } from './text.js';

/** A block's lines moved onto a picture, and by how many degrees they were turned to get there. */
export interface MovedBlock {
  readonly turned: number;
  readonly lines: readonly { readonly points: Polyline; readonly closed: boolean }[];
}

/** What a block looks like: the area it takes out where it takes one, else its lines. */
export const pictured = ({ area, lines }: CutBlock): CutBlock['lines'] =>
  area ? area.map((points) => ({ points, closed: true })) : lines;

/** A block reaching over more degrees than this is cut off at the picture's ends, which it would overrun by far. */
const LONG_DEG = 120;

/** How far past the picture's ends a copy is still drawn, mm: half the widest line, and a little. */
const PAST_END_MM = 1;

/**
 * A block on the sheet whose y axis is at angle `view`. The seam cuts the sheet and never a mark: lines run on past
 * the end where they do, and the block is drawn again at the other end wherever it comes within reach.
 */
export function movedBlock(surface: Surface, block: CutBlock, view: number): MovedBlock[] {
  const near = nearDeg(block.turn - view);
  const [least, most] = anglesOf(surface, block);
  const reach = 180 + pastEndDeg(surface);
  return [near, near - 360, near + 360]
    .filter((turned, k) => k === 0 || (turned + most >= -reach && turned + least <= reach))
    .map((turned) => ({
      turned,
      lines: (most - least > LONG_DEG
        ? withinReach(surface, pictured(block), -reach - turned, reach - turned)
        : pictured(block)
      ).map(({ points, closed }) => ({
        points: rotateLine(surface, points, turned),
        closed,
      })),
    }));
}

/** The stretches of lines between two angles, to the nearest point. */
function withinReach(
  surface: Surface,
  lines: CutBlock['lines'],
  least: number,
  most: number,
): { points: Polyline; closed: boolean }[] {
  const out: { points: Polyline; closed: boolean }[] = [];
  for (const { points, closed } of lines) {
    const seen: number[][] = [[]];
    const n = points.length / 2;
    for (let k = 0; k < n + (closed ? 1 : 0); k++) {
      const [x, y] = [points[2 * (k % n)]!, points[2 * (k % n) + 1]!];
      const { angle } = surface.toSurfaceNear(x, y);
      if (angle >= least && angle <= most) seen.at(-1)!.push(x, y);
      else if (seen.at(-1)!.length > 0) seen.push([]);
    }
    const whole = closed && seen.length === 1;
    for (const part of seen) {
      if (part.length < 4) continue;
      out.push({ points: Float64Array.from(whole ? part.slice(0, -2) : part), closed: whole });
    }
  }
  return out;
}

const pastEndDeg = (surface: Surface): number =>
  (PAST_END_MM * 180) / (Math.PI * Math.min(surface.radius(surface.z0), surface.radius(surface.z1)));

/** The angles a block takes up, counted from its own turn, degrees. */
export function anglesOf(surface: Surface, block: CutBlock): [least: number, most: number] {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const { points } of block.lines)
    for (let i = 0; i < points.length; i += 2) {
      const { angle } = surface.toSurfaceNear(points[i]!, points[i + 1]!);
      least = Math.min(least, angle);
      most = Math.max(most, angle);
    }
  return [least, most];
}

/** Path data of one copy of a block. */
export const movedData = (moved: MovedBlock, data: LineData = pathData): string =>
  moved.lines.map(({ points, closed }) => data(points, closed)).join('');

/** How a line is written: `pathData` point for point, or `shownData` for pictures only looked at. */
export type LineData = (points: Polyline, closed: boolean) => string;

/**
 * The paths of one block on a picture: one, and a second where the block comes within reach of the other end. The
 * stroke is as wide as the cut; an area taken out is filled.
 */
export function blockPaths(
  surface: Surface,
  view: number,
  block: CutBlock,
  widths: ReadonlyMap<string, number>,
  data: LineData = pathData,
): string {
  const width = widths.get(block.mark);
  if (width === undefined) throw new RangeError(`no cut width is known for mark ${block.mark}`);
  return movedBlock(surface, block, view)
    .map((moved, copy) => {
      const again = copy === 0 ? '' : ' data-copy="true"';
      const named = `data-mark="${attribute(block.mark)}" data-name="${attribute(block.name)}"${again}`;
      const look = block.area ? `fill="${INK}" stroke="none"` : `stroke-width="${figure(width)}"`;
      return `<path ${named} ${look} d="${movedData(moved, data)}"/>`;
    })
    .join('');
}

/** Opens a group for paths in a surface's own frame, gathered under the label of their piece. */
export const cutGroupStart = (matrix: string, label: string): string =>
  [
    `<g data-role="cut" data-label="${attribute(label)}" transform="${matrix}" fill="none" stroke="${INK}"`,
    ' stroke-linecap="round" stroke-linejoin="round">',
  ].join('');

export const CUT_GROUP_END = '</g>';

export const cutGroup = (matrix: string, label: string, paths: readonly string[]): string =>
  [cutGroupStart(matrix, label), ...paths, CUT_GROUP_END].join('');
