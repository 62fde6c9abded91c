import type { Cutter } from '../documents/schema/cutter.js';
import type { Mark } from '../documents/schema/design.js';
import type { Material } from '../documents/schema/material.js';
import { passes } from './pass-depths.js';
import type { CutParameters } from './strategies.js';

/** How a mark is cut: its strategy and depth, its cutter, and the passes that the material asks for. */
export function cutParameters(mark: Mark, cutter: Cutter, material: Material): CutParameters {
  const way = 'way' in mark ? mark.way : 'trace';
  const steps = passes(mark.depth, cutter, material);
  const keepDirection = 'order' in mark && mark.order.includes('one-way');
  const hatch = 'hatch' in mark && mark.hatch !== undefined ? { hatch: mark.hatch } : {};
  return { way, cutter, depth: mark.depth, passes: steps, keepDirection, ...hatch };
}
