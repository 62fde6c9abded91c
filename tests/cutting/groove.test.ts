import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import type { CutLine } from '../../src/cutting/cuts.js';
import { groove } from '../../src/cutting/groove.js';
import { flatten } from '../../src/lettering/flatten.js';
import type { Font } from '../../src/lettering/font.js';
import { outlineFont } from '../../src/lettering/outline.js';

/*
 * What a cone takes out at the surface is a disc of radius t / 2 + d tan(angle / 2) at each depth d (plane
 * trigonometry). Here the discs are laid on a fine grid and on the letter's own outline, with none of burin's geometry.
 */
const require = createRequire(import.meta.url);
const FONTS = {
  'EB Garamond': '@fontsource/eb-garamond/files/eb-garamond-latin-400-normal.woff',
  'Cormorant Garamond': '@fontsource/cormorant-garamond/files/cormorant-garamond-latin-600-normal.woff',
  'EB Garamond italic': '@fontsource/eb-garamond/files/eb-garamond-latin-400-italic.woff',
} as const;
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';

function opened(file: string): Font {
  const read = outlineFont('under-test', readFileSync(require.resolve(file)));
  if (!read.ok) throw new Error(read.problem.what);
  return read.font;
}

type Ring = Float64Array;
type Disc = readonly [x: number, y: number, r: number];

const outlineOf = (font: Font, letter: string, size: number): Ring[] =>
  flatten(font.glyph(letter, 'proportional')!.path, size, 0.0008).map((p) => p.points);

/** Discs close along every line: the swept cone, but for slivers a thousandth of a millimetre wide. */
function discs(lines: readonly CutLine[], tip: number, angle: number): Disc[] {
  const slope = Math.tan((angle * Math.PI) / 360);
  return lines.flatMap(({ points, depths, closed }) => {
    const n = points.length / 2;
    return Array.from({ length: closed ? n : n - 1 }, (_, k) => {
      const m = (k + 1) % n;
      const [x0, y0, x1, y1] = [points[2 * k]!, points[2 * k + 1]!, points[2 * m]!, points[2 * m + 1]!];
      const [d0, d1] = [depths![k]!, depths![m]!];
      const steps = Math.max(1, Math.ceil(Math.hypot(x1 - x0, y1 - y0) / 0.006));
      return Array.from({ length: steps + 1 }, (_, i): Disc => {
        const u = i / steps;
        return [x0 + u * (x1 - x0), y0 + u * (y1 - y0), tip / 2 + (d0 + u * (d1 - d0)) * slope];
      });
    }).flat();
  });
}

const CELL = 0.006;

/** Areas of the letter, of what is cut, and of what is cut of the letter, mm2, counted on a grid. */
function counted(rings: readonly Ring[], cut: readonly Disc[]) {
  const xs = rings.flatMap((r) => [...r.filter((_, i) => i % 2 === 0)]);
  const ys = rings.flatMap((r) => [...r.filter((_, i) => i % 2 === 1)]);
  const [x0, y0] = [Math.min(...xs) - 0.1, Math.min(...ys) - 0.1];
  const w = Math.ceil((Math.max(...xs) + 0.1 - x0) / CELL);
  const h = Math.ceil((Math.max(...ys) + 0.1 - y0) / CELL);
  const inside = new Uint8Array(w * h);
  for (let j = 0; j < h; j++) {
    const y = y0 + (j + 0.5) * CELL;
    const winds: [number, number][] = [];
    for (const ring of rings) {
      for (let i = 0, k = ring.length - 2; i < ring.length; k = i, i += 2) {
        const [ay, by] = [ring[k + 1]!, ring[i + 1]!];
        if (ay > y === by > y) continue;
        winds.push([ring[k]! + ((y - ay) / (by - ay)) * (ring[i]! - ring[k]!), by > ay ? 1 : -1]);
      }
    }
    winds.sort((a, b) => a[0] - b[0]);
    let winding = 0;
    for (let k = 0; k < winds.length; k++) {
      winding += winds[k]![1];
      if (winding === 0 || k + 1 === winds.length) continue;
      const from = Math.max(0, Math.ceil((winds[k]![0] - x0) / CELL - 0.5));
      const to = Math.min(w - 1, Math.floor((winds[k + 1]![0] - x0) / CELL - 0.5));
      for (let i = from; i <= to; i++) inside[j * w + i] = 1;
    }
  }
  const taken = new Uint8Array(w * h);
  for (const [x, y, r] of cut) {
    for (
      let j = Math.max(0, Math.floor((y - r - y0) / CELL));
      j <= Math.min(h - 1, (y + r - y0) / CELL);
      j++
    ) {
      const dy = y0 + (j + 0.5) * CELL - y;
      if (Math.abs(dy) > r) continue;
      const half = Math.sqrt(r * r - dy * dy);
      const from = Math.max(0, Math.ceil((x - half - x0) / CELL - 0.5));
      const to = Math.min(w - 1, Math.floor((x + half - x0) / CELL - 0.5));
      if (to >= from) taken.fill(1, j * w + from, j * w + to + 1);
    }
  }
  let [letter, both] = [0, 0];
  for (let k = 0; k < inside.length; k++) {
    letter += inside[k]!;
    if (inside[k] && taken[k]) both++;
  }
  return { letter: letter * CELL * CELL, both: both * CELL * CELL };
}

