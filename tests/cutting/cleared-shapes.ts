import { describe, expect, test } from 'vitest';
import { type ClearMethod, clear } from '../../src/cutting/clear.js';
import type { CutLine } from '../../src/cutting/cuts.js';
import { flatten } from '../../src/geometry/flatten.js';
import { outlineFont } from '../../src/lettering/outline-font.js';
import { fontFile } from '../lettering/made-fonts.js';
import { lineOf } from '../words-of.js';
import { Grid } from './raster.js';

type Ring = Float64Array;
const read = outlineFont('garamond', fontFile('garamond'));
if (!read.ok) throw new Error(lineOf(read.problem));
const { font } = read;

export const ring = (...xy: number[]): Ring => Float64Array.from(xy);
const round = (x: number, y: number, r: number, n: number, way = 1): Ring =>
  Float64Array.from({ length: 2 * n }, (_, i) => {
    const t = (way * 2 * Math.PI * (i >> 1)) / n;
    return i % 2 ? y + r * Math.sin(t) : x + r * Math.cos(t);
  });
const star = (points: number, outer: number, inner: number): Ring =>
  Float64Array.from({ length: 4 * points }, (_, i) => {
    const t = (Math.PI * (i >> 1)) / points;
    const r = (i >> 1) % 2 ? inner : outer;
    return i % 2 ? r * Math.sin(t) : r * Math.cos(t);
  });
const letter = (character: string, size: number): Ring[] =>
  flatten(font.glyph(character, 'proportional')!.path, size, 0.0008).map((p) => p.points);

/** Two rooms and a neck between them whose half width is half-way between two rings of the cut below. */
export const NECKED = [
  ring(0, 0, 2, 0, 2, 0.705, 3, 0.705, 3, 0, 5, 0, 5, 2, 3, 2, 3, 1.295, 2, 1.295, 2, 2, 0, 2),
];
const SHAPES: [string, () => Ring[], number, number][] = [
  ['a rectangle', () => [ring(0, 0, 3, 0, 3, 2, 0, 2)], 0.3, 0.2],
  ['a ring with an island', () => [round(0, 0, 2, 90), round(0.4, 0.2, 0.8, 60, -1)], 0.35, 0.25],
  ['a star of seven', () => [star(7, 2, 0.9)], 0.2, 0.1],
  ['rooms and a neck', () => NECKED, 0.3, 0.25],
  ['two overlapping discs', () => [round(0, 0, 1, 60), round(1.2, 0.3, 0.9, 60)], 0.25, 0.25],
  ['B', () => letter('B', 6), 0.3, 0.2],
  ['8', () => letter('8', 5), 0.25, 0.15],
  ['&', () => letter('&', 8), 0.2, 0.12],
  ['S', () => letter('S', 5), 0.22, 0.2],
  ['@, no wider than the cut in places', () => letter('@', 6), 0.3, 0.15],
];
export const WAYS: [string, ClearMethod][] = [
  ['offset', { by: 'offset' }],
  ['hatch at 0', { by: 'hatch', angle: 0 }],
  ['hatch at 37', { by: 'hatch', angle: 37 }],
  ['hatch at 90', { by: 'hatch', angle: 90 }],
];

/** What the grid says of a cut: parts of the ground covered, and how far the cut goes over the edge, mm. */
export function judged(rings: readonly Ring[], lines: readonly CutLine[], width: number, floor: number) {
  const edge = rings.map((points) => ({ points, closed: true }));
  const grid = Grid.round(edge, 0.1, 0.01);
  const inside = grid.filled(rings);
  const toEdge = grid.distance(edge, width);
  const reach = inside.map((x, i) => (x && toEdge[i]! >= width / 2 ? 1 : 0));
  const fromReach = grid.toSet(reach);
  const toLine = grid.distance(lines, width);
  const covered = (by: number) => {
    let [all, got] = [0, 0];
    for (let i = 0; i < grid.size; i++) {
      if (fromReach[i]! > by / 2 - grid.h) continue;
      all++;
      if (toLine[i]! <= by / 2) got++;
    }
    return got / all;
  };
  let over = 0;
  for (let i = 0; i < grid.size; i++)
    if (!inside[i] && toLine[i]! < width / 2)
      over = Math.max(over, Math.min(toEdge[i]!, width / 2 - toLine[i]!));
  return { floor: covered(floor), surface: covered(width), over };
}

/** Shapes cleared in each way, or in the ways that are picked for each. */
export function clearShapes(pick: (shape: number, way: number) => boolean = () => true): void {
  describe('clearing', () => {
    for (const [w, [way, how]] of WAYS.entries())
      test.each(SHAPES.filter((_, s) => pick(s, w)))(`${way}: %s`, (_, shape, width, floor) => {
        const rings = shape();
        const told = judged(rings, clear(rings, { width, floor }, how), width, floor);
        expect(told.floor).toBeGreaterThanOrEqual(0.999);
        expect(told.surface).toBeGreaterThanOrEqual(0.999);
        expect(told.over).toBeLessThanOrEqual(0.005);
      });
  });
}
