import { describe, expect, test } from 'vitest';
import { blockMoves } from '../../src/cutting/block-moves.js';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { compareSeen, isPlainlySeen, seenCut } from '../../src/cutting/seen-cut.js';
import { cutLines } from '../../src/cutting/strategies.js';
import type { SweptTool } from '../../src/cutting/swept-cut.js';
import { type CellSet, type Cells, cellsAlong, cellsOver } from '../../src/geometry/cell-grid.js';
import { flatten } from '../../src/geometry/flatten.js';
import type { Font } from '../../src/lettering/font.js';
import { cylinder } from '../../src/surface/cylinder.js';
import { fonts, garamond, plain } from '../lettering/test-fonts.js';
import { chances } from '../soak/soak.js';

type Cutter = SweptTool['cutter'];
const SHARED = { kind: 'cutter', version: 1, name: 'test', feed: 100, plunge: 50, depth: 10 } as const;
const drag = (width: number): Cutter => ({ ...SHARED, shape: 'drag', width });
const ball = (diameter: number): Cutter => ({ ...SHARED, shape: 'ball', diameter, speed: 9000 });
const flat = (diameter: number): Cutter => ({ ...SHARED, shape: 'flat', diameter, speed: 9000 });
const cone = (tip: number, angle: number): Cutter => ({ ...SHARED, shape: 'cone', tip, angle, speed: 9000 });

const surface = cylinder('barrel', -20, 20, 6);
interface Way {
  readonly way: 'trace' | 'clear' | 'groove';
  readonly cutter: Cutter;
  readonly depth: number;
  readonly size: number;
}

/** Each letter that is not seen as it is drawn, with its first fault: `8 filled`. */
function faultsIn(font: Font, letters: string, { way, cutter, depth, size }: Way): string[] {
  return [...letters].flatMap((name) => {
    const glyph = font.glyph(name, 'proportional')!;
    const paths = flatten(glyph.path, size, 0.0008);
    const passes = [depth];
    const cut = cutLines(paths, font.kind === 'outline' && !glyph.stroked, { way, cutter, depth, passes });
    const block: CutBlock = { key: name, mark: 'm', name, turn: 0, ...cut, depth, passes };
    const tool = { surface, setup: 'tilted', cutter } as const;
    const [first] = seenCut(tool, blockMoves(surface, block), block, size).faults;
    return first ? [`${name} ${first.kind}`] : [];
  });
}

const NUMBERS = '0123456789/';

describe('letters that are cut as they are drawn have no fault', () => {
  test.each(fonts.filter(([, font]) => font.kind === 'outline'))('%s, grooved', (_id, font) => {
    const fine = { way: 'groove', cutter: cone(0.05, 40), depth: 0.2, size: 2.5 } as const;
    expect(faultsIn(font, '1380/Re', fine)).toEqual([]);
  });
  test('a stroke font, its lines a tenth of its height wide', () => {
    expect(
      faultsIn(plain, `${NUMBERS}ABQReagsö&@`, { way: 'trace', cutter: drag(0.12), depth: 0.08, size: 1.2 }),
    ).toEqual([]);
  });
});

// Read by eye: where a stroke is thin, its two outlines run together, and the letter is the letter all the same.
test('an outline that is followed, though its thin strokes are cut solid', () => {
  const jost = fonts.find(([id]) => id === 'jost')![1];
  const traced = { way: 'trace', cutter: drag(0.12), depth: 0.08, size: 1.5 } as const;
  expect(faultsIn(jost, 'abdgpqB', traced)).toEqual([]);
});

describe('what a cutter that is too wide does to letters is named', () => {
  // A slash thinner than the cutter was left out of a number without a word: 1/90 was cut as "1 90".
  test('a slash that is not cut at all', () => {
    const coarse = { way: 'clear', cutter: cone(0.06, 40), depth: 0.03, size: 0.9 } as const;
    const [slash] = faultsIn(garamond, '/', coarse);
    expect(slash).toBe('/ nothing');
    expect(faultsIn(garamond, '/', { ...coarse, cutter: cone(0.01, 40), depth: 0.01 })).toEqual([]);
  });
  test('hairlines and arms that are lost', () => {
    const coarse = { way: 'clear', cutter: flat(0.2), depth: 0.1, size: 2.5 } as const;
    expect(faultsIn(garamond, '1279', coarse).map((found) => found.split(' ')[1])).toEqual([
      'lost',
      'lost',
      'lost',
      'lost',
    ]);
  });
  test('a number of which a ball leaves next to nothing', () => {
    const wide = { way: 'clear', cutter: ball(0.6), depth: 0.1, size: 2.5 } as const;
    expect(faultsIn(garamond, '0235', wide)).toEqual(['0 nothing', '2 nothing', '3 nothing', '5 nothing']);
  });
  test('dots that run into their letters, and counters that are filled in', () => {
    const wide = { way: 'trace', cutter: drag(0.54), depth: 0.08, size: 2 } as const;
    expect(faultsIn(plain, 'ij%#e', wide)).toEqual([
      'i joined',
      'j joined',
      '% filled',
      '# filled',
      'e closed',
    ]);
  });
});

