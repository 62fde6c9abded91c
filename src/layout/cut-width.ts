import type { Cutter } from '../documents/schema/cutter.js';
import { toRad } from '../units.js';

/**
 * Width of the groove a cutter leaves at a depth, mm. Cone: w = t + 2 d tan(angle / 2), t the tip width (plane
 * trigonometry). Ball: the chord, w = 2 sqrt(R^2 - (R - d)^2), the whole diameter from d = R on.
 */
export function cutWidth(cutter: Cutter, depth: number): number {
  switch (cutter.shape) {
    case 'cone':
      return cutter.tip + 2 * depth * Math.tan(toRad(cutter.angle) / 2);
    case 'ball': {
      const r = cutter.diameter / 2;
      return depth >= r ? cutter.diameter : 2 * Math.sqrt(r * r - (r - depth) ** 2);
    }
    case 'flat':
      return cutter.diameter;
    case 'drag':
    case 'beam':
      return cutter.width;
  }
}
