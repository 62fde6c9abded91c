import { boundsOfCurves } from '../../geometry/curve-bounds.js';
import type { PathCommand } from '../../geometry/path-command.js';
import type { Area } from '../boolean.js';
import { LimitExceeded } from '../budget.js';
import { refuse } from '../messages.js';
import type { Drawing, DrawnPath } from './drawing.js';
import { DrawingResolver } from './drawing-resolver.js';

export interface Outlines {
  /** Edges of all that is filled: simple, closed, holes against their edge. mm. */
  readonly areas: readonly PathCommand[];
  /** Lines to be followed, mm. */
  readonly lines: readonly PathCommand[];
}

/**
 * What of a drawing is cut: the areas it fills, joined where they overlap, whatever their colours; and its strokes as
 * lines, as outlines joined to the areas, or not at all. Refuses a drawing beyond the budget of `resolver`, with the
 * place of the shape that exceeds it.
 */
export function outlines(
  drawing: Drawing,
  strokes: 'line' | 'outline' | 'leave',
  resolver = new DrawingResolver(),
): Outlines {
  const areas: LocatedArea[] = [];
  const lines: PathCommand[] = [];
  const add = ({ path }: Area, { where }: DrawnPath) => {
    if (path.length > 0) areas.push({ path, where, box: boundsOfCurves(path) });
  };
  for (const drawn of drawing.paths) {
    withLimitAt(drawn.where, () => {
      if (drawn.fill !== 'none') add(resolver.areaOfFill(drawn, drawn.fill), drawn);
      if (!drawn.stroke || strokes === 'leave') return;
      if (strokes === 'outline') add(resolver.areaOfStroke(drawn, drawn.stroke), drawn);
      else for (const command of resolver.lineOfStroke(drawn, drawn.stroke)) lines.push(command);
    });
  }
  return { areas: mergeOverlapping(areas, resolver), lines };
}

/** Does work of one shape; a limit exceeded is refused with the place of the shape. */
function withLimitAt<T>(where: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof LimitExceeded) throw refuse(error.code, where, { limit: error.limit });
    throw error;
  }
}

interface LocatedArea {
  readonly path: readonly PathCommand[];
  readonly where: string;
  readonly box: readonly [left: number, bottom: number, right: number, top: number];
}

/** Areas that overlap made one; those that stand apart are left as they are. */
function mergeOverlapping(areas: readonly LocatedArea[], resolver: DrawingResolver): PathCommand[] {
  const groups = new Map<number, LocatedArea[]>();
  const group = groupOverlapping(areas, resolver);
  areas.forEach((area, k) => {
    const others = groups.get(group(k));
    if (others) others.push(area);
    else groups.set(group(k), [area]);
  });
  return [...groups.values()].flatMap((parts) => {
    if (parts.length === 1) return parts[0]!.path;
    // Each part runs once round all it fills, so that what any of them fills has a winding other than 0. Parts
    // that are equal count once.
    const path = [...new Map(parts.map((p) => [String(p.path), p.path])).values()].flat();
    return withLimitAt(parts[0]!.where, () => resolver.simplifyArea({ path, rule: 'nonzero' }).path);
  });
}

/** Which areas hang together by boxes that overlap: for the place of each, that of one that stands for its group. */
function groupOverlapping(areas: readonly LocatedArea[], resolver: DrawingResolver): (k: number) => number {
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
    withLimitAt(where, () => resolver.intersections.pairs.take(open.length));
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
