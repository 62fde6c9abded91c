import { describe, expect, test } from 'vitest';
import { type SweptMove, type SweptTool, sweptCut } from '../../src/cutting/swept-cut.js';
import { cellsOver } from '../../src/geometry/cell-grid.js';
import { cutWidth } from '../../src/layout/cut-width.js';
import { reckonedCut, type TrueCut, trueCut } from '../../src/layout/true-cut.js';
import { cone } from '../../src/surface/cone.js';
import { cylinder } from '../../src/surface/cylinder.js';
import { chances } from '../soak/soak.js';

type Cutter = SweptTool['cutter'];
const SHARED = { kind: 'cutter', version: 1, name: 'test', feed: 100, plunge: 50, depth: 10 } as const;
const coneOf = (tip: number, angle: number): Cutter => ({
  ...SHARED,
  shape: 'cone',
  tip,
  angle,
  speed: 9000,
});
const ballOf = (diameter: number): Cutter => ({ ...SHARED, shape: 'ball', diameter, speed: 9000 });
const flatOf = (diameter: number): Cutter => ({ ...SHARED, shape: 'flat', diameter, speed: 9000 });

const CELLS = 800;

/** Half way along a surface 20 mm long whose radius there is `radius`. */
const Z = 10;
const surfaceOf = (radius: number, taper: number) => {
  const rise = 10 * Math.tan((taper * Math.PI) / 180);
  return taper === 0 ? cylinder('side', 0, 20, radius) : cone('side', 0, 20, radius - rise, radius + rise);
};

/** The same by sweeping the cutter along a stretch of ring, and along the part, and looking where its cut ends. */
function swept(
  cutter: Cutter,
  depth: number,
  surface: ReturnType<typeof surfaceOf>,
  setup: SweptTool['setup'],
): TrueCut {
  const tool = { surface, setup, cutter };
  const slant = surface.slant(Z);
  const reach = 3 * (cutWidth(cutter, 2 * depth) + depth);
  const at = (z: number, angle: number) => ({ z, angle, depth });
  /** Along the middle column or row of a window: where the cut ends to either side, and how deep it is at the most. */
  const ends = (move: SweptMove, box: readonly [number, number, number, number]) => {
    const cell = reach / CELLS;
    const cells = cellsOver(box, cell);
    const { inside, depth: deep } = sweptCut(tool, [move], cells, 0);
    const isColumn = cells.columns === 1;
    const place = (k: number) => (isColumn ? cells.bottom - slant : cells.left) + (k + 0.5) * cell;
    let [low, high, floor] = [0, 0, 0];
    for (let k = 1; k < inside.length; k++) {
      const [before, here] = [inside[k - 1]!, inside[k]!];
      floor = Math.max(floor, deep[k]!);
      if (before > 0 === here > 0) continue;
      // Near its edge a cut is so much inside as it is far from it.
      const edge = place(k) - cell + (before / (before - here)) * cell;
      if (here > 0) low = edge;
      else high = edge;
    }
    return { low, high, floor };
  };
  const cell = reach / CELLS;
  const ring = ends({ from: at(Z, -20), to: at(Z, 20) }, [
    -0.4 * cell,
    slant - reach,
    0.4 * cell,
    slant + reach,
  ]);
  const along = ends({ from: at(Z - 1, 0), to: at(Z + 1, 0) }, [
    -reach,
    slant - 0.4 * cell,
    reach,
    slant + 0.4 * cell,
  ]);
  return { up: ring.high, down: -ring.low, round: along.high, floor: ring.floor };
}

describe('the true cut against the swept cut', () => {
  const dice = chances(20_261_201);
  const between = (low: number, high: number) => low + (high - low) * dice();
  const jobs = Array.from({ length: 24 }, (_, k) => {
    const cutter = [
      coneOf(between(0.02, 0.3), between(20, 90)),
      ballOf(between(0.2, 2)),
      flatOf(between(0.2, 2)),
    ][k % 3]!;
    const taper = k % 4 === 0 ? 0 : between(1, 22);
    return {
      cutter,
      taper,
      depth: between(0.03, 0.25),
      radius: between(5, 9),
      setup: k % 2 ? 'level' : 'tilted',
    } as const;
  });
  test.each(jobs)(
    '$cutter.shape, $setup, taper $taper (seed 20261201)',
    ({ cutter, taper, depth, radius, setup }) => {
      const found = trueCut(cutter, depth, { radius, taper }, setup);
      const want = swept(cutter, depth, surfaceOf(radius, taper), setup);
      for (const side of ['up', 'down', 'floor'] as const)
        expect(Math.abs(found[side] - want[side]), side).toBeLessThan(0.003);
      // The move along a cone climbs while it is swept, and its section is an ellipse.
      expect(Math.abs(found.round - want.round) / want.round, 'round').toBeLessThan(
        taper === 0 ? 0.003 : 0.06,
      );
    },
  );
});

describe('what an outsider found', () => {
  // R acos((R - d) / R) of a ring of 3 mm, 0.12 mm deep, is 0.85 mm: 15 % less than the half of the end.
  test('a flat end of 2 mm on a tube of 6 mm cuts 15 % narrower along the part', () => {
    const { narrower, width, plain } = reckonedCut(flatOf(2), 0.12, surfaceOf(3, 0), ['level']);
    expect(narrower).toBeCloseTo(1 - 3 * Math.acos(2.88 / 3), 6);
    expect(narrower).toBeGreaterThan(0.14);
    expect(width).toBe(plain);
  });
  test('a level cone on a taper of 22 degrees cuts a third wider uphill, and a wide end 0.11 mm deeper', () => {
    const level = reckonedCut(coneOf(0, 40), 0.2, surfaceOf(8, 22), ['level', 'tilted']);
    expect(level.wider).toBeGreaterThan(0.3);
    expect(level.width).toBeCloseTo(level.plain * (1 + level.wider), 9);
    expect(reckonedCut(coneOf(0, 40), 0.2, surfaceOf(8, 22), ['tilted'])).toMatchObject({
      wider: 0,
      width: level.plain,
      floor: 0.2,
    });
    const { floor } = reckonedCut(flatOf(0.6), 0.2, surfaceOf(8, 22), ['level']);
    expect(floor - 0.2).toBeCloseTo(0.3 * Math.sin((22 * Math.PI) / 180), 9);
  });
  test('on a barrel that tapers by a degree nothing is reckoned differently', () => {
    const cutter = coneOf(0.06, 40);
    expect(reckonedCut(cutter, 0.08, surfaceOf(6, 1), ['level', 'tilted'])).toMatchObject({
      ...{ wider: 0, narrower: 0 },
      width: cutWidth(cutter, 0.08),
    });
  });
});
