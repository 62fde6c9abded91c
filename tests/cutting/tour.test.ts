import { describe, expect, test } from 'vitest';
import type { CutBlock, CutLine } from '../../src/cutting/cuts.js';
import { orderLines, orderTour } from '../../src/cutting/order.js';
import { MOST_STEPS, shortTour } from '../../src/cutting/tour.js';
import { surfaceMetric } from '../../src/cutting/tour-blocks.js';
import { airOf, optimizeOrder, type Stop } from '../../src/cutting/tour-stops.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';
import { heldKarp } from './tour-bound.js';
import { chance, letters, sheets } from './tour-sheets.js';

const tube = surfaceBetween('field', 0, 60, 6, 6);
const barrel = surfaceBetween('field', 5, 70, 4.5, 6.5);
const cap = surfaceBetween('field', 10, 60, 7, 5.5);
const surfaces = [tube, barrel, cap];

function permutations(n: number): number[][] {
  if (n === 0) return [[]];
  return permutations(n - 1).flatMap((p) =>
    Array.from({ length: n }, (_, k) => [...p.slice(0, k), n - 1, ...p.slice(k)]),
  );
}

/** Places of a few lines, angle and z: open ones of two ends, and closed ones of one point. */
const few = (seed: number, n: number): Stop[] => {
  const at = chance(seed);
  return Array.from({ length: n }, () => {
    const [angle, z] = [360 * at(), 15 + 40 * at()];
    if (at() < 0.3) return { places: Float64Array.of(angle, z), closed: true };
    return {
      places: Float64Array.of(angle, z, angle + 120 * (at() - 0.5), z + 8 * (at() - 0.5)),
      closed: false,
    };
  });
};

describe('the shortest way through a few lines, by trying every one', () => {
  const N = 6;
  const orders = permutations(N);
  for (const eitherWay of [true, false]) {
    test(eitherWay ? 'run from either end' : 'run as drawn', () => {
      for (let seed = 1; seed <= 24; seed++) {
        const far = surfaceMetric(surfaces[seed % 3]!);
        const stops = few(seed, N);
        let least = Number.POSITIVE_INFINITY;
        for (const order of orders) {
          for (let turns = 0; turns < (eitherWay ? 2 ** N : 1); turns++) {
            const way = order.map((stop, i) => ({
              stop,
              turned: ((turns >> i) & 1) === 1 && !stops[stop]!.closed,
              start: 0,
            }));
            least = Math.min(least, airOf(stops, way, far));
          }
        }
        const found = optimizeOrder(stops, { metric: far, eitherWay, mostSteps: MOST_STEPS });
        if (!eitherWay) expect(found.some((v) => v.turned)).toBe(false);
        expect(airOf(stops, found, far)).toBeLessThan(least * 1.02 + 1e-9);
        if (!eitherWay) continue;
        const ends = stops.flatMap(({ places }) => [
          [places[0]!, places[1]!] as const,
          [places.at(-2)!, places.at(-1)!] as const,
        ]);
        const d = Float64Array.from({ length: 4 * N * N }, (_, k) => {
          const [p, q] = [ends[Math.floor(k / (2 * N))]!, ends[k % (2 * N)]!];
          return far.distance(...p, ...q);
        });
        const bound = heldKarp(2 * N, d, least, least);
        expect(bound).toBeLessThanOrEqual(least + 1e-6);
        expect(bound).toBeGreaterThan(least * 0.98);
      }
    });
  }
});

test('what lies too high or too low is not asked for, and the order is the same as if it were', () => {
  for (const [seed, surface] of surfaces.entries()) {
    const { distance, height } = surfaceMetric(surface);
    const at = chance(seed + 1);
    // Rows, so that many lie at one height and many are as far apart as others.
    const places = Array.from({ length: 300 }, (_, k) => [6 * Math.floor(60 * at()), 15 + (k % 17)] as const);
    for (const eitherWay of [true, false]) {
      let asked = 0;
      const lines = {
        count: places.length / 2,
        eitherWay,
        distanceBetween: (p: number, q: number) => {
          asked++;
          return distance(...places[p]!, ...places[q]!);
        },
      };
      const all = shortTour({ ...lines, heightOf: () => 0 });
      const askedOfAll = asked;
      asked = 0;
      const near = shortTour({ ...lines, heightOf: (p) => height(...places[p]!) });
      expect(near.order).toEqual(all.order);
      expect(near.turned).toEqual(all.turned);
      expect(asked).toBeLessThan(0.98 * askedOfAll);
    }
  }
});

