import { expect, test } from 'vitest';
import { MOST_STEPS, shortTour } from '../../src/cutting/tour.js';

test('an order of very many lines is searched in parts, and every line is in it once', () => {
  const count = 9001;
  // Places of a spiral, so that neighbours in number are neighbours in place.
  const at = (p: number) => [Math.cos(p / 40) * p, Math.sin(p / 40) * p] as const;
  const tour = shortTour({
    count,
    eitherWay: true,
    heightOf: (p) => at(p)[1],
    distanceBetween: (p, q) => Math.hypot(at(p)[0] - at(q)[0], at(p)[1] - at(q)[1]),
  });
  expect(new Set(tour.order).size).toBe(count);
  expect(tour.steps).toBeLessThanOrEqual(1.01 * MOST_STEPS);
});
