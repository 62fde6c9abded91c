import { expect, test } from 'vitest';
import { offsetSteps, outlineSteps, sweepSteps } from '../../src/geometry/sweep-steps.js';

/** A star of so many spikes, 9 mm across. */
const star = (spikes: number): Float64Array =>
  Float64Array.from({ length: 4 * spikes }, (_, i) => {
    const [k, r] = [i >> 1, (i >> 1) % 2 ? 2 : 4.5];
    const angle = (Math.PI * k) / spikes;
    return i % 2 ? r * Math.sin(angle) : r * Math.cos(angle);
  });

test('edges abreast are counted at each height', () => {
  const square = Float64Array.from([0, 0, 1, 0, 1, 1, 0, 1]);
  // 4 points of 20 steps, and 2 heights with 2 edges at each.
  expect(sweepSteps([square])).toBe(84);
  expect(sweepSteps([])).toBe(0);
  expect(sweepSteps([star(2000)]) / sweepSteps([star(200)])).toBeGreaterThan(50);
});

test('an offset costs more the farther it goes, and where corners are cut short', () => {
  expect(offsetSteps([], 1)).toBe(0);
  for (const by of [0.05, -0.05]) {
    expect(offsetSteps([star(200)], by)).toBeGreaterThan(2 * sweepSteps([star(200)]));
    expect(offsetSteps([star(200)], 4 * by)).toBeGreaterThan(offsetSteps([star(200)], by));
  }
  // Every corner of a square is cut short when it is drawn in, none when it grows.
  const square = Float64Array.from([0, 0, 1, 0, 1, 1, 0, 1]);
  expect(offsetSteps([square], -0.1)).toBeGreaterThan(offsetSteps([square], 0.1));
});

test('sweeping over a line counts both its sides and the rounds at its corners', () => {
  expect(outlineSteps([], 0.002)).toBe(0);
  const line = { points: star(2000), closed: true };
  // A dozen points at each corner that turns back, held against twice the edges.
  expect(outlineSteps([line], 0.002)).toBeGreaterThan(25 * sweepSteps([line.points]));
  expect(outlineSteps([line], 0.02)).toBeGreaterThan(1.5 * outlineSteps([line], 0.002));
  expect(outlineSteps([{ ...line, closed: false }], 0.002)).toBeGreaterThan(25 * sweepSteps([line.points]));
});