test('the way through the seam and round a cone is the straight line of the sector', () => {
  // Law of cosines on the developed sector (plane trigonometry): apex distances p, q and half the angle times sin.
  const far = surfaceMetric(barrel).distance;
  const sin = 2 / Math.hypot(2, 65);
  const [p, q] = [barrel.radius(20) / sin, barrel.radius(33) / sin];
  const law = (deg: number) => Math.sqrt(p * p + q * q - 2 * p * q * Math.cos(((deg * Math.PI) / 180) * sin));
  expect(far(350, 20, 15, 33)).toBeCloseTo(law(25), 8);
  expect(far(-10, 20, 735, 33)).toBeCloseTo(law(25), 8);
  expect(far(0, 20, 180, 33)).toBeCloseTo(law(180), 8);
  expect(surfaceMetric(tube).distance(355, 20, 5, 24)).toBeCloseTo(Math.hypot((6 * Math.PI) / 18, 4), 9);
});

const block = (turn: number, line: CutLine, key = `${turn}`): CutBlock => ({
  key,
  mark: 'stars',
  name: 'star',
  turn,
  lines: [line],
  depth: 0.05,
  passes: [0.05],
});
const stroke: CutLine = {
  points: Float64Array.of(-0.2, 20, 0, 20.5, 0.2, 20),
  closed: false,
  depths: Float64Array.of(0.01, 0.05, 0.02),
};
const ring = (r: number, y = 20): CutLine => ({
  points: Float64Array.from({ length: 16 }, (_, i) => {
    const t = (Math.PI * Math.floor(i / 2)) / 4;
    return i % 2 === 0 ? r * Math.cos(t) : y + r * Math.sin(t);
  }),
  closed: true,
  depths: Float64Array.from({ length: 8 }, (_, k) => 0.01 + 0.005 * k),
});

/** Points and depths of a line in an order that does not tell where it begins or which way it runs. */
const held = ({ points, depths }: CutLine): string[] =>
  Array.from(
    { length: points.length / 2 },
    (_, k) => `${points[2 * k]} ${points[2 * k + 1]} ${depths?.[k]}`,
  ).sort();

