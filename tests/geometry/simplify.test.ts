import fc from 'fast-check';
import { expect, test } from 'vitest';
import { distanceToSegments, segmentsOf } from '../../src/geometry/segment.js';
import { simplify } from '../../src/geometry/simplify.js';
import { gridPoint, point, polyline } from './arbitraries.js';

const lines = fc.array(fc.oneof(gridPoint, point), { minLength: 3, maxLength: 60 }).map(polyline);
const tolerances = fc.constantFrom(0, 0.01, 0.5, 3, 300);

test('leaves out no point that lies farther from the line than the tolerance, and keeps the ends', () => {
  fc.assert(
    fc.property(lines, fc.boolean(), tolerances, (line, closed, tolerance) => {
      const kept = simplify(line, closed, tolerance);
      const segments = segmentsOf({ points: kept, closed });
      for (let i = 0; i < line.length; i += 2)
        expect(distanceToSegments(line[i]!, line[i + 1]!, segments)).toBeLessThanOrEqual(tolerance);
      expect([...kept.slice(0, 2)]).toEqual([...line.slice(0, 2)]);
      if (!closed) expect([...kept.slice(-2)]).toEqual([...line.slice(-2)]);
    }),
    { numRuns: 500, seed: 11 },
  );
});

test('keeps the corners of a square drawn with many points, and no more', () => {
  const square: [number, number][] = [];
  for (let k = 0; k < 10; k++) square.push([k, 0]);
  for (let k = 0; k < 10; k++) square.push([10, k]);
  for (let k = 0; k < 10; k++) square.push([10 - k, 10]);
  for (let k = 0; k < 10; k++) square.push([0, 10 - k]);
  expect([...simplify(polyline(square), true, 0.001)]).toEqual([0, 0, 10, 0, 10, 10, 0, 10]);
});

test('does not let a closed line collapse', () => {
  const sliver = polyline([
    [0, 0],
    [5, 0.001],
    [10, 0],
    [5, -0.001],
  ]);
  expect(simplify(sliver, true, 1)).toBe(sliver);
});
