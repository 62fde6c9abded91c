import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect } from 'vitest';
import type { LetteredMark } from '../../src/documents/schema/design.js';
import type { Part } from '../../src/documents/schema/part.js';
import { flatten } from '../../src/geometry/flatten.js';
import { type FitRequest, fitMark } from '../../src/layout/fit.js';
import { centreGlyphs, placeGlyph, placeOnSheet } from '../../src/layout/glyph-placement.js';
import { zoneOf } from '../../src/layout/zone.js';
import { shapeLine } from '../../src/lettering/shaped-line.js';
import { strokeFont } from '../../src/lettering/stroke-font.js';
import { obstaclesOf } from '../../src/surface/keepouts.js';
import { surfaceOf } from '../../src/surface/part-surfaces.js';
import type { Place } from '../../src/surface/surface.js';
import { FLATTEN_TOLERANCE_MM } from '../../src/units.js';
import { type Cone, flat, overlap, zOf } from './independent.js';

const read = strokeFont('burin-plain', readFileSync('fonts/burin-plain.svg', 'utf8'));
if (!read.ok) throw new Error('no font');
const font = read.font;

const some = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((v) => Number(v.toFixed(3)));

interface Case {
  readonly part: Part;
  readonly mark: LetteredMark;
  readonly labels: readonly string[];
  readonly cutWidth: number;
}

const cases: fc.Arbitrary<Case> = fc
  .record({
    length: some(25, 60),
    d0: some(9, 14),
    taper: fc.oneof(fc.constant(0), some(-0.25, 0.25)),
    clipAngle: some(-720, 720),
    clipFrom: some(5, 15),
    clipWidth: some(2, 6),
    shadow: some(0, 0.8),
    clearance: fc.oneof(fc.constant(0), some(0, 1)),
    bandAt: some(0, 3),
    windowZ: some(4, 20),
    windowAngle: some(-400, 400),
    windowSpan: some(20, 100),
    windowHeight: some(2, 8),
    z: some(0.2, 0.9),
    angle: some(-360, 720),
    free: fc.constantFrom('fixed', 'fixed', 'along', 'round', 'both'),
    baseline: fc.constantFrom('ring', 'lengthwise'),
    reading: fc.constantFrom('up', 'down'),
    labels: fc.array(fc.stringMatching(/^[0-9IVX]{1,3}\/[0-9IVX]{1,2}$/), { minLength: 1, maxLength: 4 }),
    cutWidth: some(0.05, 0.4),
  })
  .map((c) => {
    const part = {
      kind: 'part',
      version: 1,
      name: 'random',
      material: 'silver',
      wall: 0.5,
      profile: [
        { z: 0, diameter: c.d0 },
        { z: c.length, diameter: Number((c.d0 * (1 + c.taper)).toFixed(4)) },
      ],
      surfaces: [{ id: 's', from: 0, to: c.length, clearance: 0 }],
      keepouts: [
        { kind: 'band', id: 'band', from: c.bandAt, to: c.bandAt + 1, clearance: c.clearance },
        {
          kind: 'clip',
          id: 'clip',
          from: c.clipFrom,
          to: c.length + 5,
          angle: c.clipAngle,
          width: c.clipWidth,
          shadow: c.shadow,
          clearance: c.clearance,
        },
        {
          kind: 'window',
          id: 'window',
          clearance: c.clearance,
          outline: [
            { z: c.windowZ, angle: c.windowAngle },
            { z: c.windowZ, angle: c.windowAngle + c.windowSpan },
            { z: c.windowZ + c.windowHeight, angle: c.windowAngle + c.windowSpan * 0.8 },
            { z: c.windowZ + c.windowHeight, angle: c.windowAngle + c.windowSpan * 0.2 },
          ],
        },
      ],
    } as Part;
    const z = c.length * c.z;
    const place =
      c.free === 'along'
        ? { z: [c.length * 0.1, c.length * 0.95], angle: c.angle }
        : c.free === 'round'
          ? { z, angle: 'any' }
          : c.free === 'both'
            ? { z: [c.length * 0.1, c.length * 0.95], angle: 'any' }
            : { z, angle: c.angle };
    const mark = {
      kind: 'number',
      id: 'n',
      surface: 's',
      baseline: c.baseline,
      reading: c.reading,
      place,
      font: 'burin-plain',
      // A mark free both ways takes seconds at sizes no bench cuts.
      size: { min: 0.3, max: c.free === 'both' ? 4 : 12 },
      spacing: 0,
      figures: 'tabular',
      cutter: 'x',
      depth: 0.1,
    } as LetteredMark;
    return { part, mark, labels: [...new Set(c.labels)], cutWidth: c.cutWidth };
  });