/** Cells from a picture: `#` is in the set. The last row lies lowest. */
function picture(rows: readonly string[]) {
  const cells = cellsOver([0, 0, rows[0]!.length, rows.length], 1);
  return { cells, set: Uint8Array.from(rows.toReversed().join(''), (c) => (c === '#' ? 1 : 0)) };
}

/** Kinds of fault between two pictures of a letter ten cells high. */
function between(seen: readonly string[], cut: readonly string[]): string[] {
  const { cells, set } = picture(seen);
  return compareSeen(cells, picture(cut).set, set, 10, 0.25).map(({ kind }) => kind);
}

describe('pictures that differ, by the name of what differs', () => {
  const ring = ['.........', '.#######.', '.##...##.', '.##...##.', '.##...##.', '.#######.', '.........'];
  const change = (rows: readonly string[], at: number, row: string) =>
    rows.map((r, k) => (k === at ? row : r));
  test('none', () => {
    expect(between(ring, ring)).toEqual([]);
  });
  test('nothing', () => {
    expect(
      between(
        ring,
        ring.map((row) => row.replaceAll('#', '.')),
      ),
    ).toEqual(['nothing']);
  });
  test('filled', () => {
    expect(
      between(
        ring,
        ring.map((row, k) => (k > 0 && k < 6 ? '.#######.' : row)),
      ),
    ).toEqual(['filled']);
  });
  test('broken', () => {
    const open = change(ring, 3, '.##......');
    expect(between(ring, open)).toEqual(['broken']);
  });
  test('closed', () => {
    const bay = change(change(ring, 3, '.##......'), 2, '.##......');
    expect(between(bay, ring)).toEqual(['closed']);
  });
  test('joined', () => {
    const two = ['.........', '..##.....', '..##.....', '.........', '..##.....', '..##.....', '.........'];
    expect(between(two, change(two, 3, '..##.....'))).toEqual(['joined']);
  });
  test('lost: a part of which nothing is cut', () => {
    const two = ['.........', '..##.....', '..##.....', '.........', '..##.....', '..##.....', '.........'];
    const one = two.map((row, k) => (k < 3 ? '.........' : row));
    expect(between(two, one)).toEqual(['lost']);
  });
});

/** Strokes, a wider cut along most of each, and now and then a bite out of it: a letter of about ten by ten, by chance. */
function chanceLetter(dice: () => number): { cells: Cells; seen: CellSet; cut: CellSet } {
  const cells = cellsOver([0, 0, 14, 14], 0.14);
  const at = () => 2 + 10 * dice();
  const strokes = Array.from({ length: 1 + Math.floor(4 * dice()) }, () => ({
    points: Float64Array.from([at(), at(), at(), at(), at(), at()]),
    closed: dice() < 0.5,
  }));
  const seen = cellsAlong(cells, strokes, 0.3);
  const cut = cellsAlong(cells, strokes, 0.3 + 0.4 * dice());
  const bites = Array.from({ length: Math.floor(3 * dice()) }, () => {
    const [x, y] = [at(), at()];
    return { points: Float64Array.from([x, y, x, y]), closed: false };
  });
  const bitten = cellsAlong(cells, bites, 0.2 + 0.5 * dice());
  for (let k = 0; k < cut.length; k++) if (bitten[k]) cut[k] = 0;
  return { cells, seen, cut };
}

test('a letter that is plainly as drawn has no fault when it is measured: 120 by chance (seed 20261130)', () => {
  const dice = chances(20_261_130);
  const met = { plain: 0, faulty: 0 };
  for (let k = 0; k < 120; k++) {
    const { cells, seen, cut } = chanceLetter(dice);
    const faults = compareSeen(cells, cut, seen, 10, 0.1);
    if (faults.length > 0) met.faulty++;
    if (!isPlainlySeen(cells, cut, seen, 10)) continue;
    met.plain++;
    expect(faults, `letter ${k}`).toEqual([]);
  }
  // Both kinds are met, and not by a few.
  expect(met.plain).toBeGreaterThan(8);
  expect(met.faulty).toBeGreaterThan(8);
});
