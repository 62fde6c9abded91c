import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { area } from '../../src/geometry/polygons.js';
import { surfaceBetween } from '../../src/surface/part-surfaces.js';
import type { Surface } from '../../src/surface/surface.js';
import { nearDeg } from '../../src/units.js';

const some = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Cylinders, both tapers, from a hair to steep. */
const surfaces = fc
  .tuple(
    some(-20, 20),
    some(1, 80),
    some(2, 12),
    fc.oneof(fc.constant(0), some(-0.9, 3), some(-1e-6, 1e-6), some(-1e-9, 1e-9)),
  )
  .map(([z0, length, r0, change]) => surfaceBetween('s', z0, z0 + length, r0, r0 * (1 + change)));

const inSpace = (s: Surface, z: number, angle: number) => {
  const a = (angle * Math.PI) / 180;
  return [s.radius(z) * Math.cos(a), s.radius(z) * Math.sin(a), z] as const;
};
const apart = (p: readonly number[], q: readonly number[]) => Math.hypot(...p.map((v, i) => v - q[i]!));

describe('the sheet and the surface', () => {
  test('there and back: within 1e-9 mm, angles far outside one turn', () => {
    fc.assert(
      fc.property(surfaces, some(0, 1), some(-3600, 3600), (s, t, angle) => {
        const z = s.z0 + t * (s.z1 - s.z0);
        const back = s.toSurface(...s.toSheet(z, angle));
        expect(back.angle).toBeGreaterThanOrEqual(0);
        expect(back.angle).toBeLessThan(360);
        const dz = back.z - z;
        const arc = (nearDeg(back.angle - angle) * Math.PI * s.radius(z)) / 180;
        expect(Math.hypot(dz, arc)).toBeLessThan(1e-9);
      }),
      { numRuns: 3000, seed: 1 },
    );
  });

  test('frames: the origin is z0 at angle 0; x grows with the angle, y with z; angle 0 is the y axis', () => {
    fc.assert(
      fc.property(surfaces, some(0.05, 1), some(0.1, 20), (s, t, angle) => {
        expect(apart(s.toSheet(s.z0, 0), [0, 0])).toBeLessThan(1e-12);
        const z = s.z0 + t * (s.z1 - s.z0);
        const [x, y] = s.toSheet(z, 0);
        expect(Math.abs(x)).toBeLessThan(1e-12);
        expect(Math.abs(y - s.slant(z))).toBeLessThan(1e-9);
        expect(y).toBeGreaterThan(0);
        expect(s.toSheet(z, angle)[0]).toBeGreaterThan(0);
        expect(s.toSheet(z, -angle)[0]).toBeLessThan(0);
      }),
      { seed: 2 },
    );
  });

  test('cylinder sheet: x = r * angle(rad), y = z - z0, unwrapped', () => {
    const s = surfaceBetween('c', 3, 20, 5, 5);
    const [x, y] = s.toSheet(10, 540);
    expect(x).toBeCloseTo(5 * 3 * Math.PI, 12);
    expect(y).toBeCloseTo(7, 12);
  });

  test('arc lengths of ring and generator are kept to 1e-9 relative', () => {
    fc.assert(
      fc.property(surfaces, some(0, 1), some(1, 170), (s, t, angle) => {
        const z = s.z0 + t * (s.z1 - s.z0);
        // Chords of a smooth arc: by Richardson, (4 L(2n) - L(n)) / 3 leaves only the fourth order.
        const along = (n: number) => {
          let sum = 0;
          for (let k = 0; k < n; k++)
            sum += apart(s.toSheet(z, (angle * k) / n), s.toSheet(z, (angle * (k + 1)) / n));
          return sum;
        };
        const ring = (4 * along(800) - along(400)) / 3;
        const want = (angle * Math.PI * s.radius(z)) / 180;
        if (angle < s.sheetReach) expect(Math.abs(ring / want - 1)).toBeLessThan(1e-9);
        const generator = apart(s.toSheet(s.z0, angle), s.toSheet(s.z1, angle));
        const slant = apart(inSpace(s, s.z0, angle), inSpace(s, s.z1, angle));
        expect(Math.abs(generator / slant - 1)).toBeLessThan(1e-9);
      }),
      { numRuns: 200, seed: 3 },
    );
  });

  test('area is kept: a frustum has pi (r0 + r1) times its slant (Euclid; any handbook)', () => {
    fc.assert(
      fc.property(surfaces, (s) => {
        const outline = (n: number) => {
          const p: number[] = [];
          for (let k = 0; k <= n; k++) p.push(...s.toSheet(s.z0, (90 * k) / n));
          for (let k = n; k >= 0; k--) p.push(...s.toSheet(s.z1, (90 * k) / n));
          return area([Float64Array.from(p)]);
        };
        const quarter = (4 * outline(2000) - outline(1000)) / 3;
        const want = (Math.PI * (s.radius(s.z0) + s.radius(s.z1)) * s.slant(s.z1)) / 4;
        expect(Math.abs(quarter / want - 1)).toBeLessThan(1e-9);
      }),
      { numRuns: 100, seed: 4 },
    );
  });

  test('a straight sheet line is the shortest path on the surface: every bend of it is longer', () => {
    fc.assert(
      fc.property(
        surfaces,
        some(0.1, 0.9),
        some(0.1, 0.9),
        some(5, 100),
        some(-0.2, 0.2),
        (s, t0, t1, turn, bend) => {
          const z = (t: number) => s.z0 + t * (s.z1 - s.z0);
          const a = s.toSheet(z(t0), 0);
          const b = s.toSheet(z(t1), Math.min(turn, s.sheetReach / 3));
          const straight = apart(a, b);
          // Measured in space, along points taken from the sheet: straight, and bowed to one side.
          const inSpaceLength = (bow: number) => {
            const n = 2000;
            let sum = 0;
            let last: readonly number[] | undefined;
            for (let k = 0; k <= n; k++) {
              const u = k / n;
              const side = bow * 4 * u * (1 - u);
              const x = a[0] + u * (b[0] - a[0]) - side * (b[1] - a[1]);
              const y = a[1] + u * (b[1] - a[1]) + side * (b[0] - a[0]);
              const at = s.toSurface(x, y);
              const point = inSpace(s, at.z, at.angle);
              if (last) sum += apart(last, point);
              last = point;
            }
            return sum;
          };
          const along = inSpaceLength(0);
          expect(Math.abs(along / straight - 1)).toBeLessThan(1e-5);
          if (Math.abs(bend) > 0.02) expect(inSpaceLength(bend)).toBeGreaterThan(along);
        },
      ),
      { numRuns: 60, seed: 5 },
    );
  });

  test('turning the sheet is turning the part', () => {
    fc.assert(
      fc.property(surfaces, some(0, 1), some(-80, 80), some(-80, 80), (s, t, angle, by) => {
        if (Math.abs(angle + by) >= s.sheetReach || Math.abs(angle) >= s.sheetReach) return;
        const z = s.z0 + t * (s.z1 - s.z0);
        const moved = s.rotate(...s.toSheet(z, angle), by);
        expect(apart(moved, s.toSheet(z, angle + by))).toBeLessThan(1e-8);
      }),
      { seed: 6 },
    );
  });
});
