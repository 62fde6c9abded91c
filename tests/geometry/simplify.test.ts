import fc from 'fast-check';
import { expect, test } from 'vitest';
import { distanceToSegment, distanceToSegments, segmentsOf } from '../../src/geometry/segment.js';
import { simplify, simplifyIndices } from '../../src/geometry/simplify.js';
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

/** How often the distance of a point is asked for. */
function looksAt(line: Float64Array, tolerance: number) {
  let looks = 0;
  const at = (i: number) => [line[2 * i]!, line[2 * i + 1]!] as const;
  simplifyIndices(line.length / 2, tolerance, (i, from, to) => {
    looks++;
    return distanceToSegment(...at(i), ...at(from), ...at(to));
  });
  return looks;
}

test('a spiral of many points takes few looks at each', () => {
  // From outside in, so that the farthest point of every span is next to an end of it.
  for (const n of [2000, 20_000]) {
    const spiral = polyline(
      Array.from({ length: n }, (_, i) => {
        const turn = (i / 40) * 2 * Math.PI;
        return [(1 - i / n) * Math.cos(turn), (1 - i / n) * Math.sin(turn)];
      }),
    );
    const looks = looksAt(spiral, 0.0001);
    expect(looks).toBeLessThan((64 + Math.log2(n) + 1) * n);
  }
});
