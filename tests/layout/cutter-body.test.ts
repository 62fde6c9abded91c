import { describe, expect, test } from 'vitest';
import { cutter as cutterSchema } from '../../src/documents/schema/cutter.js';
import { cutWidth } from '../../src/layout/cut-width.js';
import { bodyObstacles } from '../../src/layout/cutter-body.js';
import { obstaclesOf } from '../../src/surface/keepouts.js';
import type { PartShape } from '../../src/surface/part-shape.js';
import { surfaceOf } from '../../src/surface/part-surfaces.js';

const SHARED = { kind: 'cutter', version: 1, name: 'test', feed: 100, plunge: 50, depth: 10, speed: 9000 };
const cone = (angle: number, body?: object) =>
  cutterSchema.parse({ ...SHARED, shape: 'cone', tip: 0.1, angle, ...(body ? { body } : {}) });
const flat = (diameter: number, body?: object) =>
  cutterSchema.parse({ ...SHARED, shape: 'flat', diameter, ...(body ? { body } : {}) });

/** A neck of radius 6 from 0 to 20 mm, and a shoulder of radius 12 from 21 mm on. */
const shouldered = (keepouts: PartShape['keepouts'] = []): PartShape => ({
  profile: [
    { z: 0, diameter: 12 },
    { z: 20, diameter: 12 },
    { z: 21, diameter: 24 },
    { z: 40, diameter: 24 },
  ],
  surfaces: [{ id: 'neck', from: 0, to: 20, clearance: 0.5 }],
  keepouts,
});

const straight = [
  { z: 0, diameter: 12 },
  { z: 20, diameter: 12 },
];

/** Rings that a cutter asks for, beside the clearances of the surface, as slants. */
function rings(part: PartShape, cutter: ReturnType<typeof cone>, depth = 0.1) {
  const surface = surfaceOf(part, part.surfaces[0]!.id)!;
  const known = obstaclesOf(part, part.surfaces[0]!, surface);
  const cut = { cutter, depth, way: 'trace', cutWidth: cutWidth(cutter, depth) } as const;
  return bodyObstacles(part, surface, cut, known);
}

