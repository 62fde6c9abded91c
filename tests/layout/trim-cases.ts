import fc from 'fast-check';
import { expect } from 'vitest';
import { anglesOf, barriersOf, firstBarrierTouched, trimAreas, trimLines } from '../../src/layout/trim.js';
import type { Phrase } from '../../src/problem.js';
import type { Obstacle } from '../../src/surface/keepouts.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';
import { type Cone, flat, zOf } from './independent.js';

type Point = readonly [number, number];

const pairs = (line: Float64Array): Point[] =>
  Array.from({ length: line.length / 2 }, (_, i) => [line[2 * i]!, line[2 * i + 1]!] as const);

const toSegment = ([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number => {
  const [dx, dy] = [bx - ax, by - ay];
  const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
};

const toLine = (p: Point, line: readonly Point[], closed: boolean): number => {
  let nearest = Number.POSITIVE_INFINITY;
  for (let i = closed ? 0 : 1; i < line.length; i++)
    nearest = Math.min(nearest, toSegment(p, line.at(i - 1)!, line[i]!));
  return nearest;
};

/** Even-odd: a line to the right crosses an odd number of edges. */
const inRings = ([x, y]: Point, rings: readonly (readonly Point[])[]): boolean =>
  rings
    .flatMap((ring) => ring.map((b, i) => [ring.at(i - 1)!, b] as const))
    .filter(([[ax, ay], [bx, by]]) => ay > y !== by > y && ax + ((y - ay) / (by - ay)) * (bx - ax) > x)
    .length %
    2 ===
  1;

/** A patch's outline by z and degrees from its middle, so that it can be laid on any sheet by the formulas. */
interface Patch {
  readonly turn: number;
  readonly outline: readonly Point[];
}

interface Case {
  readonly cone: Cone;
  readonly turn: number;
  readonly half: number;
  readonly patch: Patch;
  /** z of the two edges of the strip that is free between rings. */
  readonly free: readonly [number, number];
}

const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const cases: fc.Arbitrary<Case> = fc
  .record({
    change: fc.oneof(fc.constant(0), some(-0.35, 0.5), some(-0.01, 0.01)),
    r0: some(3, 8),
    turn: some(0, 360),
    half: some(0.02, 0.3),
    middle: some(-180, 540),
    corners: fc.array(fc.tuple(some(0.3, 1), some(0.3, 1)), { minLength: 3, maxLength: 9 }),
  })
  .filter(({ change }) => change === 0 || Math.abs(change) > 1e-5)
  .map(({ change, r0, turn, half, middle, corners }) => ({
    cone: { z0: 2, z1: 22, r0, r1: r0 * (1 + change) },
    turn,
    half,
    free: [5, 18],
    patch: {
      turn: middle,
      outline: corners.map(([a, b], i) => {
        const angle = (2 * Math.PI * i) / corners.length;
        return [12 + 4 * a * Math.sin(angle), 35 * b * Math.cos(angle)] as const;
      }),
    },
  }));

const surfaceOf = ({ cone: { z0, z1, r0, r1 } }: Case) => surfaceBetween('s', z0, z1, r0, r1);
/** Slant by the sides of a triangle. */
const slant = ({ cone: c }: Case, z: number) =>
  ((z - c.z0) * Math.hypot(c.z1 - c.z0, c.r1 - c.r0)) / (c.z1 - c.z0);

export const named = (phrase: string): Phrase => ({ phrase, values: {} });

function obstaclesOf(c: Case): Obstacle[] {
  const outline = c.patch.outline.flatMap(([z, deg]) => flat(c.cone, z, deg));
  return [
    { shape: 'ring', name: named('lower'), from: Number.NEGATIVE_INFINITY, to: slant(c, c.free[0]) },
    { shape: 'ring', name: named('upper'), from: slant(c, c.free[1]), to: Number.POSITIVE_INFINITY },
    { shape: 'patch', name: named('window'), turn: c.patch.turn, polygons: [Float64Array.from(outline)] },
  ];
}

/** How near a sheet point lies to any obstacle, 0 within: by the formulas and plain distances alone. */
function nearness(c: Case): (p: Point) => number {
  // Corners are joined by straight lines on the patch's own sheet; another sheet is that one moved rigidly.
  const copies = [-2, -1, 0, 1, 2]
    .map((turns) => c.patch.turn - c.turn + 360 * turns)
    .filter((by) => Math.abs(by) < 300)
    .map((by) => c.patch.outline.map(([z, deg]) => flat(c.cone, z, deg + by)));
  return (p) => {
    const s = slant(c, zOf(c.cone, ...p));
    const rings = Math.min(s - slant(c, c.free[0]), slant(c, c.free[1]) - s);
    const patches = copies.map((outline) => (inRings(p, [outline]) ? 0 : toLine(p, outline, true)));
    return Math.max(0, Math.min(rings, ...patches));
  };
}

function* samples(line: readonly Point[], closed: boolean, step: number): Generator<Point> {
  for (let i = closed ? 0 : 1; i < line.length; i++) {
    const [[ax, ay], [bx, by]] = [line.at(i - 1)!, line[i]!];
    const n = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / step));
    for (let k = 0; k <= n; k++) yield [ax + ((bx - ax) * k) / n, ay + ((by - ay) * k) / n];
  }
}

