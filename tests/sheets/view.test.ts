import { describe, expect, it } from 'vitest';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { movedBlock } from '../../src/sheets/cut-path.js';
import { hatchData } from '../../src/sheets/hatch.js';
import { viewOf } from '../../src/sheets/view.js';
import { nearDeg } from '../../src/units.js';
import { numbersIn } from './drawn.js';
import {
  arcOnCap,
  barrelScene,
  blocksOf,
  capScene,
  capSurface,
  numberBlocks,
  words,
} from './lantern-coast.js';

const ring = { baseline: 'ring', reading: 'up' } as const;
const at = (angle: number, text = '12/90') =>
  blocksOf(capSurface, 'number', text, 3.2, ring, { z: 26, angle });

/** Whether the seam of a view runs through any of the blocks. */
function seamMeets(view: number, blocks: readonly CutBlock[]): boolean {
  return blocks.some((block) => {
    const fromSeam = block.lines.flatMap(({ points }) =>
      Array.from({ length: points.length / 2 }, (_, i) =>
        nearDeg(capSurface.toSurfaceNear(points[2 * i]!, points[2 * i + 1]!).angle + block.turn - view - 180),
      ),
    );
    const [least, most] = [Math.min(...fromSeam), Math.max(...fromSeam)];
    return least <= 0 && most >= 0 && most - least < 180;
  });
}

describe('the view', () => {
  it('is 0 while the seam there is clear', () => {
    expect(viewOf(capSurface, [], at(0))).toBe(0);
    expect(viewOf(capSurface, [], [])).toBe(0);
    expect(barrelScene.view).toBe(0);
  });

  it('is turned when a mark or a clip lies across the seam', () => {
    expect(viewOf(capSurface, [], at(180))).toBe(180);
    // Clip at 0 and number at 180: neither 0 nor 180 will do.
    const view = capScene.view;
    expect([0, 180]).not.toContain(view);
    for (const n of [1, 12, 88]) expect(seamMeets(view, numberBlocks(`${n}/90`))).toBe(false);
  });

  it('spares marks before keep-outs', () => {
    // Marks all round but for a gap where the clip is: the seam goes through the clip.
    const all = [60, 110, 160, 210, 260, 310].flatMap((angle) => at(angle, '888'));
    const view = viewOf(capSurface, capScene.obstacles, all);
    expect(seamMeets(view, all)).toBe(false);
  });

  it('finds every gap from 0 to 360', () => {
    for (let angle = 0; angle < 360; angle += 7.3) {
      const blocks = [...at(angle), ...at(angle + 100), ...at(angle + 200)];
      expect(seamMeets(viewOf(capSurface, [], blocks), blocks), `${angle}`).toBe(false);
    }
  });
});

describe('a block at the seam', () => {
  it('is drawn whole at both ends', () => {
    const block = at(180, '8')[0]!;
    const moved = movedBlock(capSurface, block, 0);
    expect(moved.map((m) => Math.round(m.turned)).sort((a, b) => a - b)).toEqual([-180, 180]);
    const [one, two] = moved;
    const turn = 2 * Math.PI * capSurface.radius(0);
    one!.lines.forEach(({ points }, k) => {
      const other = two!.lines[k]!.points;
      for (let i = 0; i < points.length; i += 2)
        expect(Math.abs(Math.abs(points[i]! - other[i]!) - turn)).toBeLessThan(1e-9);
    });
  });

  it('is drawn once elsewhere', () => {
    for (const block of at(90)) expect(movedBlock(capSurface, block, 0)).toHaveLength(1);
    for (const block of words)
      expect(movedBlock(barrelScene.surface, block, barrelScene.view)).toHaveLength(1);
  });

  it('reaches back from just past the end', () => {
    const [block] = at(180 - arcOnCap(1.5), '8');
    expect(movedBlock(capSurface, block!, 0)).toHaveLength(2);
  });
});

describe('hatching', () => {
  it('keeps inside the outline and out of holes', () => {
    const outer = Float64Array.of(0, 0, 10, 0, 10, 10, 0, 10);
    const hole = Float64Array.of(3, 3, 3, 7, 7, 7, 7, 3);
    const d = hatchData([outer, hole], 0.9);
    const values = numbersIn(d);
    expect(values.length).toBeGreaterThan(40);
    let length = 0;
    for (let i = 0; i < values.length; i += 4) {
      const [x0, y0, x1, y1] = values.slice(i, i + 4) as [number, number, number, number];
      expect(Math.abs(y1 - y0 - (x1 - x0))).toBeLessThan(2e-4);
      for (const v of [x0, y0, x1, y1]) expect(v).toBeGreaterThanOrEqual(-1e-4);
      const [mx, my] = [(x0 + x1) / 2, (y0 + y1) / 2];
      expect(mx > 3.001 && mx < 6.999 && my > 3.001 && my < 6.999).toBe(false);
      length += Math.hypot(x1 - x0, y1 - y0);
    }
    // Lines `gap` apart cover an area of length times gap.
    expect(Math.abs(length * 0.9 - 84)).toBeLessThan(84 * 0.05);
  });
});
