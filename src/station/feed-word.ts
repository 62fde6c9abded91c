import type { Station } from '../documents/schema/station.js';
import { formatFeed } from './program-numbers.js';

/**
 * The F word of a move of `length` mm along the surface at `feed` mm/min, which takes X and Z together `linear` mm
 * and turns A by `turned` degrees.
 *
 * G93: F is 1/min. G94: where X, Y or Z moves, F is along them "as if the rotational axes were not moving"; where one
 * rotary axis moves alone, degrees per minute. T. Kramer, F. Proctor, E. Messina, The NIST RS274/NGC Interpreter,
 * version 3, NISTIR 6556 (2000), section 2.1.2.5.
 */
export function feedWord(
  mode: Station['feed'],
  feed: number,
  length: number,
  linear: number,
  turned: number,
): string {
  const perMinute = feed / length;
  if (mode === 'inverse-time') return `F${formatFeed(perMinute)}`;
  return `F${formatFeed((linear > 0 ? linear : turned) * perMinute)}`;
}