describe('the whole cutter keeps clear', () => {
  test('of a shoulder: its flank is wider the higher that stands', () => {
    // At the shoulder's height of 6 mm over the neck and 0.1 mm of depth a cone of 40 degrees is 0.05 + 6.1 tan 20 = 2.270 mm
    // wide to each side (plane trigonometry); the cut itself 0.0864. Its corner stands 1 mm beyond the edge.
    const [ring, ...more] = rings(shouldered(), cone(40));
    expect(more).toEqual([]);
    const flank = 0.05 + 6.1 * Math.tan((20 * Math.PI) / 180);
    const half = 0.05 + 0.1 * Math.tan((20 * Math.PI) / 180);
    expect(ring).toMatchObject({ shape: 'ring', to: Number.POSITIVE_INFINITY });
    expect((ring as { from: number }).from).toBeCloseTo(20 - (flank - 1) + half, 2);
  });
  test('of a shoulder: its shank, and its holder', () => {
    // A flat end of 1 mm is clear of it; a shank of 8 mm from 3 mm up is not, nor a holder of 30 mm from 5 mm up.
    expect(rings(shouldered(), flat(1))).toEqual([]);
    const shank = rings(shouldered(), flat(1, [{ from: 3, diameter: 8 }]));
    expect((shank[0] as { from: number }).from).toBeCloseTo(20 + 2.9 / 6 - 4 + 0.5, 2);
    // The slope of the shoulder is met where it is as high as the step begins: 4.9 mm up, 4.9 / 6 mm beyond the edge.
    const holder = rings(shouldered(), flat(1, [{ from: 5, diameter: 30 }]));
    expect((holder[0] as { from: number }).from).toBeCloseTo(20 - (15 - 4.9 / 6) + 0.5, 1);
    expect(rings(shouldered(), flat(1, [{ from: 7, diameter: 30 }]))).toEqual([]);
  });
  test('of a band with a height, on both sides of it', () => {
    const band = { kind: 'band', id: 'b', from: 9, to: 11, clearance: 0.2, height: 2 } as const;
    const part = {
      ...shouldered([band]),
      profile: straight,
    };
    const [ring] = rings(part, cone(40));
    const more = (2.1 - 0.1) * Math.tan((20 * Math.PI) / 180);
    expect((ring as { from: number }).from).toBeCloseTo(9 - more, 2);
    expect((ring as { to: number }).to).toBeCloseTo(11 + more, 2);
  });
  test('of a clip with a height: 5 mm of it were shaved by the flank', () => {
    const clip = {
      kind: 'clip',
      id: 'c',
      from: 4,
      to: 18,
      angle: 0,
      width: 3,
      shadow: 0.2,
      clearance: 0.1,
      height: 5,
    } as const;
    const part = {
      ...shouldered([clip]),
      profile: straight,
    };
    const [patch] = rings(part, cone(40));
    const wider = 5 * Math.tan((20 * Math.PI) / 180);
    const xs = (patch as unknown as { polygons: Float64Array[] }).polygons.flatMap((ring) =>
      [...ring].filter((_, i) => i % 2 === 0),
    );
    expect(Math.max(...xs)).toBeCloseTo(1.5 + wider, 2);
    // The shank of a fine cone is all that reaches so high.
    const [shank] = rings(part, cone(40, [{ from: 4, diameter: 1 }]));
    const narrow = (shank as unknown as { polygons: Float64Array[] }).polygons.flatMap((ring) =>
      [...ring].filter((_, i) => i % 2 === 0),
    );
    expect(Math.max(...narrow)).toBeCloseTo(1.5 + 0.5 - cutWidth(cone(40), 0.1) / 2, 2);
  });
  test('of a wide band, all along its top', () => {
    const wide = { kind: 'band', id: 'b', from: 6, to: 16, clearance: 0.2, height: 5 } as const;
    const part = {
      ...shouldered([wide]),
      profile: straight,
    };
    const [ring] = rings(part, cone(60));
    const more = 5 * Math.tan((30 * Math.PI) / 180);
    expect((ring as { from: number }).from).toBeCloseTo(6 - more, 2);
    expect((ring as { to: number }).to).toBeCloseTo(16 + more, 2);
  });
  test('of a clip up a cone, which stands higher over a level cutter below it', () => {
    const profile = [
      { z: 0, diameter: 12 },
      { z: 100, diameter: 12 + 200 * Math.tan((20 * Math.PI) / 180) },
    ];
    const clip = {
      kind: 'clip',
      id: 'c',
      from: 50,
      to: 60,
      angle: 0,
      width: 3,
      shadow: 0,
      clearance: 0,
      height: 5,
    } as const;
    const part: PartShape = {
      profile,
      surfaces: [{ id: 'c', from: 0, to: 100, clearance: 0 }],
      keepouts: [clip],
    };
    const patch = rings(part, cone(60)).find(({ shape }) => shape === 'patch');
    const ys = (patch as unknown as { polygons: Float64Array[] }).polygons.flatMap((ring) =>
      [...ring].filter((_, i) => i % 2 === 1),
    );
    // Level, at x mm below the clip along the axis: height x tan 20 + 5 + depth, flank of 30 degrees to a side.
    const [rise, flank] = [Math.tan((20 * Math.PI) / 180), Math.tan((30 * Math.PI) / 180)];
    const plunge = 0.1 / Math.cos((20 * Math.PI) / 180);
    const x = (0.05 + flank * (5 + plunge)) / (1 - flank * rise);
    const edge = (50 - x) / Math.cos((20 * Math.PI) / 180) + cutWidth(cone(60), 0.1) / 2;
    expect(Math.min(...ys)).toBeLessThan(edge + 0.01);
    expect(Math.min(...ys)).toBeGreaterThan(edge - 0.5);
  });
  test('of the surface itself: a shank that begins in the metal, or that leans into a cone', () => {
    const all = { from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY };
    const plain = {
      ...shouldered(),
      profile: straight,
    };
    expect(rings(plain, flat(1, [{ from: 0.05, diameter: 3 }]))).toMatchObject([all]);
    expect(rings(plain, flat(1, [{ from: 0.2, diameter: 3 }]))).toEqual([]);
    const tapered = {
      ...plain,
      profile: [
        { z: 0, diameter: 12 },
        { z: 20, diameter: 12 + 40 * Math.tan(Math.PI / 18) },
      ],
    };
    expect(rings(tapered, flat(1, [{ from: 1, diameter: 16 }]))).toMatchObject([all]);
    expect(rings(tapered, flat(1, [{ from: 3, diameter: 16 }]))).toEqual([]);
  });
  test('of a clip only where it stands: what reaches past the edge is no ring', () => {
    const clip = {
      kind: 'clip',
      id: 'c',
      from: 4,
      to: 22,
      angle: 0,
      width: 3,
      shadow: 0.2,
      clearance: 0.1,
      height: 5,
    } as const;
    const part = {
      ...shouldered([clip]),
      profile: [
        { z: 0, diameter: 12 },
        { z: 24, diameter: 12 },
      ],
    };
    expect(rings(part, cone(40)).map(({ shape }) => shape)).toEqual(['patch']);
  });
  test('and asks for nothing where nothing stands proud', () => {
    const part = {
      ...shouldered(),
      profile: [
        { z: 0, diameter: 14 },
        { z: 20, diameter: 12 },
        { z: 30, diameter: 8 },
      ],
    };
    expect(rings(part, cone(90))).toEqual([]);
  });
});