function requestOf({ part, mark, labels, cutWidth }: Case): FitRequest {
  const surface = surfaceOf(part, 's')!;
  return {
    surface,
    obstacles: obstaclesOf(part, part.surfaces[0]!, surface),
    mark,
    zone: zoneOf(mark, part, surface),
    font,
    lines: labels.map((label) => ({ label, line: shapeLine(font, label, 'tabular') })),
    cutWidth,
  };
}

/** Worst overlap of any label with any keep-out, mm2, and how far any cut passes the edges or bands, mm. */
function judged(one: Case, request: FitRequest, size: number, at: Place): { area: number; past: number } {
  const { part, mark, cutWidth } = one;
  const [low, high] = part.profile as [{ z: number; diameter: number }, { z: number; diameter: number }];
  const cone: Cone = { z0: low.z, z1: high.z, r0: low.diameter / 2, r1: high.diameter / 2 };
  const slope = Math.hypot(cone.z1 - cone.z0, cone.r1 - cone.r0) / (cone.z1 - cone.z0);
  let area = 0;
  let past = Number.NEGATIVE_INFINITY;
  for (const { line } of request.lines) {
    for (const glyph of centreGlyphs(line)) {
      const placed = placeGlyph(request.surface, glyph, size, mark, at);
      for (const path of flatten(glyph.glyph.path, size, FLATTEN_TOLERANCE_MM)) {
        const points = placeOnSheet(path.points, placed.rotation, placed.x, placed.y);
        for (const [x, y] of sampled(points, path.closed)) {
          const z = zOf(cone, x, y);
          past = Math.max(past, (cone.z0 - z) * slope + cutWidth / 2, (z - cone.z1) * slope + cutWidth / 2);
          for (const k of part.keepouts) {
            if (k.kind !== 'band') continue;
            const inside = Math.min((z - k.from) * slope, (k.to - z) * slope) + k.clearance + cutWidth / 2;
            past = Math.max(past, inside);
          }
        }
        for (const k of part.keepouts) {
          if (k.kind === 'band' || k.kind === 'thread') continue;
          for (const outline of outlines(k, cone, placed.turn))
            area += overlap(points, path.closed, cutWidth, outline, k.clearance);
        }
      }
    }
  }
  return { area, past };
}

/** Points along a line, sixteen to a segment. */
function* sampled(points: Float64Array, closed: boolean): Iterable<readonly [number, number]> {
  const n = points.length;
  for (let i = closed ? 0 : 2; i < n; i += 2) {
    const h = (i + n - 2) % n;
    for (let k = 0; k <= 16; k++) {
      const u = k / 16;
      yield [
        points[h]! + u * (points[i]! - points[h]!),
        points[h + 1]! + u * (points[i + 1]! - points[h + 1]!),
      ];
    }
  }
}

