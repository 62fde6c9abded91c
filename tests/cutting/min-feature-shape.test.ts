import { Clipper } from 'clipper2-ts';
import { describe, expect, test, vi } from 'vitest';
import { coarsen } from '../../src/cutting/min-feature-shape.js';
import { distanceToSegments, segmentsOf } from '../../src/geometry/segment.js';

const N = 5000;
/** A circle of 40 mm, or half of it and the straight line across. */
const ring = Float64Array.from({ length: 2 * N }, (_, i) => {
  const turn = ((i >> 1) / N) * 2 * Math.PI;
  return i % 2 === 0 ? 20 * Math.cos(turn) : Math.max(0, 20 * Math.sin(turn));
});

describe('the points of a long line are left out', () => {
  test('in runs, since each is left out after a look back over those left out before it', () => {
    const thin = vi.spyOn(Clipper, 'simplifyPathD');
    coarsen([{ points: ring, closed: false }]);
    const lengths = thin.mock.calls.map(([points]) => points.length);
    thin.mockRestore();
    expect(Math.max(...lengths)).toBeLessThanOrEqual(1001);
    expect(lengths.reduce((a, b) => a + b)).toBeLessThan(1.01 * N);
  });

  test.each([true, false])('without moving the line; closed: %s', (closed) => {
    const [coarse] = coarsen([{ points: ring, closed }]);
    const segments = segmentsOf({ points: coarse!.points, closed });
    expect(segments.length).toBeLessThan(N / 10);
    const strays = Array.from({ length: N }, (_, i) =>
      distanceToSegments(ring[2 * i]!, ring[2 * i + 1]!, segments),
    );
    expect(Math.max(...strays)).toBeLessThan(0.002);
    expect(coarse!.closed).toBe(closed);
    expect([...coarse!.points.slice(0, 2)]).toEqual([20, 0]);
  });
});