// Against the part and the cutter as bodies in space, by brute force: rings of places on the part, asked for one by one.
test('a cutter at the limit meets nothing, and 0.02 mm nearer it does', () => {
  let looked = 0;
  for (let seed = 1; seed <= 40; seed++) {
    const dice = (k: number) => ((Math.imul(seed * 31 + k, 2654435761) >>> 8) % 10_000) / 10_000;
    const r = 4 + 4 * dice(1);
    const step = 0.5 + 5 * dice(2);
    const ramp = 0.02 + 2 * dice(3);
    const part: PartShape = {
      profile: [
        { z: 0, diameter: 2 * r },
        { z: 20, diameter: 2 * r },
        { z: 20 + ramp, diameter: 2 * (r + step) },
        { z: 40, diameter: 2 * (r + step) },
      ],
      surfaces: [{ id: 's', from: 0, to: 20, clearance: 0 }],
      keepouts: [],
    };
    const angle = 20 + 70 * dice(4);
    const depth = 0.05 + 0.2 * dice(5);
    const cutter = cone(
      angle,
      dice(6) < 0.5 ? [{ from: 1 + 2 * dice(7), diameter: 2 + 4 * dice(8) }] : undefined,
    );
    const [ring] = rings(part, cutter, depth);
    if (!ring) continue;
    looked++;
    const limit = (ring as { from: number }).from - cutWidth(cutter, depth) / 2;
    const wide = (h: number): number => {
      const [shank] = cutter.body ?? [];
      if (shank && h >= shank.from) return shank.diameter / 2;
      const flank = 0.05 + h * Math.tan((angle * Math.PI) / 360);
      return shank ? Math.min(flank, shank.diameter / 2) : flank;
    };
    const met = (z: number): boolean => {
      for (let n = 0; n <= 400; n++) {
        const t = n / 400;
        const at = n <= 200 ? 20 + 2 * t * ramp : 20 + ramp + (t - 0.5) * 8;
        const radius = n <= 200 ? r + 2 * t * step : r + step;
        for (let turn = -80; turn <= 80; turn += 2) {
          const b = (turn * Math.PI) / 180;
          const h = radius * Math.cos(b) - (r - depth);
          if (at > 20 && h > 0.001 && Math.hypot(at - z, radius * Math.sin(b)) < wide(h) - 0.001) return true;
        }
      }
      return false;
    };
    expect([seed, met(limit - 0.02), met(limit + 0.02)]).toEqual([seed, false, true]);
  }
  expect(looked).toBeGreaterThan(25);
});