/** A clip's or window's outline on the sheet whose y axis is at `turn`, at each lap that could reach. */
function outlines(
  k: Extract<Part['keepouts'][number], { kind: 'clip' | 'window' }>,
  cone: Cone,
  turn: number,
) {
  const middle = k.kind === 'clip' ? k.angle : (k.outline[0]!.angle + k.outline[1]!.angle) / 2;
  const near = ((((middle - turn) % 360) + 540) % 360) - 180;
  return [0, -360, 360].map((lap) => {
    const away = near + lap;
    if (k.kind === 'clip') return clipOutline(k, cone, away);
    const points: [number, number][] = [];
    k.outline.forEach((a, i) => {
      const b = k.outline[(i + 1) % k.outline.length]!;
      for (let t = 0; t < 40; t++) {
        const u = t / 40;
        const z = Math.min(cone.z1, Math.max(cone.z0, a.z + u * (b.z - a.z)));
        points.push(flat(cone, z, away + a.angle + u * (b.angle - a.angle) - middle));
      }
    });
    return points;
  });
}

function clipOutline(
  k: { from: number; to: number; width: number; shadow: number },
  cone: Cone,
  away: number,
) {
  const slope = Math.hypot(cone.z1 - cone.z0, cone.r1 - cone.r0) / (cone.z1 - cone.z0);
  const half = k.width / 2 + k.shadow;
  const y0 = (Math.max(k.from - k.shadow, cone.z0) - cone.z0) * slope;
  const y1 = (Math.min(k.to + k.shadow, cone.z1) - cone.z0) * slope;
  const corners: [number, number][] = [
    [-half, y0],
    [half, y0],
    [half, y1],
    [-half, y1],
  ];
  // Straight on the clip's own sheet; carried over by turning about the apex, or by a shift.
  return corners.map(([x, y]) => turned(cone, x, y, away));
}

function turned(c: Cone, x: number, y: number, deg: number): [number, number] {
  const a = (deg * Math.PI) / 180;
  if (Math.abs(c.r0 - c.r1) < 1e-9) return [x + c.r0 * a, y];
  const length = Math.hypot(c.z1 - c.z0, c.r1 - c.r0);
  const p0 = (c.r0 * length) / Math.abs(c.r1 - c.r0);
  const apex = c.r1 < c.r0 ? p0 : -p0;
  const f = ((c.r1 < c.r0 ? 1 : -1) * a * Math.abs(c.r1 - c.r0)) / length;
  const v = y - apex;
  return [x * Math.cos(f) - v * Math.sin(f), apex + x * Math.sin(f) + v * Math.cos(f)];
}

/** A miss by less than the margins geometry is decided by is no overlap that a second opinion could find. */
const MARGIN_MM = 0.001;

/** Random parts: fitted marks overlap keep-outs by zero area, and half a per cent larger fails. */
export function fitsOnRandomParts(runs: number, seed: number): void {
  const seen = { fits: 0, misfits: 0, byKeepout: 0 };
  fc.assert(
    fc.property(cases, (one) => {
      const request = requestOf(one);
      const found = fitMark(request);
      if (!found.ok) {
        seen.misfits++;
        const at = judged(one, request, found.smallest.size, found.smallest.at);
        const { obstacle, glyph, clearance } = found.smallest.limit;
        if (obstacle.phrase === 'layout.zone' || glyph === '' || clearance > -MARGIN_MM) return;
        expect(at.area > 0 || at.past > -0.001).toBe(true);
        return;
      }
      seen.fits++;
      const fits = judged(one, request, found.size, found.at);
      expect(fits.area).toBe(0);
      expect(fits.past).toBeLessThanOrEqual(0);
      // What the range stopped short of the surface says nothing about the surface.
      if (found.atLargest) return;
      expect(found.larger.limit.clearance).toBeLessThan(0);
      const { obstacle, glyph, clearance } = found.larger.limit;
      if (obstacle.phrase === 'layout.zone' || glyph === '' || clearance > -MARGIN_MM) return;
      seen.byKeepout++;
      const larger = judged(one, request, found.size * 1.005, found.larger.at);
      expect(larger.area > 0 || larger.past > 0).toBe(true);
    }),
    { numRuns: runs, seed, endOnFailure: true },
  );
  // The cases must be of every kind, or the test says nothing.
  expect(seen.fits).toBeGreaterThan(0.4 * runs);
  expect(seen.byKeepout).toBeGreaterThan(0.2 * runs);
  expect(seen.misfits).toBeGreaterThan(0.01 * runs);
}
