import { flatten } from '../../lettering/flatten.js';
import type { Segment } from '../../lettering/font.js';
import { refuse } from '../../problem.js';
import { splitLine } from '../../surface/split.js';
import { type Area, closedUp, intersect, polygonsOf, resolved, ringPath, unite } from '../boolean.js';
import { tangled } from '../tangle.js';
import { pathBox } from './box.js';
import type { Clip, Drawing, DrawnPath } from './drawing.js';
import { mapped } from './matrix.js';
import { dashed, strokeOutline } from './strokes.js';

/** How finely outlines of strokes and clipped lines follow their curves, mm. */
const TOLERANCE_MM = 0.0005;
/** How finely crossings are looked for, mm. */
const LOOKED_AT_MM = 0.01;

export interface Outlines {
  /** Edges of all that is filled: simple, closed, holes against their edge. mm. */
  readonly areas: readonly Segment[];
  /** Lines to be followed, mm. */
  readonly lines: readonly Segment[];
}

/**
 * What of a drawing is cut: the areas it fills, joined where they overlap, whatever their colours; and its strokes as
 * lines, as outlines joined to the areas, or not at all.
 */
export function outlines(drawing: Drawing, strokes: 'line' | 'outline' | 'leave'): Outlines {
  const areas: Area[] = [];
  const lines: Segment[] = [];
  for (const drawn of drawing.paths) {
    if (drawn.fill !== 'none') {
      const path = closedUp(drawn.path);
      if (tangled(flatten(path, 1, LOOKED_AT_MM).map((p) => p.points)))
        throw refuse(1, drawn.where, 'It crosses itself too often to be an area.', 'Draw its edge alone.');
      const area = clipped(resolved({ path, rule: drawn.fill }), drawn.clips);
      if (area.path.length > 0) areas.push(area);
    }
    if (!drawn.stroke || strokes === 'leave') continue;
    if (strokes === 'line') lines.push(...strokeLine(drawn));
    else {
      const edge = resolved({ path: strokeOutline(drawn.stroke, TOLERANCE_MM), rule: 'nonzero' });
      const area = clipped(edge, drawn.clips);
      if (area.path.length > 0) areas.push(area);
    }
  }
  return { areas: joined(areas), lines };
}

/** Areas that overlap made one; those that stand apart are left as they are. */
function joined(areas: readonly Area[]): Segment[] {
  const groups: { path: readonly Segment[]; parts: number; box: Box }[] = [];
  for (const one of areas) {
    let [path, box, parts]: [readonly Segment[], Box, number] = [one.path, pathBox(one.path), 1];
    for (let k = groups.length - 1; k >= 0; k--) {
      const other = groups[k]!;
      if (!overlap(box, other.box)) continue;
      groups.splice(k, 1);
      path = [...other.path, ...path];
      parts += other.parts;
      box = around(box, other.box);
      k = groups.length;
    }
    groups.push({ path, parts, box });
  }
  // Each part runs once round all it fills, so that what any of them fills has a winding that is not nought.
  return groups.flatMap(({ path, parts }) => (parts === 1 ? path : resolved({ path, rule: 'nonzero' }).path));
}

type Box = readonly [number, number, number, number];

const around = (a: Box, b: Box): Box => [
  Math.min(a[0], b[0]),
  Math.min(a[1], b[1]),
  Math.max(a[2], b[2]),
  Math.max(a[3], b[3]),
];

const overlap = (a: Box, b: Box): boolean => a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];

function clipped(area: Area, clips: readonly Clip[]): Area {
  let left = area;
  for (const clip of clips) {
    if (left.path.length === 0) break;
    if (!holds(clip, pathBox(left.path))) left = intersect(left, clipArea(clip));
  }
  return left;
}

const clipArea = (clip: Clip): Area =>
  clip.reduce<Area>((sum, one) => unite(sum, resolved({ ...one, path: closedUp(one.path) })), {
    path: [],
    rule: 'nonzero',
  });

/** Whether a clip that is one upright box holds another box whole: by far the commonest, and then nothing is cut. */
function holds(clip: Clip, box: Box): boolean {
  const path = clip[0]?.path ?? [];
  if (clip.length !== 1 || path.length !== 5 || path.some((s) => s[0] === 'C' || s[0] === 'Q')) return false;
  const [x0, y0, x1, y1] = pathBox(path);
  const corners = path.slice(0, 4) as readonly (readonly ['M' | 'L', number, number])[];
  const upright = corners.every(([, x, y]) => (x === x0 || x === x1) && (y === y0 || y === y1));
  return upright && box[0] >= x0 && box[1] >= y0 && box[2] <= x1 && box[3] <= y1;
}

/** The line a stroke follows: as drawn where nothing breaks it, else in flat pieces. */
function strokeLine(drawn: DrawnPath): Segment[] {
  const stroke = drawn.stroke!;
  const cutting = drawn.clips.filter((c) => !holds(c, pathBox(drawn.path)));
  if (stroke.dashes.length === 0 && cutting.length === 0) return [...drawn.path];
  const scale = Math.sqrt(Math.abs(stroke.map[0] * stroke.map[3] - stroke.map[1] * stroke.map[2]));
  const pieces = dashed(flatten(stroke.own, 1, TOLERANCE_MM / (scale || 1)), stroke);
  return pieces.flatMap(({ points, closed }) => {
    const path = mapped(ringPath(points).slice(0, closed ? undefined : -1), stroke.map);
    return cutting.length === 0 ? path : withinClips(path, cutting);
  });
}

/** The stretches of a flat line that lie within every clip. */
function withinClips(path: readonly Segment[], clips: readonly Clip[]): Segment[] {
  let lines = flatten(path, 1, TOLERANCE_MM);
  for (const clip of clips) {
    const rings = polygonsOf(clipArea(clip), TOLERANCE_MM);
    lines = lines.flatMap((line) => {
      const parts = splitLine(line, rings);
      if (parts.every((p) => p.inside)) return [line];
      return parts
        .filter((p) => p.inside)
        .map((p) => ({ points: Float64Array.from(p.points), closed: false }));
    });
  }
  return lines.flatMap(({ points, closed }) => ringPath(points).slice(0, closed ? undefined : -1));
}
