import { describe, expect, test } from 'vitest';
import { clear } from '../../src/cutting/clear.js';
import { CutWork, mostSteps } from '../../src/cutting/cut-work.js';
import { groove } from '../../src/cutting/groove.js';
import { insetLevels } from '../../src/cutting/levels.js';
import { orderLines } from '../../src/cutting/order.js';
import { passes } from '../../src/cutting/pass-depths.js';
import type { Cutter } from '../../src/documents/schema/cutter.js';
import type { Material } from '../../src/documents/schema/material.js';
import { Refusal } from '../../src/problem.js';

const codesOf = (work: () => unknown): string[] => {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error.problems.map((p) => p.code);
    throw error;
  }
  return [];
};

/** A ring of so many points, radius 10 mm. */
const ring = (points: number): Float64Array =>
  Float64Array.from({ length: 2 * points }, (_, i) => {
    const t = (2 * Math.PI * (i >> 1)) / points;
    return i % 2 ? 10 * Math.sin(t) : 10 * Math.cos(t);
  });

describe('work is bounded before it is begun', () => {
  const cutter = { name: 'point' } as Cutter;
  const material = (pass: number) => ({ name: 'resin', pass }) as Material;

  test('passes', () => {
    expect(passes(0.3, cutter, material(0.1))).toHaveLength(3);
    expect(passes(1, cutter, material(0.001))).toHaveLength(1000);
    expect(codesOf(() => passes(1, cutter, material(0.0009)))).toEqual(['cutting.too-many-passes']);
    expect(codesOf(() => passes(0.1, cutter, material(1e-10)))).toEqual(['cutting.too-many-passes']);
    expect(codesOf(() => passes(0.1, { ...cutter, pass: 5e-324 }, material(1)))).toEqual([
      'cutting.too-many-passes',
    ]);
  });

  test('a tip so fine that an area would take millions of rings or lines', () => {
    for (const width of [1e-6, 1e-12, 5e-324]) {
      const cut = { width, floor: width };
      expect(codesOf(() => clear([ring(60)], cut))).toEqual(['cutting.too-many-levels']);
      expect(codesOf(() => clear([ring(60)], cut, { by: 'hatch', angle: 0 }))).toEqual([
        'cutting.too-much-hatch',
      ]);
    }
  });

  test('a groove whose floor would take millions of rings, or whose edge is very long', () => {
    expect(codesOf(() => groove([ring(60)], { tip: 0, angle: 1 }, 1e-9))).toEqual([
      'cutting.too-many-floor-levels',
    ]);
    // Either change that the message proposes for the cut is one that helps.
    const sharp = { tip: 0, angle: 40 };
    const small = [ring(12).map((v) => v / 10)];
    expect(codesOf(() => groove(small, sharp, 0.01))).toEqual(['cutting.too-many-floor-levels']);
    expect(codesOf(() => groove(small, sharp, 0.5))).toEqual([]);
    expect(codesOf(() => groove(small, { ...sharp, tip: 0.1 }, 0.01))).toEqual([]);
    const large = ring(60).map((v) => 300 * v);
    expect(codesOf(() => groove([large], { tip: 0.1, angle: 40 }, 0.1))).toEqual(['cutting.edge-too-long']);
  });

  test('many areas that are each within their bounds, together', () => {
    const cut = { width: 0.02, floor: 0.01 };
    const one = (work: CutWork) => clear([ring(60).map((v) => v / 10)], cut, { by: 'offset' }, work);
    const alone = new CutWork();
    expect(codesOf(() => one(alone))).toEqual([]);
    const few = new CutWork(1, 5.5 * alone.steps);
    expect(codesOf(() => Array.from({ length: 5 }, () => one(few)))).toEqual([]);
    expect(codesOf(() => one(few))).toEqual(['cutting.too-much-cutting']);
    // More pieces may take more, each so much, up to what no edition may take.
    expect(mostSteps(90)).toBeGreaterThan(9 * mostSteps(1));
    expect(mostSteps(99_999)).toBe(mostSteps(9_999));
    // Hatching, grooving and ordering count as well.
    const counted = (action: (work: CutWork) => unknown) => {
      const own = new CutWork();
      action(own);
      return own.steps;
    };
    const area = [ring(60).map((v) => v / 10)];
    expect(counted((own) => clear(area, cut, { by: 'hatch', angle: 10 }, own))).toBeGreaterThan(1e5);
    expect(counted((own) => groove(area, { tip: 0.1, angle: 40 }, 0.1, own))).toBeGreaterThan(1e5);
    const lines = Array.from({ length: 100 }, (_, i) => ({
      points: Float64Array.of(i % 7, i, i % 5, i + 0.3),
      closed: false,
    }));
    expect(counted((own) => orderLines(lines, false, own))).toBeGreaterThan(1e4);
  });

  test('an area with so many corners abreast that one inset would take minutes', () => {
    const star = Float64Array.from({ length: 2 * 24_000 }, (_, i) => {
      const t = (2 * Math.PI * (i >> 1)) / 24_000;
      const r = (i >> 1) % 2 ? 2.7 : 4.5;
      return i % 2 ? r * Math.sin(t) : r * Math.cos(t);
    });
    const cut = { width: 0.3, floor: 0.1 };
    expect(codesOf(() => clear([star], cut))).toEqual(['cutting.too-many-edges']);
    expect(codesOf(() => clear([star], cut, { by: 'hatch', angle: 30 }))).toEqual(['cutting.too-many-edges']);
    expect(codesOf(() => groove([star], { tip: 0.1, angle: 40 }, 0.1))).toEqual(['cutting.too-many-edges']);
  });

  test('a drawing of thousands of points is cleared and grooved by few points more than its rings need', () => {
    // A lobed ring: insets taken from it directly cross themselves once for each pair of its details.
    const lobed = Float64Array.from({ length: 2 * 6790 }, (_, i) => {
      const t = (2 * Math.PI * (i >> 1)) / 6790;
      const r = 3 * (1 + 0.05 * Math.cos(40 * t));
      return i % 2 ? r * Math.sin(t) : r * Math.cos(t);
    });
    const points = (lines: readonly { readonly points: Float64Array }[]) =>
      lines.reduce((sum, line) => sum + line.points.length / 2, 0);
    const levels = insetLevels([lobed], 0.14, 0.036);
    expect(levels).toHaveLength(76);
    expect(points(levels.flat().map((ring) => ({ points: ring })))).toBeLessThan(40_000);
    expect(points(clear([lobed], { width: 0.278, floor: 0.06 }))).toBeLessThan(60_000);
  });
});
