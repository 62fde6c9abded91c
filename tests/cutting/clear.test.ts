import { beforeAll, describe, expect, test } from 'vitest';
import { type ClearMethod, clear, floorWidth } from '../../src/cutting/clear.js';
import type { CutLine } from '../../src/cutting/cuts.js';
import { flatten } from '../../src/geometry/flatten.js';
import type { Font } from '../../src/lettering/font.js';
import { outlineFont } from '../../src/lettering/outline-font.js';
import { fontFile } from '../lettering/made-fonts.js';
import { lineOf } from '../words-of.js';
import { Grid } from './raster.js';

type Ring = Float64Array;
let font: Font;
beforeAll(() => {
  const read = outlineFont('garamond', fontFile('garamond'));
  if (!read.ok) throw new Error(lineOf(read.problem));
  font = read.font;
});

const ring = (...xy: number[]): Ring => Float64Array.from(xy);
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
const NECKED = [ring(0, 0, 2, 0, 2, 0.705, 3, 0.705, 3, 0, 5, 0, 5, 2, 3, 2, 3, 1.295, 2, 1.295, 2, 2, 0, 2)];
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
const WAYS: [string, ClearMethod][] = [
  ['offset', { by: 'offset' }],
  ['hatch at 0', { by: 'hatch', angle: 0 }],
  ['hatch at 37', { by: 'hatch', angle: 37 }],
  ['hatch at 90', { by: 'hatch', angle: 90 }],
];

/** What the grid says of a cut: parts of the ground covered, and how far the cut goes over the edge, mm. */
function judged(rings: readonly Ring[], lines: readonly CutLine[], width: number, floor: number) {
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

describe('clearing', () => {
  for (const [way, how] of WAYS)
    test.each(SHAPES)(`${way}: %s`, (_, shape, width, floor) => {
      const rings = shape();
      const told = judged(rings, clear(rings, { width, floor }, how), width, floor);
      expect(told.floor).toBeGreaterThanOrEqual(0.999);
      expect(told.surface).toBeGreaterThanOrEqual(0.999);
      expect(told.over).toBeLessThanOrEqual(0.005);
    });

  test('the grid sees a ring left out, and a cut over the edge', () => {
    const lines = clear(NECKED, { width: 0.3, floor: 0.25 });
    expect(judged(NECKED, lines.slice(1), 0.3, 0.25).floor).toBeLessThan(0.999);
    expect(judged(NECKED, clear(NECKED, { width: 0.28, floor: 0.25 }), 0.3, 0.25).over).toBeGreaterThan(
      0.005,
    );
  });

  test('the finishing line comes last, half a width inside the edge, with the edge on its right', () => {
    const square = [ring(0, 0, 2, 0, 2, 2, 0, 2), ring(0.8, 0.8, 0.8, 1.2, 1.2, 1.2, 1.2, 0.8)];
    for (const [, how] of WAYS) {
      const finish = clear(square, { width: 0.2, floor: 0.2 }, how).slice(-2);
      const areas = finish.map(({ points: p }) => {
        let twice = 0;
        for (let i = 0, j = p.length - 2; i < p.length; j = i, i += 2)
          twice += p[j]! * p[i + 1]! - p[i]! * p[j + 1]!;
        return twice / 2;
      });
      // round the outside anticlockwise, round the island clockwise: 1.8 squared; 0.4 squared, four sides, a disc
      expect(areas.sort((a, b) => a - b)[1]).toBeCloseTo(1.8 ** 2, 3);
      expect(areas[0]).toBeCloseTo(-(0.4 ** 2 + 4 * 0.4 * 0.1 + Math.PI * 0.1 ** 2), 3);
      expect(finish.every((line) => line.closed)).toBe(true);
    }
  });

  test('hatching a plain shape is one line to and fro, and the finish', () => {
    const lines = clear(
      [ring(0, 0, 3, 0, 3, 2, 0, 2)],
      { width: 0.3, floor: 0.2 },
      { by: 'hatch', angle: 20 },
    );
    expect(lines.map((l) => l.closed)).toEqual([false, true]);
  });

  test('what is narrower than the cut is not cut at all', () => {
    for (const [, how] of WAYS)
      expect(clear([ring(0, 0, 3, 0, 3, 0.29, 0, 0.29)], { width: 0.3, floor: 0.2 }, how)).toEqual([]);
  });

  test('a point without a flat still ends, lines a tenth of the cut apart', () => {
    expect(clear([ring(0, 0, 0.99, 0, 0.99, 0.99, 0, 0.99)], { width: 0.2, floor: 0 }).length).toBe(20);
  });
});

describe('the flat a cutter leaves', () => {
  const common = { kind: 'cutter', version: 1, name: 'x', feed: 1, plunge: 1, depth: 1, speed: 1 } as const;
  test('cone, flat', () => {
    expect(floorWidth({ ...common, shape: 'cone', tip: 0.1, angle: 60 })).toBe(0.1);
    expect(floorWidth({ ...common, shape: 'flat', diameter: 0.8 })).toBe(0.8);
  });

  test('a ball of 1 mm leaves ridges of 0.005 mm at steps of 0.141 mm', () => {
    // h = R - sqrt(R^2 - (s / 2)^2), the ridge between two passes of a ball (plane geometry)
    const s = floorWidth({ ...common, shape: 'ball', diameter: 1 });
    expect(0.5 - Math.sqrt(0.25 - (s / 2) ** 2)).toBeCloseTo(0.005, 9);
    expect(s).toBeCloseTo(0.1411, 4);
  });
});
