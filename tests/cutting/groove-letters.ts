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
export const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';
const SIZE_MM = 3;

function opened(file: string): Extract<FontResult, { ok: true }>['font'] {
  const read = outlineFont('under-test', readFileSync(createRequire(import.meta.url).resolve(file)));
  if (!read.ok) throw new Error(lineOf(read.problem));
  return read.font;
}

/** Radius of a cone's cut at a depth, mm (plane trigonometry). */
const radiusAt = ({ tip, angle, depth }: { tip: number; angle: number; depth: number }): number =>
  tip / 2 + depth * Math.tan((angle * Math.PI) / 360);

/** These letters in three serif faces, grooved; those of the floor looked at place by place. */
export function groovesIn(letters: string, floor: string): void {
  describe.each(Object.entries(FONTS))('grooves in %s', (_name, file) => {
    const font = opened(file);
    const letter = (name: string, size = SIZE_MM): Ring[] =>
      flatten(font.glyph(name, 'proportional')!.path, size, 0.0008).map((p) => p.points);

    it.each([
      { what: 'deep enough for every stroke', tip: 0.05, angle: 50, depth: 0.6 },
      { what: 'with a flat floor', tip: 0.05, angle: 60, depth: 0.15 },
    ])('fill the letter and nothing else, $what', ({ what: _, ...cutter }) => {
      for (const name of letters) {
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
    it('run into every corner', () => {
      const cutter = { tip: 0, angle: 50 };
      let seen = 0;
      for (const name of letters) {
        const rings = letter(name);
        const cut = stretches(groove(rings, cutter, 0.6), cutter);
        for (const [x, y] of corners(rings)) {
          seen++;
          expect(toCut(cut, x, y), `${name} at ${x.toFixed(3)}, ${y.toFixed(3)}`).toBeLessThan(0.03);
        }
      }
      // EB Garamond is drawn with rounded corners and has few.
      expect(seen).toBeGreaterThan(letters.length / 12);
    });

    it('leave no ridge on a floor', () => {
      const cutter = { tip: 0.1, angle: 60, depth: 0.1 };
      for (const name of floor) {
        const rings = letter(name, 4);
        const bottom = atTheBottom(stretches(groove(rings, cutter, cutter.depth), cutter), cutter);
        const places = inside(rings, radiusAt(cutter) + 0.001, 0.02);
        expect(places.length).toBeGreaterThan(100);
        for (const [x, y] of places)
          expect(toCut(bottom, x, y), `${name} at ${x.toFixed(3)}, ${y.toFixed(3)}`).toBeLessThan(0.001);
      }
    });
  });
}

/**
 * Convex corners that turn by more than 30 degrees. Outer rings run clockwise in some fonts and anticlockwise in others,
 * holes against them; so all areas together tell on which side the ink is.
 */
export function corners(rings: readonly Ring[]): [x: number, y: number][] {
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

export const toCut = (cut: readonly Stretch[], x: number, y: number): number =>
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
