import { inset, type Polygons } from '../geometry/polygons.js';
import { simplify } from '../geometry/simplify.js';
import { offsetSteps } from '../geometry/sweep-steps.js';
import { CutWork } from './cut-work.js';
import { refuse } from './messages.js';

/**
 * Steps that clearing one area may take: a step is one point of one inset, about twenty microseconds of work with what
 * is looked for beside it. A tip of 0.1 mm clears a disc 30 mm across in 60,000.
 */
const MOST_STEPS = 200_000;
/** What an inset costs beside its points, in steps. */
const STEPS_OF_INSET = 100;
/** Where many edges lie abreast, an inset with what is looked for beside it is this part of the work of its sweep. */
const STEPS_OF_SWEEP = 1 / 80;
/** Each inset rounds the corners of the one before with more points: those that move it by less than this, mm, go again. */
const SIMPLIFY_MM = 0.0005;

/** What the levels are for, which says what cures too many of them. */
type For = 'clearing' | 'floor of a groove';

/**
 * An area drawn in by `first` mm, then by `step` mm more each time until nothing is left, or `most` times; outermost
 * first. Each level is drawn in from the one before: what lies within a + b of the edge is what lies within b of the edge
 * that a leaves. From the area itself an inset larger than its details would cross itself once for each pair of them.
 * The first is exact; later ones are simplified.
 * Throws a Refusal (exit 1) where that takes too many steps.
 */
export function insetLevels(
  area: Polygons,
  first: number,
  step: number,
  most = Number.POSITIVE_INFINITY,
  work = new CutWork(),
  purpose: For = 'clearing',
): Polygons[] {
  const levels: Polygons[] = [];
  let steps = 0;
  let from = area;
  for (let k = 0; k < most; k++) {
    const points = from.reduce((sum, ring) => sum + ring.length / 2, 0);
    const swept = offsetSteps(from, k === 0 ? -first : -step) * STEPS_OF_SWEEP;
    const own = Math.max(points, swept) + STEPS_OF_INSET;
    steps += own;
    if (steps > MOST_STEPS) {
      const shortStep = String(Number(step.toPrecision(3)));
      const code = purpose === 'clearing' ? 'cutting.too-many-levels' : 'cutting.too-many-floor-levels';
      throw refuse(code, '', { levels: k, step: shortStep, points, most: MOST_STEPS });
    }
    work.take(own, 'levelPoint');
    from = k === 0 ? inset(from, first) : inset(from, step).map((ring) => simplify(ring, true, SIMPLIFY_MM));
    if (from.length === 0) return levels;
    levels.push(from);
  }
  return levels;
}

/**
 * Throws a Refusal (exit 1) where drawing rings in by so many mm, which any way to take out their area begins with,
 * would alone take more steps than clearing may.
 */
export function checkEdges(rings: Polygons, by: number): void {
  if (offsetSteps(rings, -by) * STEPS_OF_SWEEP <= MOST_STEPS) return;
  const points = rings.reduce((sum, ring) => sum + ring.length / 2, 0);
  throw refuse('cutting.too-many-edges', '', { points, most: MOST_STEPS });
}
