import { problem } from '../messages.js';
import type { Reading } from './reading.js';
import type { Element } from './tree.js';

const WITHOUT_LINES = new Set('image text foreignObject video audio script'.split(' '));
const ANIMATIONS = new Set('animate animateTransform animateMotion animateColor set'.split(' '));

/** Remarks on an element of a kind that has nothing to cut; whether it is one. */
export function remarkOnUnread(reading: Reading, { name, where }: Element): boolean {
  if (ANIMATIONS.has(name)) reading.remark(problem('artwork.left-out-animation', where, {}));
  else if (WITHOUT_LINES.has(name))
    reading.remark(problem('artwork.left-out-element', where, { kind: name }));
  else return false;
  return true;
}
