import paper from 'paper/dist/paper-core.js';
import { boundsOf, diagonalOf } from '../geometry/bounds.js';
import { signedArea } from '../geometry/curve-area.js';
import { flatten } from '../geometry/flatten.js';
import type { Path } from '../geometry/path.js';
import type { PathCommand } from '../geometry/path-command.js';
import { area, difference, intersection, type Polygons, union, unionEvenOdd } from '../geometry/polygons.js';
import type { Budget } from './budget.js';
import { chordsIn } from './chords.js';
import { isConvex } from './convex.js';

export type Rule = 'nonzero' | 'evenodd';

/** Closed curves that bound an area, holes running the other way: what lies within any of them by `rule`. */
export interface Area {
  readonly path: readonly PathCommand[];
  readonly rule: Rule;
}

type Operation = 'unite' | 'subtract' | 'intersect';

/** Curves are compared with their polygons this finely, as a part of the area's size, and coarser where they are many. */
const FINEST_CHECK = 5e-8;
const COARSEST_CHECK = 1e-5;
const FEW_CURVES = 50;
/** How finely curves are flattened to find crossings of their own. */
const SIMPLE_CHECK = 1e-5;
/** How finely polygons follow their curves where curves are not kept. */
const POLYGON_CHECK = 5e-6;
/** Resolution of polygons, mm. */
const NANOMETRE = 1e-6;
/** Results that differ from their polygons by more than this many tolerances by the size are not believed. */
const BELIEVED = 2;
/** Times each curve is halved before paper.js tries again. */
const HALVINGS = 3;
/** Not quite the half: there curves that mirror one another have their crossings. */
const UNEVEN_HALF = 0.487;

/** Whether a result keeps its curves, which takes some milliseconds for each few, or becomes polygons. */
export type ResultForm = 'curves' | 'polygons';

/**
 * Booleans of areas bounded by curves. paper.js works on the curves; its result is compared with that of the same areas
 * as polygons, which is taken instead where curves that touch or lie along one another mislead paper.js. Each
 * point of a flattened curve is a step of `points`, counted before it is made.
 */
export class Booleans {
  constructor(readonly points: Budget) {}

  unite(a: Area, b: Area, form: ResultForm = 'curves'): Area {
    return this.#combine(a, b, 'unite', form);
  }

  subtract(a: Area, b: Area, form: ResultForm = 'curves'): Area {
    return this.#combine(a, b, 'subtract', form);
  }

  intersect(a: Area, b: Area, form: ResultForm = 'curves'): Area {
    return this.#combine(a, b, 'intersect', form);
  }

  /** An area as simple outlines: no crossings, edges anticlockwise and holes clockwise. */
  resolve(a: Area, form: ResultForm = 'curves'): Area {
    return this.asSimple(a) ?? this.#combine(a, emptyArea(), 'unite', form);
  }

  /** An area whose curves already are simple outlines, without rings that bound nothing; undefined for others. */
  asSimple(a: Area): Area | undefined {
    const turn = this.#simpleTurn(a);
    if (turn === 0) return undefined;
    const least = NANOMETRE * sizeOf(a);
    const rings = ringsOf(a.path).filter((ring) => Math.abs(signedArea(ring)) > least);
    return { path: rings.flatMap((ring) => (turn > 0 ? ring : reverseRing(ring))), rule: 'nonzero' };
  }

  /** The rings of an area by its own rule, flat: even-odd areas become outlines and holes. */
  polygons({ path, rule }: Area, tolerance: number): Polygons {
    return byRule(
      this.flatten(closeSubpaths(path), tolerance).map((p) => p.points),
      rule,
    );
  }

  /** A path as flat lines, its points counted. */
  flatten(path: readonly PathCommand[], tolerance: number): Path[] {
    this.points.take(chordsIn(path, tolerance));
    return flatten(path, 1, tolerance);
  }

  /**
   * Which way closed curves turn that wind once round all they bound: 1 anticlockwise, -1 clockwise; 0 for others. What
   * a path winds round is a whole number of times everywhere, so that the sum of its turns comes to no more than the
   * area it bounds only where all of them are one.
   */
  #simpleTurn({ path, rule }: Area): -1 | 0 | 1 {
    if (isConvex(path)) return signedArea(path) > 0 ? 1 : -1;
    const size = sizeOf({ path, rule });
    const lines = this.flatten(closeSubpaths(path), Math.max(NANOMETRE, size * SIMPLE_CHECK));
    const rings = lines.map((p) => p.points);
    const sum = area(rings);
    const off = Math.abs(area(byRule(rings, rule)) - Math.abs(sum));
    return off <= NANOMETRE * size * rings.length ? (Math.sign(sum) as -1 | 0 | 1) : 0;
  }

  #combine(a: Area, b: Area, operation: Operation, form: ResultForm): Area {
    const size = Math.max(sizeOf(a), sizeOf(b));
    if (size === 0) return operation === 'intersect' ? emptyArea() : a;
    const check = form === 'curves' ? checkOf(a, b) : POLYGON_CHECK;
    const tolerance = Math.max(NANOMETRE, size * check);
    const flat = combinePolygons(this.polygons(a, tolerance), this.polygons(b, tolerance), operation);
    if (form === 'polygons' || curvesIn(a, b) === 0) return { path: flat.flatMap(ringPath), rule: 'nonzero' };
    const areaBefore = area(flat);
    for (const halvings of [0, HALVINGS]) {
      const made = combineCurves(a, b, operation, halvings);
      if (made && Math.abs(signedArea(made.path) - areaBefore) <= BELIEVED * tolerance * size) return made;
    }
    return { path: flat.flatMap(ringPath), rule: 'nonzero' };
  }
}

