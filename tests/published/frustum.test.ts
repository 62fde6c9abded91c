import { expect, test } from 'vitest';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';

/** A cone's development, measured on the sheet alone: the radii of its two edges about the apex, and its sector. */
function sector(z0: number, z1: number, d0: number, d1: number) {
  const s = surfaceBetween('one', z0, z1, d0 / 2, d1 / 2);
  const quarter = (z: number) => {
    const [x, y] = s.toSheet(z, 0);
    const [x1, y1] = s.toSheet(z, 90);
    return { chord: Math.hypot(x1 - x, y1 - y), rise: Math.atan2(Math.abs(y1 - y), Math.abs(x1 - x)) };
  };
  // The chord of an arc makes half the arc's angle with the tangent at its start.
  const radius = (z: number) => {
    const { chord, rise } = quarter(z);
    return chord / (2 * Math.sin(rise));
  };
  return { low: radius(z0), high: radius(z1), sector: (8 * quarter(z0).rise * 180) / Math.PI };
}

/** "The Net of a Frustum", ceemrr.com Geometry2: diameters 5 and 8, height 4. Figures as printed there. */
test('frustum 5, 8, 4: inner radius 7.12, outer 11.39, sector 126.4 degrees, either way up', () => {
  for (const [d0, d1] of [
    [5, 8],
    [8, 5],
  ] as const) {
    const net = sector(0, 4, d0, d1);
    expect(Math.min(net.low, net.high).toFixed(2)).toBe('7.12');
    expect(Math.max(net.low, net.high).toFixed(2)).toBe('11.39');
    expect(net.sector.toFixed(1)).toBe('126.4');
  }
});

/**
 * Math Central (University of Regina), QQ.02.06, "phil1": height 250, diameters 550 and 290. Slant 281.78, radii
 * 314.29 and 596.07, sector 166.09 degrees (figures follow from the given sizes).
 */
test('frustum 550, 290, 250: slant 281.78, radii 314.29 and 596.07, sector 166.09 degrees', () => {
  const net = sector(0, 250, 550, 290);
  expect(net.high.toFixed(2)).toBe('314.29');
  expect(net.low.toFixed(2)).toBe('596.07');
  expect(net.sector.toFixed(2)).toBe('166.09');
  expect(surfaceBetween('one', 0, 250, 275, 145).slant(250).toFixed(2)).toBe('281.78');
});
