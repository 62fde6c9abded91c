import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { groove } from '../../src/cutting/groove.js';
import { flatten } from '../../src/geometry/flatten.js';
import type { FontResult } from '../../src/lettering/font.js';
import { outlineFont } from '../../src/lettering/outline-font.js';
import { lineOf } from '../words-of.js';
import { bounds, counted, gap, overcut, type Ring, room, type Stretch, stretches } from './swept.js';

/** Three serif faces as they come in their packages; the fonts are the outside world here, burin draws none of them. */
const FONTS = {
  'EB Garamond': '@fontsource/eb-garamond/files/eb-garamond-latin-500-normal.woff',
  'Cormorant Garamond': '@fontsource/cormorant-garamond/files/cormorant-garamond-latin-600-normal.woff',
  'EB Garamond italic': '@fontsource/eb-garamond/files/eb-garamond-latin-400-italic.woff',
} as const;
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';
const SIZE_MM = 3;

function opened(file: string): Extract<FontResult, { ok: true }>['font'] {
  const read = outlineFont('under-test', readFileSync(createRequire(import.meta.url).resolve(file)));
  if (!read.ok) throw new Error(lineOf(read.problem));
  return read.font;
}

/** Radius of a cone's cut at a depth, mm (plane trigonometry). */
const radiusAt = ({ tip, angle, depth }: { tip: number; angle: number; depth: number }): number =>
  tip / 2 + depth * Math.tan((angle * Math.PI) / 360);

describe.each(Object.entries(FONTS))('grooves in %s', (_name, file) => {
  const font = opened(file);
  const letter = (name: string, size = SIZE_MM): Ring[] =>
    flatten(font.glyph(name, 'proportional')!.path, size, 0.0008).map((p) => p.points);

  it.each([
    { what: 'deep enough for every stroke', tip: 0.05, angle: 50, depth: 0.6 },
    { what: 'with a flat floor', tip: 0.05, angle: 60, depth: 0.15 },
  ])('fill the letter and nothing else, $what', { timeout: 400_000 }, ({ what: _, ...cutter }) => {
    for (const name of LETTERS) {
      const rings = letter(name);
      const lines = groove(rings, cutter, cutter.depth);
      const cut = stretches(lines, cutter);
      const areas = counted(rings, cut, 0.01);
      expect(areas.cut / areas.letter, `${name}: part of it that is cut`).toBeGreaterThan(0.99);
      expect(overcut(rings, cut, 0.01), `${name}: cut outside it, mm`).toBeLessThan(0.01);
      for (const { depths } of lines)
        for (const d of depths!) expect(d >= 0 && d <= cutter.depth, `${name}: depth ${d}`).toBe(true);
    }
  });

  // With a tip, a corner of angle a is reached only to t / 2 (1 / sin(a / 2) - 1); so the tip is a point here.
  it('run into every corner', { timeout: 300_000 }, () => {
    const cutter = { tip: 0, angle: 50 };
    let seen = 0;
    for (const name of LETTERS) {
      const rings = letter(name);
      const cut = stretches(groove(rings, cutter, 0.6), cutter);
      for (const [x, y] of corners(rings)) {
        seen++;
        expect(toCut(cut, x, y), `${name} at ${x.toFixed(3)}, ${y.toFixed(3)}`).toBeLessThan(0.03);
      }
    }
    // EB Garamond is drawn with rounded corners and has few.
    expect(seen).toBeGreaterThan(5);
  });

  it('leave no ridge on a floor', { timeout: 300_000 }, () => {
    const cutter = { tip: 0.1, angle: 60, depth: 0.1 };
    for (const name of 'BQw8') {
      const rings = letter(name, 4);
      const bottom = atTheBottom(stretches(groove(rings, cutter, cutter.depth), cutter), cutter);
      const places = inside(rings, radiusAt(cutter) + 0.001, 0.02);
      expect(places.length).toBeGreaterThan(100);
      for (const [x, y] of places)
        expect(toCut(bottom, x, y), `${name} at ${x.toFixed(3)}, ${y.toFixed(3)}`).toBeLessThan(0.001);
    }
  });
});

/**
 * Convex corners that turn by more than 30 degrees. Outer rings run clockwise in some fonts and anticlockwise in others,
 * holes against them; so all areas together tell on which side the ink is.
 */
