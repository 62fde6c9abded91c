import { bar, type Stroke } from '../pen.js';

/** Height of small letters of the roman: lower than the sans, as in old book hands. */
export const X = 660;

/** Half a serif's length at the end of a stem. */
const HALF = 80;
const SMALL_HALF = 70;

/** A serif across the end of a capital's stem. */
export const serif = (x: number, y: number, left = HALF, right = HALF): Stroke =>
  bar(x - left, y, x + right, y);
/** The same on a small letter. */
export const foot = (x: number, y = 0, left = SMALL_HALF, right = SMALL_HALF): Stroke =>
  bar(x - left, y, x + right, y);
/** The slanting start of a small letter's stem, as a broad pen leaves it. */
export const flag = (x: number, y: number): Stroke => bar(x - 95, y - 55, x, y);
/** The upright serif at the end of a curved arm, longer towards the opening (`down` units below, `up` above). */
export const beak = (x: number, y: number, up: number, down: number): Stroke => bar(x, y + up, x, y - down);
/** The level half serif to the right, where a small letter's stem runs out. */
export const toe = (x: number, y = 0): Stroke => bar(x, y, x + 85, y);
/** The upright tick at the end of an arm, down from it or up. */
export const tick = (x: number, y: number, by: number): Stroke => bar(x, y, x, y + by);
