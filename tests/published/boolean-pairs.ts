import clipping from 'polygon-clipping';
import { describe, expect, it } from 'vitest';
import { type Area, Booleans, ringPath } from '../../src/artwork/boolean.js';
import { Budget } from '../../src/artwork/budget.js';
import { transformPath } from '../../src/artwork/svg/matrix.js';
import { readPath } from '../../src/artwork/svg/read-path.js';
import { flatten } from '../../src/geometry/flatten.js';
import { exactArea, figures } from '../artwork/measure.js';

/*
 * Unions, differences and intersections of areas against polygon-clipping 0.15 (MIT, Martinez-Rueda-Feito 2009): an
 * algorithm and a program of their own. Polygons are given to both as they are; curves are flattened for
 * polygon-clipping alone, so finely that their chords cost less than the bar.
 */
const BAR = 1e-6;

type Kind = (at: () => number) => readonly [Area, Area];
type Ring = number[];

const area = (...rings: Ring[]): Area => ({ path: rings.flatMap(ringPath), rule: 'nonzero' });
const box = (x: number, y: number, w: number, h: number): Ring => [x, y, x + w, y, x + w, y + h, x, y + h];
/** A whole number: what lies along something else must lie along it exactly. */
const whole = (at: () => number, from: number, to: number) => Math.floor(from + at() * (to - from + 1));
const star = (at: () => number, n: number, cx: number, cy: number, r: number): Ring =>
  Array.from({ length: n }, (_, k) => {
    const [turn, far] = [(2 * Math.PI * (k + 0.8 * at())) / n, r * (0.4 + 0.6 * at())];
    return [cx + far * Math.cos(turn), cy + far * Math.sin(turn)];
  }).flat();
const scribble = (at: () => number, n: number): Ring => Array.from({ length: 2 * n }, () => 10 * at());
const ellipse = (at: () => number): Area => {
  const [rx, ry, cx, cy] = [1 + 3 * at(), 1 + 3 * at(), 3 + 4 * at(), 3 + 4 * at()];
  const d = `M${cx - rx} ${cy}a${rx} ${ry} 0 1 0 ${2 * rx} 0a${rx} ${ry} 0 1 0 ${-2 * rx} 0z`;
  return { path: readPath(d).path, rule: 'nonzero' };
};
const leaf = (at: () => number): Area => {
  const v = Array.from({ length: 10 }, () => (10 * at()).toFixed(3));
  return {
    path: readPath(
      `M${v[0]} ${v[1]}C${v[2]} ${v[3]} ${v[4]} ${v[5]} ${v[6]} ${v[7]}Q${v[8]} ${v[9]} ${v[0]} ${v[1]}z`,
    ).path,
    rule: 'nonzero',
  };
};
const moved = (a: Area, x: number, y: number): Area => ({
  ...a,
  path: transformPath(a.path, [1, 0, 0, 1, x, y]),
});

