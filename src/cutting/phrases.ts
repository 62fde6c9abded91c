import { definePhrases } from '../problem.js';

/** What mends strokes too close to cut. */
export const fixes = definePhrases(', or ', {
  'cutting.fix-spacing': 'set them {spacing} mm farther apart',
  'cutting.fix-size': 'make it {factor} times as large',
  'cutting.fix-narrower-cutter': 'take a cutter that cuts {width} mm or narrower',
  'cutting.fix-narrower-cut': 'cut {width} mm wide at most, shallower or with a finer cutter',
  'cutting.fix-either': 'use a larger size or a finer cutter',
});
