import { describe, expect, test } from 'vitest';
import { blockMoves } from '../../src/cutting/block-moves.js';
import { CutWork } from '../../src/cutting/cut-work.js';
import { glyphBlock } from '../../src/cutting/glyph.js';
import { TextReader } from '../../src/cutting/read-text.js';
import type { CutParameters } from '../../src/cutting/strategies.js';
import type { SweptMove, SweptTool } from '../../src/cutting/swept-cut.js';
import { centreGlyphs, placeGlyph, type TextDirection } from '../../src/layout/glyph-placement.js';
import type { Font } from '../../src/lettering/font.js';
import { shapeLine } from '../../src/lettering/shaped-line.js';
import { cone } from '../../src/surface/cone.js';
import { cylinder } from '../../src/surface/cylinder.js';
import type { Surface } from '../../src/surface/surface.js';
import { fonts, plain } from '../lettering/test-fonts.js';

type Cutter = SweptTool['cutter'];
const SHARED = { kind: 'cutter', version: 1, name: 'test', feed: 100, plunge: 50, depth: 10 } as const;
const drag = (width: number): Cutter => ({ ...SHARED, shape: 'drag', width });
const point: Cutter = { ...SHARED, shape: 'cone', tip: 0.05, angle: 40, speed: 9000 };

const SIZE = 2;
const barrel = cylinder('barrel', -20, 20, 6);
const taper = cone('taper', -20, 20, 7, 5);

interface Setting {
  readonly font: Font;
  readonly surface?: Surface;
  readonly direction?: TextDirection;
  readonly cutter?: Cutter;
  readonly way?: CutParameters['way'];
  readonly spacing?: number;
}

/** Cuts one text, and reads it as if another, `asked`, were to be there. */
function read(cut: string, setting: Setting, asked = cut, mend = (moves: SweptMove[]) => moves): string {
  const { font, surface = barrel, direction = { baseline: 'ring', reading: 'up' } } = setting;
  const { cutter = drag(0.12), way = 'trace', spacing = 0.15 } = setting;
  const parameters: CutParameters = { way, cutter, depth: 0.1, passes: [0.1] };
  const at = { z: 3, angle: 40 };
  const line = shapeLine(font, cut, 'proportional', spacing);
  const work = new CutWork();
  const moves = centreGlyphs(line).flatMap((one) => {
    const placed = placeGlyph(surface, one, SIZE, direction, at);
    const block = glyphBlock(placed, { mark: 'm', font, size: SIZE }, parameters, new Map(), work);
    return blockMoves(surface, block);
  });
  const lettering = {
    font,
    size: SIZE,
    direction,
    figures: 'proportional',
    depth: 0.1,
  } as const;
  const reader = new TextReader(
    { surface, setup: 'tilted', cutter },
    { ...lettering, isTraced: way === 'trace' },
  );
  return reader.read(mend(moves), shapeLine(font, asked, 'proportional', spacing), at);
}

describe('numbers are read from what is cut', () => {
  const numbers = ['38/90', '64/127', 'MDCLXVI'];
  test.each(fonts)('%s, its lines followed', (_id, font) => {
    expect(numbers.map((number) => read(number, { font }))).toEqual(numbers);
  });
  test.each(fonts.filter(([, font]) => font.kind === 'outline'))('%s, grooved', (_id, font) => {
    const grooved = { font, cutter: point, way: 'groove' } as const;
    expect(read('38/90', grooved)).toBe('38/90');
  });
  const directions: TextDirection[] = [
    { baseline: 'ring', reading: 'down' },
    { baseline: 'lengthwise', reading: 'up' },
    { baseline: 'lengthwise', reading: 'down' },
    { baseline: 'helix', reading: 'up', pitch: 9 },
  ];
  test.each(directions)('along $baseline, reading $reading, on a cylinder and a cone', (direction) => {
    for (const surface of [barrel, taper])
      expect(read('No 3/9', { font: plain, surface, direction }), surface.id).toBe('No3/9');
  });
});

describe('what is read is what is cut, and not what was to be', () => {
  test.each([
    ['83/90', '38/90'],
    ['3B/90', '38/90'],
    ['I1', '11'],
  ])('%s where %s was asked for', (cut, asked) => {
    expect(read(cut, { font: plain }, asked)).toBe(cut);
  });
  test('a letter wider than the place it was to have', () => {
    expect(read('O1/25', { font: plain }, '01/25')).not.toBe('01/25');
  });
  test('nothing', () => {
    expect(read('38/90', { font: plain }, '38/90', () => [])).toBe('');
  });
  test('a number gone over at a slant', () => {
    const scratch = { from: { z: 2, angle: 10, depth: 0.1 }, to: { z: 4.2, angle: 75, depth: 0.1 } };
    expect(read('38/90', { font: plain }, '38/90', (moves) => [...moves, scratch])).not.toContain('38');
  });
  test('a pattern over a full stop is no letter of the number', () => {
    const z = 3 - SIZE / 2 + 0.5 * SIZE;
    // The stop stands last, under the right end of the line.
    const over = { from: { z, angle: 51, depth: 0.1 }, to: { z, angle: 60, depth: 0.1 } };
    expect(read('38.', { font: plain }, '38.', (moves) => [...moves, over])).toBe('38.');
  });
  test('letters that run into one another', () => {
    expect(read('38/90', { font: plain, spacing: -0.25 })).toContain('?');
  });
});

// Each of these has pieces over one another, or beside one another, that are one sign.
test.each(['A.P. I/IX', 'i:j;', '5%', '"7"', '8=9', '№ 12', 'Nr. 4–5', 'é ñ', '3⁄4'])('%s', (text) => {
  expect(read(text, { font: plain })).toBe(text.replaceAll(' ', '').replace('3⁄4', '³⁄₄'));
});

test('lines finer than what a letter is looked at by', () => {
  expect(read('38/90', { font: plain, cutter: drag(0.012) })).toBe('38/90');
});
