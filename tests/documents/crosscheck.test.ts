import { rmSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { outlineFault } from '../../src/documents/check/outline.js';
import { loadWorkshop } from '../../src/documents/load.js';
import type { Point } from '../../src/geometry/path.js';
import { lineOf } from '../words-of.js';
import { both, type Spoil, swap, write } from './broken/edit.js';
import { builtInFonts, copyOfGood } from './workshop-copy.js';

const cap = 'parts/cap.yaml';
const barrel = 'parts/barrel.yaml';
const number = 'designs/cap-number.yaml';
const words = 'designs/barrel-line.yaml';
const tides = 'editions/tides.yaml';

const window = (corners: string): Spoil =>
  swap(
    cap,
    '      - { z: 40, angle: 100 }\n      - { z: 40, angle: 130 }\n      - { z: 50, angle: 115 }\n',
    corners.replace(/^ */gm, '      ').replace(/^ *\n/, ''),
  );

/** What lies just on the right side of every limit. Its neighbour on the wrong side is among the broken ones. */
const allowed: [name: string, spoil: Spoil][] = [
  [
    'surfaces that meet',
    both(
      swap(cap, '    to: 60\n', '    to: 50\n'),
      swap(cap, 'keepouts:\n', '  - { id: crown, from: 50, to: 60 }\nkeepouts:\n'),
    ),
  ],
  [
    'stations along a straight stretch',
    swap(barrel, '  - z: 60\n', '  - { z: 30, diameter: 12.1 }\n  - z: 60\n'),
  ],
  [
    'a station a millionth off',
    swap(barrel, '  - z: 60\n', '  - { z: 30, diameter: 12.1000019 }\n  - z: 60\n'),
  ],
  ['a surface that ends at a bend', swap(barrel, '    to: 58\n', '    to: 60\n')],
  ['a keep-out the length of the part', swap(barrel, '    to: 5.5\n', '    to: 66.5\n')],
  ['a wall thicker than a nose that is not cut', swap(barrel, 'wall: 1.6', 'wall: 2.5')],
  // a fall of 3.6 in radius over 0.64 is 79.9 degrees
  [
    'a cone just short of 80 degrees',
    both(
      swap(barrel, '  - z: 66.5\n', '  - z: 60.64\n'),
      swap(barrel, 'keepouts:\n', '  - { id: nose, from: 60, to: 60.64 }\nkeepouts:\n'),
    ),
  ],
  [
    'a window across the seam',
    window(`- { z: 40, angle: 350 }
      - { z: 40, angle: 370 }
      - { z: 50, angle: 360 }
      `),
  ],
  [
    'a window that is not convex',
    window(`- { z: 40, angle: 100 }
      - { z: 44, angle: 115 }
      - { z: 40, angle: 130 }
      - { z: 50, angle: 115 }
      `),
  ],
  ['a mark opposite a window', swap(number, 'opposite: clip', 'opposite: crown')],
  ['a mark at the edge of its surface', swap(number, 'z: 8, opposite: clip', 'z: 60, angle: -400')],
  ['an angle zone just short of a turn', swap(words, 'angle: [60, 300]', 'angle: [0, 359.9]')],
  ['an angle zone across the seam', swap(words, 'angle: [60, 300]', 'angle: [300, 420]')],
  ['a size range of one size', swap(words, '      max: 3.5\n', '      max: 2\n')],
  ['a cut as deep as the cutter goes', swap(words, 'depth: 0.3', 'depth: 0.4')],
  ['three fifths of the wall, nearly', swap(barrel, 'wall: 1.6', 'wall: 0.501')],
  ['a series of one', swap(tides, '    to: 5\n', '    to: 1\n')],
  ['the last roman numeral', swap(tides, '    to: 5\n', '    to: 3999\n')],
  ['a stated total above the last number', swap(tides, 'of: 40', 'of: 400')],
  ['figures that exclude nothing', swap(tides, "containing: '4'", "containing: '77'")],
  [
    'one number left',
    swap(tides, '    figures: roman\n', '    exclude: [{ numbers: [1, 2, 4, 5], why: x }]\n'),
  ],
  ['celluloid and a drag point', swap('materials/silver.yaml', 'family: metal', 'family: celluloid')],
  [
    'resin and a beam',
    write(
      'cutters/cone.yaml',
      'kind: cutter\nversion: 1\nname: Beam\nshape: beam\nfeed: 600\nplunge: 600\ndepth: 0.4\nwidth: 0.1\n',
    ),
  ],
  ['an axis without end', swap('stations/tilted.yaml', '    min: -360\n    max: 720\n', '')],
];

async function linesAfter(spoil: Spoil): Promise<string[]> {
  const dir = copyOfGood();
  try {
    spoil(dir);
    const loaded = await loadWorkshop(dir, { builtInFonts });
    return loaded.ok ? [] : loaded.problems.map(lineOf);
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

describe('on the right side of the limit', () => {
  test.each(allowed)('%s', async (_, spoil) => {
    expect(await linesAfter(spoil)).toEqual([]);
  });
});

test('a station two millionths off a straight generator bends it', async () => {
  const lines = await linesAfter(
    swap(barrel, '  - z: 60\n', '  - { z: 30, diameter: 12.100004 }\n  - z: 60\n'),
  );
  expect(lines).toHaveLength(1);
});

/**
 * Celluloid (cellulose nitrate) ignites easily and burns without outside air: Canadian Conservation Institute
 * Notes 15/3; NFPA 40 (both from memory).
 */
test('a beam is refused on celluloid alone of all materials', async () => {
  for (const family of ['metal', 'resin', 'celluloid', 'ebonite', 'wood', 'lacquer']) {
    const lines = await linesAfter(
      both(
        swap('materials/resin.yaml', 'family: resin', `family: ${family}`),
        write(
          'cutters/cone.yaml',
          'kind: cutter\nversion: 1\nname: Beam\nshape: beam\nfeed: 600\nplunge: 600\ndepth: 0.4\nwidth: 0.1\n',
        ),
      ),
    );
    expect(lines.length > 0, family).toBe(family === 'celluloid');
  }
});

describe('an outline', () => {
  const circle = (angles: readonly number[]): Point[] =>
    angles.map((a) => [100 * Math.cos((a * Math.PI) / 180), 7 * Math.sin((a * Math.PI) / 180)]);
  const turns = fc.uniqueArray(fc.integer({ min: 0, max: 359 }), { minLength: 4, maxLength: 12 });

  test('with its corners in order round an ellipse is sound, from any corner and in either sense', () => {
    fc.assert(
      fc.property(turns, fc.nat(11), fc.boolean(), (angles, first, back) => {
        const sorted = [...angles].sort((a, b) => a - b);
        const k = first % sorted.length;
        const ring = [...sorted.slice(k), ...sorted.slice(0, k)];
        expect(outlineFault(circle(back ? ring.reverse() : ring))).toBeUndefined();
      }),
    );
  });

  // A polygon on the corners of a convex one is simple only in the convex one's own order; elementary geometry.
  test('with the same corners in any other order is not', () => {
    fc.assert(
      fc.property(turns, (angles) => {
        const steps = angles.map((a, i) => (angles[(i + 1) % angles.length]! - a + 360) % 360);
        const round = steps.reduce((sum, step) => sum + step, 0);
        // once round forward is 360, once round backward 360 a step less
        fc.pre(round !== 360 && round !== 360 * (angles.length - 1));
        expect(outlineFault(circle(angles))).toBeDefined();
      }),
    );
  });
});
