import type { Polygons } from '../geometry/polygons.js';
import { refuse } from './messages.js';

/**
 * The most work that clearing one area may take: insets, each as long as there are points along the edges. A tip of
 * 0.1 mm clears a shape 30 mm across with 8,000 points along its edges in this much.
 */
const MOST_WORK = 5_000_000;
/** What an inset costs beside its points, in points. */
const COST_OF_INSET = 1000;

/** Throws a Refusal (exit 1) where going across `size` mm of an area in steps of `step` mm is too much work. */
export function checkLevels(area: Polygons, size: number, step: number): void {
  if (area.length === 0) return;
  const points = area.reduce((sum, ring) => sum + ring.length / 2, 0);
  if ((size / step) * (points + COST_OF_INSET) <= MOST_WORK) return;
  const shortStep = String(Number(step.toPrecision(3)));
  throw refuse('cutting.too-many-levels', '', { size, step: shortStep, points, most: MOST_WORK });
}
