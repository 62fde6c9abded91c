import { describe, expect, test } from 'vitest';
import {
  area,
  difference,
  grow,
  inset,
  intersection,
  sweepAtOnce,
  union,
} from '../../src/geometry/polygons.js';
import { sweep } from '../../src/geometry/sweep.js';
import { offsetSteps, outlineSteps, sweepSteps } from '../../src/geometry/sweep-steps.js';

/** A line to and fro, so many times, `apart` mm from one to the next, turned by 40 degrees. */
const hatch = (count: number, apart: number, long: number) => {
  const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
  const points = Array.from({ length: count }, (_, k) => {
    const [u, v] = [k % 2 ? [long, 0] : [0, long], k * apart];
    return u.flatMap((x) => [x * c - v * s, x * s + v * c]);
  }).flat();
  return { points: Float64Array.from(points), closed: false };
};

describe('sweeping over very many lines', () => {
  const count = 600;
  const line = hatch(count, 0.016, 10);
  const width = 0.026;

  test('covers what sweeping over them at once does, in few steps', () => {
    let steps = 0;
    const swept = sweep([line], width, (more) => {
      steps += more;
    });
    expect(outlineSteps([line], width)).toBeGreaterThan(5e6);
    expect(steps).toBeLessThan(outlineSteps([line], width) / 4);
    const atOnce = sweepAtOnce([line], width);
    expect(area(swept)).toBeCloseTo(area(atOnce), 4);
    expect(area(difference(swept, atOnce)) + area(difference(atOnce, swept))).toBeLessThan(1e-4);
    expect(swept).toHaveLength(1);
  });

  test('leaves what lies between them where they are too far apart', () => {
    const wide = hatch(2 * count, 0.04, 10);
    // The lines and their ends, less where each turn goes over its line again: as many hollows as turns.
    const swept = sweep([wide], width);
    const holes = swept.filter((ring) => area([ring]) < 0);
    expect(outlineSteps([wide], width)).toBeGreaterThan(5e6);
    expect(holes).toHaveLength(0);
    expect(area(swept)).toBeGreaterThan(0.98 * 2 * count * 10 * width);
    expect(area(swept)).toBeLessThan(1.02 * 2 * count * (10 + 0.04) * width);
  });

  test('a closed line is swept all round', () => {
    const n = 40_000;
    const at = (i: number) => {
      const t = (2 * Math.PI * i) / n;
      // Waves so close that its sides cover one another.
      const r = 5 + 0.4 * Math.cos(2000 * t);
      return [r * Math.cos(t), r * Math.sin(t)];
    };
    const points = Float64Array.from(Array.from({ length: n }, (_, i) => at(i)).flat());
    const swept = sweep([{ points, closed: true }], 0.02);
    // A ring from 4.6 to 5.4 mm, with one hole.
    expect(swept.filter((r) => area([r]) < 0)).toHaveLength(1);
    expect(area(swept)).toBeGreaterThan(Math.PI * (5.38 ** 2 - 4.62 ** 2));
    expect(area(swept)).toBeLessThan(Math.PI * (5.42 ** 2 - 4.58 ** 2));
  });
});

describe('very many squares that do not meet', () => {
  const n = 140;
  const squares = Array.from({ length: n * n }, (_, k) => {
    const [x, y] = [k % n, Math.floor(k / n)];
    return Float64Array.of(x, y, x + 0.5, y, x + 0.5, y + 0.5, x, y + 0.5);
  });

  test('cost no more each than one by itself, and give the same', () => {
    const one = squares.slice(0, 1);
    expect(sweepSteps(squares)).toBeCloseTo(squares.length * sweepSteps(one), 3);
    expect(offsetSteps(squares, -0.1)).toBeCloseTo(squares.length * offsetSteps(one, -0.1), 3);
    expect(area(union(squares))).toBeCloseTo(squares.length * 0.25, 6);
    expect(area(inset(squares, 0.1))).toBeCloseTo(squares.length * 0.09, 6);
    const rounded = 0.25 + 4 * 0.5 * 0.1 + Math.PI * 0.01;
    expect(area(grow(squares, 0.1)) / squares.length).toBeCloseTo(rounded, 3);
  });

  test('less others, or what both have, ring by ring', () => {
    const others = squares.map((ring) => ring.map((v, i) => (i % 2 ? v + 0.25 : v)));
    expect(area(difference(squares, others))).toBeCloseTo(squares.length * 0.125, 6);
    expect(area(intersection(squares, others))).toBeCloseTo(squares.length * 0.125, 6);
    expect(difference(squares, squares)).toEqual([]);
    expect(area(intersection(squares, squares))).toBeCloseTo(squares.length * 0.25, 6);
    expect(area(difference(squares, []))).toBeCloseTo(squares.length * 0.25, 6);
  });

  test('that meet when they are grown are one', () => {
    expect(grow(squares, 0.26).filter((ring) => area([ring]) > 0)).toHaveLength(1);
  });
});
