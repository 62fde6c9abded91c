import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type RingPattern,
  type RosettePattern,
  ringLines,
  rosetteCurves,
} from '../../src/artwork/engine-turned.js';

const TOLERANCE = 0.0008;
const common = { count: 12, amplitude: 0.4, rows: 6, rise: 0.8 };
const waves = (more: Partial<Extract<RingPattern, { form: 'waves' }>>): RingPattern => ({
  form: 'waves',
  ...common,
  step: 0.125,
  ...more,
});

const us = (line: Float64Array) => [...line].filter((_, i) => i % 2 === 0);
const vs = (line: Float64Array) => [...line].filter((_, i) => i % 2 === 1);

/** Where a line is highest, as parts of a turn. */
function crests(line: Float64Array): number[] {
  const v = vs(line).slice(0, -1);
  const n = v.length;
  return v.flatMap((x, i) => (x > v[(i + n - 1) % n]! && x >= v[(i + 1) % n]! ? [i / n] : []));
}

describe('lines that go all round', () => {
  test('has a line to a row, and two to a row of a moire', () => {
    expect(ringLines(waves({}), TOLERANCE)).toHaveLength(6);
    expect(ringLines({ form: 'barleycorn', ...common }, TOLERANCE)).toHaveLength(6);
    expect(ringLines({ form: 'basket', ...common, strands: 3 }, TOLERANCE)).toHaveLength(6);
    expect(ringLines({ form: 'moire', ...common, second: 13, step: 0 }, TOLERANCE)).toHaveLength(12);
  });

  test('runs from 0 to 1 and meets itself to the last bit, every wave the same', () => {
    const arbitrary = fc.record({
      count: fc.integer({ min: 1, max: 400 }),
      amplitude: fc.double({ min: 0, max: 5, noNaN: true }),
      step: fc.double({ min: -1, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(arbitrary, ({ count, amplitude, step }) => {
        for (const line of ringLines(waves({ count, amplitude, step, rows: 3 }), TOLERANCE)) {
          const [u, v] = [us(line), vs(line)];
          expect([u[0], u.at(-1)]).toEqual([0, 1]);
          expect(v.at(-1)).toBe(v[0]);
          const each = (v.length - 1) / count;
          expect(Number.isInteger(each)).toBe(true);
          expect(v.slice(each)).toEqual(v.slice(0, -each));
        }
      }),
      { numRuns: 100, seed: 1 },
    );
  });

  test('follows the sine: at most the tolerance astray in the middle of every chord', () => {
    for (const tolerance of [0.01, 0.0008]) {
      const [line] = ringLines(waves({ rows: 1, amplitude: 1.3 }), tolerance);
      const [u, v] = [us(line!), vs(line!)];
      let worst = 0;
      for (let i = 1; i < u.length; i++) {
        const truth = 1.3 * Math.sin(2 * Math.PI * 12 * ((u[i]! + u[i - 1]!) / 2));
        worst = Math.max(worst, Math.abs((v[i]! + v[i - 1]!) / 2 - truth));
      }
      expect(worst).toBeLessThanOrEqual(tolerance);
      expect(worst).toBeGreaterThan(tolerance / 2);
    }
  });

  test('spaces rows evenly about the middle and moves each by its step', () => {
    const lines = ringLines(waves({ rows: 5, step: 0.25 }), TOLERANCE);
    const middles = lines.map((line) => (Math.max(...vs(line)) + Math.min(...vs(line))) / 2);
    middles.forEach((m, k) => {
      expect(m).toBeCloseTo((k - 2) * 0.8, 9);
    });
    const first = lines.map((line) => crests(line)[0]! * 12);
    // A sine crests a quarter of a wave on; a step of a quarter brings the crest as much nearer.
    expect(first.map((c) => c.toFixed(3))).toEqual(['0.250', '0.000', '0.750', '0.500', '0.250']);
  });

  test('stands grains crest to trough where the amplitude is half the rise', () => {
    const lines = ringLines({ form: 'barleycorn', ...common }, TOLERANCE);
    for (let k = 1; k < lines.length; k++) {
      const under = vs(lines[k - 1]!);
      const over = vs(lines[k]!);
      const gaps = over.map((v, i) => v - under[i]!);
      expect(Math.min(...gaps)).toBeCloseTo(0, 9);
      expect(Math.max(...gaps)).toBeCloseTo(2 * 0.8, 9);
      expect(gaps.slice(1).filter((gap) => gap < 1e-9)).toHaveLength(12);
    }
  });

  test('weaves: strands side by side, then as many turned over', () => {
    const lines = ringLines({ form: 'basket', ...common, strands: 3 }, TOLERANCE);
    const gaps = lines.slice(1).map((line, k) => {
      const each = vs(line).map((v, i) => v - vs(lines[k]!)[i]!);
      return [Math.min(...each), Math.max(...each)].map((g) => Number(g.toFixed(6)));
    });
    const level = [0.8, 0.8];
    expect(gaps).toEqual([level, level, [0, 1.6], level, level]);
  });

  test('lays trains of two counts over one another', () => {
    const lines = ringLines({ form: 'moire', ...common, second: 13, step: 0.1 }, TOLERANCE);
    expect(lines.map((line) => crests(line).length)).toEqual([...Array(6).fill(12), ...Array(6).fill(13)]);
  });

  test('is a level line where the amplitude is 0', () => {
    const [line] = ringLines(waves({ count: 1, rows: 1, amplitude: 0 }), TOLERANCE);
    expect(new Set(vs(line!).map((v) => v + 0))).toEqual(new Set([0]));
  });
});

describe('rosettes', () => {
  const spec: RosettePattern = {
    form: 'rosettes',
    count: 8,
    rows: 1,
    rise: 5,
    step: 0,
    radius: 2,
    lobes: 12,
    depth: 0.15,
    curves: 5,
  };

  test('has as many curves as asked, each with its lobes, the outermost as wide as asked', () => {
    const curves = rosetteCurves(spec, TOLERANCE);
    expect(curves).toHaveLength(5);
    curves.forEach((curve, k) => {
      const radii = us(curve).map((x, i) => Math.hypot(x, curve[2 * i + 1]!));
      const n = radii.length;
      const tops = radii.filter((r, i) => r > radii[(i + n - 1) % n]! && r >= radii[(i + 1) % n]!);
      expect(tops).toHaveLength(12);
      const most = k % 2 === 0 ? Math.max(...radii) : 2 * ((5 - k) / 5);
      expect(most).toBeCloseTo((2 * (5 - k)) / 5, 9);
    });
  });

  test('encloses pi m^2 (1 + d^2 / 2)', () => {
    // The area within r(a) is half the integral of r^2 (any calculus handbook; from memory); of m (1 + d cos n a) over
    // a turn that is pi m^2 (1 + d^2 / 2), whatever n.
    for (const depth of [0, 0.15, 0.6]) {
      for (const lobes of [2, 12, 31]) {
        const curves = rosetteCurves({ ...spec, depth, lobes }, 1e-6);
        curves.forEach((c, k) => {
          let twice = 0;
          for (let i = 0, j = c.length - 2; i < c.length; j = i, i += 2)
            twice += c[j]! * c[i + 1]! - c[i]! * c[j + 1]!;
          const mean = (2 * (5 - k)) / 5 / (1 + depth);
          expect(twice / 2 / (Math.PI * mean * mean)).toBeCloseTo(1 + (depth * depth) / 2, 4);
        });
      }
    }
  });

  test('strays no farther than the tolerance from its curve', () => {
    for (const lobes of [2, 12, 60]) {
      const [c] = rosetteCurves({ ...spec, lobes, depth: 0.3 }, TOLERANCE);
      const mean = 2 / 1.3;
      for (let i = 0, j = c!.length - 2; i < c!.length; j = i, i += 2) {
        const [x, y] = [(c![i]! + c![j]!) / 2, (c![i + 1]! + c![j + 1]!) / 2];
        const r = mean * (1 + 0.3 * Math.cos(lobes * Math.atan2(y, x)));
        const slope = (mean * 0.3 * lobes) / r;
        expect(Math.abs(Math.hypot(x, y) - r)).toBeLessThanOrEqual(TOLERANCE * Math.hypot(1, slope));
      }
    }
  });
});
