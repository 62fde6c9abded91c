import { describe, expect, test } from 'vitest';
import { clear } from '../../src/cutting/clear.js';
import { groove } from '../../src/cutting/groove.js';
import { passes } from '../../src/cutting/passes.js';
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
    for (const how of [{ by: 'offset' }, { by: 'hatch', angle: 0 }] as const)
      for (const width of [1e-6, 1e-12, 5e-324])
        expect(codesOf(() => clear([ring(60)], { width, floor: width }, how))).toEqual([
          'cutting.too-many-levels',
        ]);
  });

  test('a groove whose floor would take millions of rings, or whose edge is very long', () => {
    expect(codesOf(() => groove([ring(60)], { tip: 0, angle: 1 }, 1e-9))).toEqual([
      'cutting.too-many-levels',
    ]);
    const large = ring(60).map((v) => 300 * v);
    expect(codesOf(() => groove([large], { tip: 0.1, angle: 40 }, 0.1))).toEqual(['cutting.edge-too-long']);
  });
});