describe('blocks in order', () => {
  test('go round through the seam, not back', () => {
    const turns = [350, 5, 340, 10, 355, 345, 0];
    const order = orderTour(
      tube,
      turns.map((t) => block(t, stroke)),
      { keepDirection: true },
    );
    expect([order.map((b) => b.turn), order.map((b) => b.turn).reverse()]).toContainEqual([
      340, 345, 350, 355, 0, 5, 10,
    ]);
    expect(order.every((b) => b.lines[0] === stroke)).toBe(true);
  });

  test('a turned line keeps its depths, each at its point, and gets a key of its own', () => {
    const order = orderTour(
      tube,
      [10, 5, 20, 15, 0, 30].map((t) => block(t, stroke)),
    );
    for (const { key, lines } of order) {
      expect(held(lines[0]!)).toEqual(held(stroke));
      expect(key.endsWith(' turned')).toBe(lines[0]!.points[0] === 0.2);
    }
    // Round the ring each is begun on the side that the last one lies on.
    expect(new Set(order.map((b) => b.lines[0]!.points[0])).size).toBe(1);
  });

  test('a closed line begins where the way comes to it', () => {
    const rings = [0, 90, 180, 270].flatMap((t) => [block(t, ring(2)), block(t, ring(1, 30), `${t} up`)]);
    const order = orderTour(tube, rings);
    expect(order.some((b) => / from \d/.test(b.key))).toBe(true);
    for (const b of order) {
      const drawn = rings.find((r) => r.key === b.key.replace(/ from \d+$/, ''))!.lines[0]!;
      expect(held(b.lines[0]!)).toEqual(held(drawn));
      const from = Number(/ from (\d+)$/.exec(b.key)?.[1] ?? 0);
      expect(b.lines[0]!.points[0]).toBe(drawn.points[2 * from]);
      expect(b.lines[0]!.depths![0]).toBe(drawn.depths![from]);
    }
  });

  test('a block of many lines stays whole, and is run back as a whole', () => {
    const word = letters(tube, 'COAST', 1.2, { baseline: 'ring', reading: 'up' }, 30, 0);
    const whole = {
      ...block(0, word[0]!.lines[0]!),
      lines: [stroke, ring(1, 30), { ...stroke, points: stroke.points.map((v, i) => (i % 2 ? v + 20 : v)) }],
    };
    const order = orderTour(tube, [whole, block(10, ring(0.2, 40)), block(-10, ring(0.2, 19))]);
    const found = order.find((b) => b.lines.length > 1)!;
    expect(found.lines).toHaveLength(3);
    const back = found.key.endsWith(' turned');
    expect(held(found.lines[back ? 2 : 0]!)).toEqual(held(stroke));
  });

  test('small marks first', () => {
    const mixed = sheets[47]!.blocks;
    const size = (b: CutBlock) => {
      const xs = b.lines[0]!.points.filter((_, i) => i % 2 === 0);
      const ys = b.lines[0]!.points.filter((_, i) => i % 2 === 1);
      return Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
    };
    const sizes = orderTour(sheets[47]!.surface, mixed, { smallFirst: true }).map(size);
    expect(sizes).toHaveLength(mixed.length);
    sizes.forEach((s, k) => {
      for (const later of sizes.slice(k)) expect(later).toBeGreaterThan(s / 2);
    });
  });

  test('none, one, and the same twice over', () => {
    expect(orderTour(tube, [])).toEqual([]);
    expect(orderTour(tube, [block(3, stroke)])).toEqual([block(3, stroke)]);
    const { surface, blocks } = sheets[20]!;
    expect(orderTour(surface, blocks)).toEqual(orderTour(surface, blocks));
  });
});

describe('lines of one sheet', () => {
  const air = (lines: readonly CutLine[]): number =>
    lines.slice(1).reduce((sum, { points }, k) => {
      const p = lines[k]!;
      const from = p.closed ? 0 : p.points.length - 2;
      return sum + Math.hypot(points[0]! - p.points[from]!, points[1]! - p.points[from + 1]!);
    }, 0);
  const hatch = (n: number): CutLine[] => {
    const at = chance(n);
    return Array.from({ length: n }, () => {
      const [x, y] = [20 * at(), 20 * at()];
      return {
        points: Float64Array.of(x, y, x + 1, y + at()),
        closed: at() < 0.2,
        depths: Float64Array.of(x / 400, y / 400),
      };
    });
  };

  test('few or many, all are there, with their depths', () => {
    for (const n of [3, 12, 13, 60]) {
      const lines = hatch(n);
      const order = orderLines(lines);
      expect(order.map((l) => held(l).join()).sort()).toEqual(lines.map((l) => held(l).join()).sort());
    }
  });

  test('many are run in less than the nearest next would take', () => {
    for (const n of [40, 120]) {
      const lines = hatch(n);
      const left = [...lines];
      const nearest = [left.shift()!];
      while (left.length > 0) {
        const far = left.map((l) => air([nearest.at(-1)!, l]));
        nearest.push(left.splice(far.indexOf(Math.min(...far)), 1)[0]!);
      }
      expect(air(orderLines(lines))).toBeLessThan(0.85 * air(nearest));
    }
  });

  test('a letter keeps its first stroke first', () => {
    const [first, ...rest] = letters(tube, 'E', 2, { baseline: 'ring', reading: 'up' }, 30, 0).map(
      (b) => b.lines[0]!,
    );
    expect(orderLines([first!, ...rest])[0]).toBe(first);
  });
});