const KINDS: Readonly<Record<string, Kind>> = {
  'stars that overlap': (at) => [
    area(star(at, whole(at, 3, 14), 4, 5, 4)),
    area(star(at, whole(at, 3, 14), 6, 5, 4)),
  ],
  'the same twice': (at) => {
    const one = area(star(at, whole(at, 3, 14), 5, 5, 4));
    return [one, one];
  },
  'sides lying along one another': (at) => {
    const [x, y] = [whole(at, 0, 4), whole(at, 0, 4)];
    const w = whole(at, 1, 5);
    return [area(box(x, y, w, 3)), area(box(x + whole(at, 0, w), y + whole(at, -1, 3), whole(at, 1, 4), 3))];
  },
  'touching at a corner': (at) => {
    const [x, y] = [whole(at, 0, 5), whole(at, 0, 5)];
    return [area(box(x, y, 2, 3)), area(box(x + 2, y + 3, whole(at, 1, 4), whole(at, 1, 4)))];
  },
  'one inside the other': (at) => {
    const outer = star(at, 12, 5, 5, 5);
    return [area(outer), area(outer.map((v) => 5 + (v - 5) / (2 + 3 * at())))];
  },
  'far apart': (at) => [area(star(at, 7, 2, 2, 2)), area(star(at, 7, 8, 8, 2))],
  'crossing themselves': (at) => [area(scribble(at, whole(at, 4, 9))), area(scribble(at, whole(at, 4, 9)))],
  'a corner on a side': (at) => {
    const x = whole(at, 1, 7);
    return [area(box(0, 0, 8, 4)), area([x, 4, x + whole(at, 1, 3), 8, x - whole(at, 1, 3), 7])];
  },
  'rings with a hole': (at) => [
    area(box(0, 0, 6, 6), [2, 2, 2, 4, 4, 4, 4, 2]),
    area(box(whole(at, 0, 4), whole(at, 0, 4), 4, 4)),
  ],
  'slivers turned a hair': (at) => {
    const a = 1e-4 * at();
    const one = star(at, 8, 5, 5, 4);
    const turned = transformPath(ringPath(one), [Math.cos(a), Math.sin(a), -Math.sin(a), Math.cos(a), 0, 0]);
    return [area(one), { path: turned, rule: 'nonzero' }];
  },
  ellipses: (at) => [ellipse(at), ellipse(at)],
  'an ellipse and itself': (at) => {
    const one = ellipse(at);
    return [one, one];
  },
  'ellipses that touch': (at) => {
    const r = whole(at, 1, 3);
    const one: Area = {
      path: readPath(`M0 ${r}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`).path,
      rule: 'nonzero',
    };
    return [one, moved(one, 2 * r, 0)];
  },
  'leaves of curves': (at) => [leaf(at), leaf(at)],
  'a curve and a polygon': (at) => [ellipse(at), area(star(at, 9, 5, 5, 4))],
};

const FINE = 1e-6;
const rings = ({ path }: Area) =>
  flatten(path, 1, FINE).map(({ points }) =>
    Array.from({ length: points.length / 2 }, (_, k): [number, number] => [
      points[2 * k]!,
      points[2 * k + 1]!,
    ]),
  );

/** A ring's shoelace sum. */
const shoelace = (ring: readonly (readonly [number, number])[]): number =>
  ring.reduce((sum, [x, y], k) => {
    const [px, py] = ring[(k + ring.length - 1) % ring.length]!;
    return sum + (px * y - x * py) / 2;
  }, 0);
const areaOf = (polygons: ReturnType<typeof clipping.union>): number =>
  polygons.reduce(
    (sum, [outer, ...holes]) =>
      sum + Math.abs(shoelace(outer!)) - holes.reduce((less, hole) => less + Math.abs(shoelace(hole)), 0),
    0,
  );

/** An area as polygon-clipping takes it: outer rings, less those that run the other way. */
function theirs(one: Area): ReturnType<typeof clipping.union> {
  const all = rings(one);
  const outer = all.filter((ring, k) => k === 0 || shoelace(ring) * shoelace(all[0]!) > 0);
  const holes = all.filter((ring) => !outer.includes(ring));
  const sum = clipping.union(outer.map((r) => [r]));
  return holes.length === 0 ? sum : clipping.difference(sum, ...holes.map((r) => [r]));
}

const booleans = new Booleans(new Budget('artwork.too-many-points', Number.POSITIVE_INFINITY));

/** So many pairs of each kind of area, by both. */
export function booleansAgainstReference(each: number): void {
  const names = Object.keys(KINDS);
  describe('booleans, against polygon-clipping', () => {
    it.each(names)(`${each} pairs: %s`, (name) => {
      const at = figures(20_000 + names.indexOf(name));
      const off: string[] = [];
      for (let k = 0; k < each; k++) {
        const [a, b] = KINDS[name]!(at);
        const [ta, tb] = [theirs(a), theirs(b)];
        const whole = areaOf(ta) + areaOf(tb);
        const compare = (what: string, mine: Area, other: ReturnType<typeof clipping.union>) => {
          const by = Math.abs(Math.abs(exactArea(mine.path)) - areaOf(other)) / whole;
          if (!(by <= BAR)) off.push(`${k} ${what} off by ${by}`);
        };
        // Two of the four on every pair, by turns: the reader of reference is the slow one.
        if (k % 2 === 0) {
          compare('united', booleans.unite(a, b), clipping.union(ta, tb));
          compare('less the second', booleans.subtract(a, b), clipping.difference(ta, tb));
        } else {
          compare('common', booleans.intersect(a, b), clipping.intersection(ta, tb));
          compare('alone', booleans.resolve(a), ta);
        }
      }
      expect(off).toEqual([]);
    });
  });
}