/** A line all round, up and down through everything. */
function zigzag({ cone }: Case): Float64Array {
  const points = Array.from({ length: 61 }, (_, i) =>
    flat(cone, 12 + (i % 2 === 0 ? -1 : 1) * (3 + ((i * 7) % 6)), 6 * (i - 30)),
  );
  return Float64Array.from(points.flat());
}

/** As near to the bound as figures are decided, mm. */
const EXACT = 0.001;

/** Lines trimmed in so many cases: what is left keeps its half width away; what is gone was nearer, to 0.001 mm. */
export function trimsLines(runs: number): void {
  let [kept, gone] = [0, 0];
  fc.assert(
    fc.property(cases, (c) => {
      const points = zigzag(c);
      const surface = surfaceOf(c);
      const barriers = barriersOf(surface, obstaclesOf(c), c.half, c.turn, anglesOf(surface, [points]));
      const left = trimLines([{ points, closed: false }], barriers, 0);
      const near = nearness(c);
      const pieces = left.map((piece) => pairs(piece.points));
      const stay = pieces.flatMap((piece) => [...samples(piece, false, 0.1)].map(near));
      expect(Math.min(...stay)).toBeGreaterThanOrEqual(c.half);
      const went = [...samples(pairs(points), false, 0.1)]
        .filter((p) => pieces.every((piece) => toLine(p, piece, false) > 1e-9))
        .map(near);
      expect(Math.max(...went)).toBeLessThan(c.half + EXACT);
      kept += stay.length;
      gone += went.length;
      expect(firstBarrierTouched([{ points, closed: false }], barriers)).toEqual(named('lower'));
      // Ends lie on the bound itself, whose corners are chords.
      const within = barriersOf(surface, obstaclesOf(c), c.half - EXACT, c.turn, [-180, 180]);
      expect(firstBarrierTouched(left, within)).toBeUndefined();
    }),
    { numRuns: runs, seed: 1 },
  );
  expect(Math.min(kept, gone)).toBeGreaterThan(160 * runs);
}

/** Areas trimmed in so many cases: what is left keeps its half width away; what is gone was nearer, to 0.001 mm. */
export function trimsAreas(runs: number): void {
  let [kept, gone] = [0, 0];
  const at = fc.tuple(some(-150, 150), some(6, 17));
  fc.assert(
    fc.property(cases, at, (c, [deg, z]) => {
      const [x, y] = flat(c.cone, z, deg);
      // A disc with a hole in it, run the other way.
      const round = (r: number, way: number): Point[] =>
        Array.from({ length: 40 }, (_, i) => [
          x + r * Math.cos((way * Math.PI * i) / 20),
          y + r * Math.sin((way * Math.PI * i) / 20),
        ]);
      const rings = [round(3, 1), round(1, -1)];
      const areas = rings.map((ring) => Float64Array.from(ring.flat()));
      const surface = surfaceOf(c);
      const barriers = barriersOf(surface, obstaclesOf(c), c.half, c.turn, anglesOf(surface, areas));
      const left = trimAreas(areas, barriers).map(pairs);
      const near = nearness(c);
      for (const ring of left) {
        // An edge that stays of the disc itself may run along a bound as near as figures are kept.
        for (const p of samples(ring, true, 0.1)) expect(near(p)).toBeGreaterThan(c.half - 2e-6);
      }
      for (let i = -15; i <= 15; i++) {
        for (let k = -15; k <= 15; k++) {
          const p: Point = [x + i * 0.2013, y + k * 0.2017];
          if (inRings(p, left)) {
            expect(near(p)).toBeGreaterThanOrEqual(c.half);
            kept++;
          } else if (inRings(p, rings)) {
            expect(near(p)).toBeLessThan(c.half + EXACT);
            gone++;
          }
        }
      }
    }),
    { numRuns: runs, seed: 1 },
  );
  expect(Math.min(kept, gone)).toBeGreaterThan(33 * runs);
}
