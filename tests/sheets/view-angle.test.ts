import { describe, expect, it } from 'vitest';
import type { CutBlock } from '../../src/cutting/cuts.js';
import { chooseViewAngle } from '../../src/sheets/view-angle.js';
import { nearDeg } from '../../src/units.js';
import { barrelScene, blocksOf, capScene, capSurface, numberBlocks } from './lantern-coast.js';

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
    expect(chooseViewAngle(capSurface, [], at(0))).toBe(0);
    expect(chooseViewAngle(capSurface, [], [])).toBe(0);
    expect(barrelScene.viewAngle).toBe(0);
  });

  it('is turned when a mark or a clip lies across the seam', () => {
    expect(chooseViewAngle(capSurface, [], at(180))).toBe(180);
    // Clip at 0 and number at 180: neither 0 nor 180 will do.
    const view = capScene.viewAngle;
    expect([0, 180]).not.toContain(view);
    for (const n of [1, 12, 88]) expect(seamMeets(view, numberBlocks(`${n}/90`))).toBe(false);
  });

  it('spares marks before keep-outs', () => {
    // Marks all round but for a gap where the clip is: the seam goes through the clip.
    const all = [60, 110, 160, 210, 260, 310].flatMap((angle) => at(angle, '888'));
    const view = chooseViewAngle(capSurface, capScene.obstacles, all);
    expect(seamMeets(view, all)).toBe(false);
  });

  it('finds every gap from 0 to 360', () => {
    for (let angle = 0; angle < 360; angle += 7.3) {
      const blocks = [...at(angle), ...at(angle + 100), ...at(angle + 200)];
      expect(seamMeets(chooseViewAngle(capSurface, [], blocks), blocks), `${angle}`).toBe(false);
    }
  });
});
