import { createRequire } from 'node:module';
import { type FlatPath, flatten } from '../lettering/flatten.js';
import type { Segment } from '../lettering/font.js';
import { area, difference, intersection, type Polygons, union } from '../surface/polygons.js';
import { signedArea } from './svg/area.js';

// The core build draws nothing and wants no document.
const paper = createRequire(import.meta.url)('paper/dist/paper-core.js') as typeof import('paper');
paper.setup(new paper.Size(1, 1));

export type Rule = 'nonzero' | 'evenodd';

/** Closed curves that bound an area, holes running the other way: what lies within any of them by `rule`. */
export interface Area {
  readonly path: readonly Segment[];
  readonly rule: Rule;
}

type Operation = 'unite' | 'subtract' | 'intersect';

/** Curves are held against their polygons this finely, as a part of the area's size, and coarser where they are many. */
const FINEST_CHECK = 5e-8;
const COARSEST_CHECK = 1e-5;
const FEW_CURVES = 50;
/** What polygons are figured to, mm. */
const NANOMETRE = 1e-6;
/** Results that differ from their polygons by more than this many tolerances by the size are not believed. */
const BELIEVED = 2;
/** Times each curve is halved before paper is asked again. */
const HALVINGS = 3;
/** Not quite the half: there curves that mirror one another have their crossings. */
const UNEVEN_HALF = 0.487;

/**
 * Booleans of areas bounded by curves. The curves are paper's work; its result is held against that of the same areas
 * as polygons, which is taken instead where curves that touch or lie along one another have led paper astray.
 */
export const unite = (a: Area, b: Area): Area => combined(a, b, 'unite');
export const subtract = (a: Area, b: Area): Area => combined(a, b, 'subtract');
export const intersect = (a: Area, b: Area): Area => combined(a, b, 'intersect');

/** An area as simple outlines: no crossings, edges anticlockwise and holes clockwise. */
export const resolved = (a: Area): Area => combined(a, { path: [], rule: 'nonzero' }, 'unite');

function combined(a: Area, b: Area, operation: Operation): Area {
  const size = Math.max(sizeOf(a), sizeOf(b));
  if (size === 0) return operation === 'intersect' ? EMPTY : a;
  const tolerance = Math.max(NANOMETRE, size * checkOf(a, b));
  const flat = flatCombined(polygonsOf(a, tolerance), polygonsOf(b, tolerance), operation);
  if (![...a.path, ...b.path].some(isCurve)) return { path: flat.flatMap(ringPath), rule: 'nonzero' };
  const wanted = area(flat);
  for (const halvings of [0, HALVINGS]) {
    const made = curved(a, b, operation, halvings);
    if (made && Math.abs(signedArea(made.path) - wanted) <= BELIEVED * tolerance * size) return made;
  }
  return { path: flat.flatMap(ringPath), rule: 'nonzero' };
}

/** How finely curves are checked: so many of them, that their polygons stay of a size that can be worked with. */
function checkOf(a: Area, b: Area): number {
  const curves = [...a.path, ...b.path].filter(isCurve).length;
  return Math.min(COARSEST_CHECK, FINEST_CHECK * Math.max(1, curves / FEW_CURVES) ** 2);
}

const isCurve = ([command]: Segment): boolean => command === 'C' || command === 'Q';

const EMPTY: Area = { path: [], rule: 'nonzero' };

function flatCombined(a: Polygons, b: Polygons, operation: Operation): Polygons {
  if (operation === 'unite') return union([...a, ...b]);
  return operation === 'subtract' ? difference(a, b) : intersection(a, b);
}