/** How finely curves are checked: so many of them, that their polygons stay of a size that can be worked with. */
function checkOf(a: Area, b: Area): number {
  return Math.min(COARSEST_CHECK, FINEST_CHECK * Math.max(1, curvesIn(a, b) / FEW_CURVES) ** 2);
}

export const curvesIn = (...areas: readonly Area[]): number =>
  areas.reduce((sum, { path }) => sum + path.filter(isCurve).length, 0);

const isCurve = ([command]: PathCommand): boolean => command === 'C' || command === 'Q';

const emptyArea = (): Area => ({ path: [], rule: 'nonzero' });

function combinePolygons(a: Polygons, b: Polygons, operation: Operation): Polygons {
  if (operation === 'unite') return union([...a, ...b]);
  return operation === 'subtract' ? difference(a, b) : intersection(a, b);
}

/** The result of paper.js; undefined where it gives up or returns no numbers. Its scope lives for this call alone. */
function combineCurves(a: Area, b: Area, operation: Operation, halvings: number): Area | undefined {
  const scope = new paper.PaperScope();
  try {
    scope.setup(new paper.Size(1, 1));
    const first = itemOf(scope, a, halvings);
    const made =
      b.path.length === 0
        ? operation === 'intersect'
          ? undefined
          : first.unite(undefined as unknown as paper.PathItem, { insert: false })
        : first[operation](itemOf(scope, b, halvings), { insert: false });
    if (!made) return emptyArea();
    if (signedArea(pathOf(made)) < 0) made.reverse();
    const path = pathOf(made);
    return path.every((s) => s.slice(1).every((v) => Number.isFinite(v as number)))
      ? { path, rule: 'nonzero' }
      : undefined;
  } catch {
    return undefined;
  } finally {
    // The library's type leaves this out; without it the library keeps every scope.
    (scope as unknown as { remove(): void }).remove();
  }
}

function itemOf(scope: paper.PaperScope, { path, rule }: Area, halvings: number): paper.CompoundPath {
  const item = new scope.CompoundPath({ pathData: dataOf(path), insert: false });
  item.fillRule = rule;
  for (let k = 0; k < halvings; k++) {
    for (const ring of item.children as paper.Path[])
      for (const curve of [...ring.curves]) if (curve.hasHandles()) curve.divideAtTime(UNEVEN_HALF);
  }
  return item;
}

const dataOf = (path: readonly PathCommand[]): string =>
  path.map((s) => `${s[0]}${s.slice(1).join(' ')}`).join('');

function pathOf(item: paper.PathItem): PathCommand[] {
  const rings = (item.className === 'CompoundPath' ? item.children : [item]) as paper.Path[];
  return rings.flatMap((ring): PathCommand[] => {
    if (ring.segments.length < 2) return [];
    const start = ring.segments[0]!.point;
    const path: PathCommand[] = [['M', start.x, start.y]];
    for (const { points } of ring.curves) {
      const [p, c, d, q] = points as [paper.Point, paper.Point, paper.Point, paper.Point];
      if (p.equals(c) && q.equals(d)) path.push(['L', q.x, q.y]);
      else path.push(['C', c.x, c.y, d.x, d.y, q.x, q.y]);
    }
    path.push(['Z']);
    return path;
  });
}

function byRule(rings: Polygons, rule: Rule): Polygons {
  return rule === 'nonzero' ? union(rings) : unionEvenOdd(rings);
}

/** A path with every subpath closed, as filling takes it. */
export function closeSubpaths(path: readonly PathCommand[]): PathCommand[] {
  const out: PathCommand[] = [];
  let open = false;
  for (const s of path) {
    if (s[0] === 'M' && open) out.push(['Z']);
    open = s[0] !== 'Z' && s[0] !== 'M';
    out.push(s);
  }
  if (open) out.push(['Z']);
  return out;
}

/** Each closed curve of a path by itself. */
function ringsOf(path: readonly PathCommand[]): PathCommand[][] {
  const rings: PathCommand[][] = [];
  for (const s of closeSubpaths(path)) {
    if (s[0] === 'M' || rings.length === 0) rings.push([]);
    rings.at(-1)!.push(s);
  }
  return rings;
}

/** A closed curve in the other direction. */
function reverseRing([first, ...rest]: readonly PathCommand[]): PathCommand[] {
  const ring = rest.filter(([command]) => command !== 'Z');
  return [['M', ...pointOf(ring.at(-1) ?? first!)], ...reverseCommands(ring, pointOf(first!)), ['Z']];
}

const pointOf = (s: PathCommand): [number, number] => s.slice(-2) as [number, number];

function reverseCommands(ring: readonly PathCommand[], start: readonly [number, number]): PathCommand[] {
  return ring
    .map((s, k): PathCommand => {
      const [x, y] = k === 0 ? start : pointOf(ring[k - 1]!);
      if (s[0] === 'C') return ['C', s[3], s[4], s[1], s[2], x, y];
      return s[0] === 'Q' ? ['Q', s[1], s[2], x, y] : ['L', x, y];
    })
    .reverse();
}

export function ringPath(ring: ArrayLike<number>): PathCommand[] {
  const path: PathCommand[] = [];
  for (let i = 0; i < ring.length; i += 2) path.push([i === 0 ? 'M' : 'L', ring[i]!, ring[i + 1]!]);
  path.push(['Z']);
  return path;
}

/** From corner to corner of the bounds of an area's points and control points. */
const sizeOf = ({ path }: Area): number =>
  diagonalOf(boundsOf(path.flatMap(([, ...coordinates]) => coordinates as number[])));
