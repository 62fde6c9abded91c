import { geoConicEquidistantRaw } from 'd3-geo';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';

const rad = (deg: number) => (deg * Math.PI) / 180;

/**
 * The equidistant conic is a cone unrolled: with n = sin(half-angle) and a slant distance G - latitude from the apex
 * (R = 1), angle about the axis = longitude. Snyder, Map Projections: A Working Manual, USGS Professional Paper
 * 1395, equations 16-1 to 16-4. A cone narrowing upward, latitude growing with z.
 */
function coneFor(n: number, G: number, originLat: number) {
  const cos = Math.sqrt(1 - n * n);
  const p0 = G - originLat;
  const length = p0 / 2;
  const cone = surfaceBetween('map', 0, length * cos, p0 * n, (p0 - length) * n);
  return (lat: number, lon: number) => cone.toSheet((lat - originLat) * cos, (lon * 180) / Math.PI);
}

/** Snyder's numerical example (USGS PP 1395, appendix A, equidistant conic, sphere). */
test("Snyder's example: n = 0.6067854, x = 0.2952057, y = 0.2424021", () => {
  const [s1, s2] = [rad(29.5), rad(45.5)];
  const n = (Math.cos(s1) - Math.cos(s2)) / (s2 - s1);
  const G = Math.cos(s1) / n + s1;
  // n is 0.60678534 to more places: the last printed figure of the book is one too high.
  expect(Math.abs(n - 0.6067854)).toBeLessThan(1e-7);
  const [x, y] = coneFor(n, G, rad(23))(rad(35), rad(-75 + 96));
  expect(x.toFixed(7)).toBe('0.2952057');
  expect(y.toFixed(7)).toBe('0.2424021');
});

/** d3-geo as reference library. */
test('d3-geo geoConicEquidistantRaw agrees to 1e-12 on 1,000 points', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 5, max: 50, noNaN: true }),
      fc.double({ min: 3, max: 30, noNaN: true }),
      fc.double({ min: -179, max: 179, noNaN: true }),
      fc.double({ min: -20, max: 60, noNaN: true }),
      (lat1, apart, lon, lat) => {
        const [s1, s2] = [rad(lat1), rad(lat1 + apart)];
        const n = (Math.cos(s1) - Math.cos(s2)) / (s2 - s1);
        const G = Math.cos(s1) / n + s1;
        const raw = geoConicEquidistantRaw(s1, s2);
        const [x0, y0] = raw(0, 0);
        const [wx, wy] = raw(rad(lon), rad(lat));
        const [x, y] = coneFor(n, G, 0)(rad(lat), rad(lon));
        expect(Math.abs(x - (wx - x0))).toBeLessThan(1e-12);
        expect(Math.abs(y - (wy - y0))).toBeLessThan(1e-12);
      },
    ),
    { numRuns: 1000, seed: 35 },
  );
});