function corners(rings: readonly Ring[]): [x: number, y: number][] {
  const left = Math.sign(rings.reduce((sum, ring) => sum + twiceArea(ring), 0));
  return rings.flatMap((ring) => {
    const n = ring.length / 2;
    const at = (k: number): [number, number] => [ring[2 * (k % n)]!, ring[2 * (k % n) + 1]!];
    return Array.from({ length: n }, (_, k) => k).flatMap((k) => {
      const [[px, py], [x, y], [qx, qy]] = [at(k + n - 1), at(k), at(k + 1)];
      const cross = (x - px) * (qy - y) - (y - py) * (qx - x);
      const dot = (x - px) * (qx - x) + (y - py) * (qy - y);
      const corner: [number, number] = [x, y];
      return Math.atan2(left * cross, dot) > Math.PI / 6 ? [corner] : [];
    });
  });
}

function twiceArea(ring: Ring): number {
  let twice = 0;
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2)
    twice += ring[j]! * ring[i + 1]! - ring[i]! * ring[j + 1]!;
  return twice;
}

const toCut = (cut: readonly Stretch[], x: number, y: number): number =>
  cut.reduce((least, s) => Math.min(least, gap(s, x, y)), Number.POSITIVE_INFINITY);

/** What the flat of the tip passes over at full depth, or less than 0.002 mm above. */
const atTheBottom = (cut: readonly Stretch[], cutter: { tip: number; angle: number; depth: number }) => {
  const full = radiusAt(cutter) - 0.001;
  return cut
    .filter(({ r0, r1 }) => r0 >= full && r1 >= full)
    .map((s) => ({ ...s, r0: cutter.tip / 2, r1: cutter.tip / 2 }));
};

/** Places of a grid that are farther than `from` from the edge of the area. */
function inside(rings: readonly Ring[], from: number, step: number): [x: number, y: number][] {
  const [x0, y0, x1, y1] = bounds(rings);
  const places: [number, number][] = [];
  for (let y = y0; y < y1; y += step)
    for (let x = x0; x < x1; x += step) if (room(rings, x, y) > from) places.push([x, y]);
  return places;
}

describe('a groove', () => {
  const bar = (length: number, width: number) => Float64Array.of(0, 0, length, 0, length, width, 0, width);
  const deepest = (lines: ReturnType<typeof groove>) => Math.max(...lines.flatMap((l) => [...l.depths!]));

  it.each([
    [0.4, 0.1, 60],
    [0.3, 0, 40],
    [0.25, 0.05, 90],
  ])(
    '%f mm wide is as deep as a cone with a tip of %f mm and %f degrees sinks: w = t + 2 d tan(angle / 2)',
    (width, tip, angle) => {
      const deep = deepest(groove([bar(5, width)], { tip, angle }, 1));
      expect(Math.abs(tip + 2 * deep * Math.tan((angle * Math.PI) / 360) - width)).toBeLessThan(0.001);
    },
  );

  it('is not cut where the stroke is narrower than the tip', () => {
    expect(groove([bar(5, 0.05)], { tip: 0.1, angle: 60 }, 1)).toEqual([]);
  });

  it('of a bar is one way in from a corner, along the middle and out to a corner, and two corners more', () => {
    expect(groove([bar(5, 0.4)], { tip: 0, angle: 60 }, 1)).toHaveLength(3);
  });

  it('comes to the very points of a star', () => {
    const star = Float64Array.from({ length: 28 }, (_, i) => {
      const [k, r] = [Math.floor(i / 2), Math.floor(i / 2) % 2 ? 0.3 : 1.5];
      return r * (i % 2 ? Math.sin((k * Math.PI) / 7) : Math.cos((k * Math.PI) / 7));
    });
    const cut = stretches(groove([star], { tip: 0, angle: 50 }, 1), { tip: 0, angle: 50 });
    const points = corners([star]);
    expect(points).toHaveLength(7);
    for (const [x, y] of points) expect(toCut(cut, x, y)).toBeLessThan(0.002);
  });

  it('takes rings that overlap as one area', () => {
    const cross = [bar(2, 0.3), Float64Array.of(0.8, -1, 1.1, -1, 1.1, 1, 0.8, 1)];
    const cutter = { tip: 0.02, angle: 60 };
    const cut = stretches(groove(cross, cutter, 1), cutter);
    const { letter, cut: taken, beside } = counted(cross, cut, 0.005);
    expect(taken / letter).toBeGreaterThan(0.99);
    expect(beside / letter).toBeLessThan(0.001);
    expect(toCut(cut, 0.95, 0.15)).toBeLessThan(-0.15);
  });

  it('sinks into a round spot', () => {
    const spot = Float64Array.from({ length: 128 }, (_, i) =>
      i % 2 ? 0.2 * Math.sin((Math.PI * (i - 1)) / 64) : 0.2 * Math.cos((Math.PI * i) / 64),
    );
    const cutter = { tip: 0.02, angle: 60 };
    const { letter, cut } = counted([spot], stretches(groove([spot], cutter, 1), cutter), 0.005);
    expect(cut / letter).toBeGreaterThan(0.99);
  });
});
