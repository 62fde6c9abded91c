import { describe, expect, it } from 'vitest';
import { hatchData } from '../../src/sheets/hatch.js';
import { numbersIn } from './drawn.js';

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
