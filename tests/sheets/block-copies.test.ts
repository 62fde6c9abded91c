import { describe, expect, it } from 'vitest';
import { copiesOnPicture } from '../../src/sheets/block-copies.js';
import { arcOnCap, barrelScene, blocksOf, capSurface, words } from './lantern-coast.js';

const ring = { baseline: 'ring', reading: 'up' } as const;
const at = (angle: number, text = '12/90') =>
  blocksOf(capSurface, 'number', text, 3.2, ring, { z: 26, angle });

describe('a block at the seam', () => {
  it('is drawn whole at both ends', () => {
    const block = at(180, '8')[0]!;
    const moved = copiesOnPicture(capSurface, block, 0);
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
    for (const block of at(90)) expect(copiesOnPicture(capSurface, block, 0)).toHaveLength(1);
    for (const block of words)
      expect(copiesOnPicture(barrelScene.surface, block, barrelScene.viewAngle)).toHaveLength(1);
  });

  it('reaches back from just past the end', () => {
    const [block] = at(180 - arcOnCap(1.5), '8');
    expect(copiesOnPicture(capSurface, block!, 0)).toHaveLength(2);
  });
});
