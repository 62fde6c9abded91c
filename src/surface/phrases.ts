import { definePhrases, type Phrase } from '../problem.js';
import type { KeepoutShape } from './part-shape.js';

/** What a cut keeps clear of on a surface. */
export const surfaceObstacles = definePhrases(', ', {
  'surface.lower-edge': 'lower edge of {surface}',
  'surface.upper-edge': 'upper edge of {surface}',
  'surface.below-met': 'part below {surface}, which the cutter would meet',
  'surface.above-met': 'part above {surface}, which the cutter would meet',
  'surface.itself-met': '{surface} itself, which the shank would meet',
  'surface.keepout':
    '{kind, select, band {band {keepout}} thread {thread {keepout}} clip {clip {keepout}} other {window {keepout}}}',
});

export const keepoutName = ({ kind, id }: Pick<KeepoutShape, 'kind' | 'id'>): Phrase =>
  surfaceObstacles.phrase('surface.keepout', { kind, keepout: id });