const toEdge = (rings: readonly Ring[], x: number, y: number): number => {
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    for (let i = 0, k = ring.length - 2; i < ring.length; k = i, i += 2) {
      const [ax, ay] = [ring[k]!, ring[k + 1]!];
      const [vx, vy] = [ring[i]! - ax, ring[i + 1]! - ay];
      const l = vx * vx + vy * vy;
      const t = l === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * vx + (y - ay) * vy) / l));
      least = Math.min(least, Math.hypot(x - ax - t * vx, y - ay - t * vy));
    }
  }
  return least;
};

/** Convex corners that turn by more than 30 degrees, between sides long enough to be sides and not a curve's chords. */
function corners(rings: readonly Ring[]): { x: number; y: number }[] {
  return rings.flatMap((ring) => {
    const n = ring.length / 2;
    const found: { x: number; y: number }[] = [];
    for (let k = 0; k < n; k++) {
      const [p, q] = [(k + n - 1) % n, (k + 1) % n];
      const [ax, ay] = [ring[2 * k]! - ring[2 * p]!, ring[2 * k + 1]! - ring[2 * p + 1]!];
      const [bx, by] = [ring[2 * q]! - ring[2 * k]!, ring[2 * q + 1]! - ring[2 * k + 1]!];
      const turn = (Math.atan2(ax * by - ay * bx, ax * bx + ay * by) * 180) / Math.PI;
      // TrueType outlines run clockwise, with the ink to the right: convex corners turn that way.
      if (turn < -30) found.push({ x: ring[2 * k]!, y: ring[2 * k + 1]! });
    }
    return found;
  });
}

describe.each(Object.entries(FONTS))('grooves in %s', (_name, file) => {
  const font = opened(file);

  it.each([
    { size: 3, tip: 0.02, angle: 50, depth: 0.6, what: 'deep enough for every stroke' },
    { size: 4, tip: 0.06, angle: 60, depth: 0.12, what: 'with a flat floor' },
  ])('fill the letter and nothing else, $what', { timeout: 120_000 }, ({ size, tip, angle, depth }) => {
    const slope = Math.tan((angle * Math.PI) / 360);
    for (const letter of LETTERS) {
      const rings = outlineOf(font, letter, size);
      const lines = groove(rings, { tip, angle }, depth);
      const cut = discs(lines, tip, angle);
      // Where the letter is narrower than the tip nothing can be cut: hairlines of the finest kind.
      const { letter: whole, both } = counted(rings, cut);
      expect(both / whole, `${letter}: part of it that is cut`).toBeGreaterThan(0.99);
      let worst = 0;
      for (const [x, y, r] of cut) worst = Math.max(worst, r - toEdge(rings, x, y));
      expect(worst, `${letter}: cut outside it, mm`).toBeLessThan(0.01);
      for (const { depths } of lines) for (const d of depths!) expect(d).toBeLessThanOrEqual(depth + 1e-12);
      const widest = tip / 2 + depth * slope;
      expect(cut.every(([, , r]) => r <= widest + 1e-9)).toBe(true);
    }
  });

  it('run into every corner', { timeout: 60_000 }, () => {
    for (const letter of LETTERS) {
      const rings = outlineOf(font, letter, 3);
      const cut = discs(groove(rings, { tip: 0, angle: 50 }, 0.6), 0, 50);
      for (const { x, y } of corners(rings)) {
        const near = Math.min(...cut.map(([u, v, r]) => Math.hypot(x - u, y - v) - r));
        expect(near, `${letter} at ${x.toFixed(2)} ${y.toFixed(2)}`).toBeLessThan(0.03);
      }
    }
  });
});

describe('a groove', () => {
  it('is as deep as a straight stroke is wide: w = t + 2 d tan(angle / 2)', () => {
    const stroke = Float64Array.of(0, 0, 5, 0, 5, 0.4, 0, 0.4);
    const lines = groove([stroke], { tip: 0.1, angle: 60 }, 1);
    const deepest = Math.max(...lines.flatMap((l) => [...l.depths!]));
    expect(deepest).toBeCloseTo((0.4 - 0.1) / 2 / Math.tan(Math.PI / 6), 2);
  });

  it('is not cut where the stroke is narrower than the tip', () => {
    expect(groove([Float64Array.of(0, 0, 5, 0, 5, 0.05, 0, 0.05)], { tip: 0.1, angle: 60 }, 1)).toEqual([]);
  });
});
