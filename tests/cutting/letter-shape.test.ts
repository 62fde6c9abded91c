import { describe, expect, test } from 'vitest';
import { ALIKE, differenceOf, type LetterShape, letterShape } from '../../src/cutting/letter-shape.js';
import { boundsOfPaths } from '../../src/geometry/bounds.js';
import { atCell, cellsAlong, cellsOver, cellsWithin } from '../../src/geometry/cell-grid.js';
import { flatten } from '../../src/geometry/flatten.js';
import type { Font } from '../../src/lettering/font.js';
import { fonts, plain } from '../lettering/test-fonts.js';

/** A letter 1 mm high, its lines `width` mm wide; its areas filled. */
function drawn(font: Font, character: string, width: number, shift = 0): LetterShape {
  const glyph = font.glyph(character, 'proportional')!;
  const paths = flatten(glyph.path, 1, 0.001).map(({ points, closed }) => ({
    closed,
    points: points.map((v, i) => v + (i % 2 === 0 ? shift : 0)),
  }));
  const isFilled = font.kind === 'outline' && !glyph.stroked;
  const [left, bottom, right, top] = boundsOfPaths(paths);
  const box = [left - width, bottom - width, right + width, top + width] as const;
  const cells = cellsOver(box, 1 / 200);
  const rings = paths.map(({ points }) => points);
  const set = isFilled ? cellsWithin(cells, rings) : cellsAlong(cells, paths, width / 2);
  return letterShape(
    box,
    1,
    atCell(cells, (k) => set[k] === 1),
  )!;
}

const FAR = Number.POSITIVE_INFINITY;

describe('letters of one hand', () => {
  // What numbers are made of. I, l, 1 and | are told apart, as are O and 0 (common practice, no source).
  const characters = [...'0123456789/IVXLCDMO'];
  test.each(fonts)('%s: no two are taken for one another, and each for itself', (_id, font) => {
    for (const width of font.kind === 'stroke' ? [0.04, 0.12, 0.2] : [0.04]) {
      const shapes = characters.map((character) => drawn(font, character, width));
      const alike = shapes.flatMap((one, k) =>
        shapes.flatMap((other, m) => (differenceOf(one, other, ALIKE) < FAR && k < m ? [[k, m]] : [])),
      );
      expect(alike.map((pair) => pair.map((k) => characters[k]).join(''))).toEqual([]);
      for (const [k, one] of shapes.entries())
        expect(differenceOf(one, drawn(font, characters[k]!, width, 0.37), ALIKE)).toBeLessThan(0.03);
    }
  });
  test('I, l, 1 and | of the plain hand', () => {
    const shapes = [...'Il1|'].map((character) => drawn(plain, character, 0.06));
    for (const [k, one] of shapes.entries())
      for (const other of shapes.slice(k + 1)) expect(differenceOf(one, other, ALIKE)).toBe(FAR);
  });
});

/** A block of so much width and height, mm, on the baseline or above it. */
const block = (width: number, height: number, foot = 0): LetterShape =>
  letterShape([0, foot, width, foot + height], 1, () => true)!;

describe('how far two shapes differ', () => {
  test.each([
    ['not at all', block(0.5, 1), block(0.5, 1), 0],
    // A fifth wider: a tenth to each side, of which one cell is no difference.
    ['in width', block(0.5, 1), block(0.7, 1), 0.1],
    ['in height', block(0.5, 1), block(0.5, 0.8), 0.2],
    ['by a gap', block(0.5, 1), letterShape([0, 0, 0.5, 1], 1, (_x, y) => y < 0.4 || y > 0.6)!, 0.1],
  ])('%s', (_, one, other, want) => {
    const found = differenceOf(one, other, 1);
    expect(Math.abs(found - want)).toBeLessThan(0.045);
    expect(differenceOf(other, one, 1)).toBe(found);
    if (want > 0) expect(differenceOf(one, other, want - 0.05)).toBe(FAR);
  });
  test('a comma is not an apostrophe: letters stand on one line', () => {
    expect(differenceOf(block(0.1, 0.2), block(0.1, 0.2, 0.8), 0.5)).toBe(FAR);
  });
});
