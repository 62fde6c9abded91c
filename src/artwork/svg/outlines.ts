import { boundsOfCurves } from '../../geometry/curve-bounds.js';
import type { PathCommand } from '../../geometry/path-command.js';
import type { Area } from '../boolean.js';
import type { Drawing, DrawnPath } from './drawing.js';
import { Work } from './work.js';

export interface Outlines {
  /** Edges of all that is filled: simple, closed, holes against their edge. mm. */
  readonly areas: readonly PathCommand[];
  /** Lines to be followed, mm. */
  readonly lines: readonly PathCommand[];
}

/**
 * What of a drawing is cut: the areas it fills, joined where they overlap, whatever their colours; and its strokes as
 * lines, as outlines joined to the areas, or not at all. A drawing that crosses itself without end is refused.
 */
export function outlines(drawing: Drawing, strokes: 'line' | 'outline' | 'leave'): Outlines {
  const work = new Work();
  const areas: Placed[] = [];
  const lines: PathCommand[] = [];
  const add = ({ path }: Area, { where }: DrawnPath) => {
    if (path.length > 0) areas.push({ path, where, box: boundsOfCurves(path) });
  };
  for (const drawn of drawing.paths) {
    if (drawn.fill !== 'none') add(work.filled(drawn, drawn.fill), drawn);
    if (!drawn.stroke || strokes === 'leave') continue;
    if (strokes === 'line') lines.push(...work.followed(drawn, drawn.stroke));
    else add(work.stroked(drawn, drawn.stroke), drawn);
  }
  return { areas: joined(areas, work), lines };
}

interface Placed {
  readonly path: readonly PathCommand[];
  readonly where: string;
  readonly box: readonly [left: number, bottom: number, right: number, top: number];
}

/** Areas that overlap made one; those that stand apart are left as they are. */
function joined(areas: readonly Placed[], work: Work): PathCommand[] {
  const groups = new Map<number, Placed[]>();
  const group = grouped(areas, work);
  areas.forEach((area, k) => {
    const others = groups.get(group(k));
    if (others) others.push(area);
    else groups.set(group(k), [area]);
  });
  return [...groups.values()].flatMap((parts) => {
    if (parts.length === 1) return parts[0]!.path;
    // Each part runs once round all it fills, so that what any of them fills has a winding that is not nought. Parts
    // that lie on one another exactly are one.
    const path = [...new Map(parts.map((p) => [String(p.path), p.path])).values()].flat();
    return work.simple({ path, rule: 'nonzero' }, parts[0]!.where).path;
  });
}

/** Which areas hang together by boxes that overlap: for the place of each, that of one that stands for its group. */
function grouped(areas: readonly Placed[], work: Work): (k: number) => number {
  const group = areas.map((_, k) => k);
  const find = (k: number): number => {
    let top = k;
    while (group[top] !== top) {
      group[top] = group[group[top]!]!;
      top = group[top]!;
    }
    return top;
  };
  const order = areas.map((_, k) => k).sort((a, b) => areas[a]!.box[0] - areas[b]!.box[0]);
  let open: number[] = [];
  for (const k of order) {
    const { box, where } = areas[k]!;
    open = open.filter((o) => areas[o]!.box[2] >= box[0]);
    work.look(open.length, where);
    for (const o of open) {
      const other = areas[o]!.box;
      if (other[1] > box[3] || box[1] > other[3]) continue;
      const [a, b] = [find(o), find(k)];
      group[Math.max(a, b)] = Math.min(a, b);
    }
    open.push(k);
  }
  return find;
}
