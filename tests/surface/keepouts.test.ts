import { expect, test } from 'vitest';
import { bareKeepout, obstacleOf } from '../../src/surface/keepouts.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';

/** 10 mm long from z 20, 10 mm across. */
const surface = surfaceBetween('body', 20, 30, 5, 5);
const clip = (from: number, to: number, clearance = 0.5) =>
  ({ id: 'k', kind: 'clip', from, to, clearance, angle: 0, width: 3, shadow: 0, height: 2 }) as const;
const window = (from: number, to: number) => ({
  ...({ id: 'w', kind: 'window', clearance: 0.5 } as const),
  outline: [
    { z: from, angle: -20 },
    { z: from, angle: 20 },
    { z: to, angle: 0 },
  ],
});
const band = (from: number, to: number) =>
  ({ id: 'b', kind: 'band', from, to, clearance: 0.5, height: 1 }) as const;

test('a keep-out that ends farther from the surface than its clearance is none of its obstacles', () => {
  for (const of of [clip, window, band]) {
    expect(obstacleOf(of(5, 15), surface), 'below').toBeUndefined();
    expect(obstacleOf(of(31, 40), surface), 'above').toBeUndefined();
  }
  for (const of of [clip, window, band]) {
    expect(obstacleOf(of(15, 25), surface), 'across the edge').toBeDefined();
    expect(obstacleOf(of(30.2, 40), surface), 'within its clearance').toBeDefined();
  }
  // Below the edge the sides of the window run back along it.
  expect(bareKeepout(window(15, 25), surface)).toHaveLength(1);
  expect(bareKeepout(clip(5, 15), surface)).toEqual([]);
  expect(bareKeepout(clip(22, 25), surface)).toHaveLength(1);
});