/** Paper's result; undefined where it gives up or gives no figures. */
function curved(a: Area, b: Area, operation: Operation, halvings: number): Area | undefined {
  try {
    const first = itemOf(a, halvings);
    const made =
      b.path.length === 0
        ? operation === 'intersect'
          ? undefined
          : first.unite(undefined as unknown as paper.PathItem, { insert: false })
        : first[operation](itemOf(b, halvings), { insert: false });
    if (!made) return EMPTY;
    if (signedArea(pathOf(made)) < 0) made.reverse();
    const path = pathOf(made);
    return path.every((s) => s.slice(1).every((v) => Number.isFinite(v as number)))
      ? { path, rule: 'nonzero' }
      : undefined;
  } catch {
    return undefined;
  }
}

function itemOf({ path, rule }: Area, halvings: number): paper.CompoundPath {
  const item = new paper.CompoundPath({ pathData: dataOf(path), insert: false });
  item.fillRule = rule;
  for (let k = 0; k < halvings; k++) {
    for (const ring of item.children as paper.Path[])
      for (const curve of [...ring.curves]) if (curve.hasHandles()) curve.divideAtTime(UNEVEN_HALF);
  }
  return item;
}

const dataOf = (path: readonly Segment[]): string =>
  path.map((s) => `${s[0]}${s.slice(1).join(' ')}`).join('');

function pathOf(item: paper.PathItem): Segment[] {
  const rings = item instanceof paper.CompoundPath ? (item.children as paper.Path[]) : [item as paper.Path];
  return rings.flatMap((ring): Segment[] => {
    if (ring.segments.length < 2) return [];
    const start = ring.segments[0]!.point;
    const path: Segment[] = [['M', start.x, start.y]];
    for (const { points } of ring.curves) {
      const [p, c, d, q] = points as [paper.Point, paper.Point, paper.Point, paper.Point];
      if (p.equals(c) && q.equals(d)) path.push(['L', q.x, q.y]);
      else path.push(['C', c.x, c.y, d.x, d.y, q.x, q.y]);
    }
    path.push(['Z']);
    return path;
  });
}

/** The rings of an area by its own rule, flat: even-odd areas become outlines and holes. */
export function polygonsOf({ path, rule }: Area, tolerance: number): Polygons {
  const rings = flatten(closedUp(path), 1, tolerance).map((p) => p.points);
  if (rule === 'nonzero') return union(rings);
  // Even-odd of all rings is the symmetric difference of one after the other.
  return rings.reduce<Polygons>((sum, ring) => {
    const one = union([anticlockwise(ring)]);
    return [...difference(sum, one), ...difference(one, sum)];
  }, []);
}

const anticlockwise = (ring: FlatPath['points']): FlatPath['points'] => {
  if (area([ring]) >= 0) return ring;
  const out = new Float64Array(ring.length);
  for (let i = 0; i < ring.length; i += 2) {
    out[i] = ring[ring.length - 2 - i]!;
    out[i + 1] = ring[ring.length - 1 - i]!;
  }
  return out;
};

/** A path with every subpath closed, as filling takes it. */
export function closedUp(path: readonly Segment[]): Segment[] {
  const out: Segment[] = [];
  let open = false;
  for (const s of path) {
    if (s[0] === 'M' && open) out.push(['Z']);
    open = s[0] !== 'Z' && s[0] !== 'M';
    out.push(s);
  }
  if (open) out.push(['Z']);
  return out;
}

export function ringPath(ring: ArrayLike<number>): Segment[] {
  const path: Segment[] = [];
  for (let i = 0; i < ring.length; i += 2) path.push([i === 0 ? 'M' : 'L', ring[i]!, ring[i + 1]!]);
  path.push(['Z']);
  return path;
}

function sizeOf({ path }: Area): number {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const s of path) {
    for (let i = 1; i + 1 < s.length; i += 2) {
      x0 = Math.min(x0, s[i] as number);
      x1 = Math.max(x1, s[i] as number);
      y0 = Math.min(y0, s[i + 1] as number);
      y1 = Math.max(y1, s[i + 1] as number);
    }
  }
  return x1 >= x0 ? Math.hypot(x1 - x0, y1 - y0) : 0;
}
