import type { Cutter } from '../documents/schema/cutter.js';
import type { Material } from '../documents/schema/material.js';
import { refuse } from './messages.js';

/** No mark is cut in more passes than this. */
const MOST_PASSES = 1000;

/**
 * The depth of each pass, mm, in equal steps none deeper than cutter and material allow; the last is the full depth.
 * Throws a Refusal (exit 2) where that would be more than 1000 passes.
 */
export function passes(depth: number, cutter: Cutter, material: Material): number[] {
  const deepest = Math.min(cutter.pass ?? Number.POSITIVE_INFINITY, material.pass);
  // A hair of tolerance, so that 0.3 in passes of 0.1 is three and not four.
  const count = Math.max(1, Math.ceil(depth / deepest - 1e-9));
  if (count > MOST_PASSES)
    throw refuse('cutting.too-many-passes', `cutter ${cutter.name}, material ${material.name}`, {
      depth,
      pass: String(deepest),
      passes: count,
      most: MOST_PASSES,
    });
  return Array.from({ length: count }, (_, k) => (k + 1 === count ? depth : (depth * (k + 1)) / count));
}
