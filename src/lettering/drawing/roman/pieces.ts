import { bar, type Stroke } from '../pen.js';

/** Height of small letters of the roman: lower than the sans, as in old book hands. */
export const X = 660;

/** Half a serif's length at the end of a stem. */
const HALF = 85;
const SMALL_HALF = 70;

/** A serif across the end of a capital's stem. */
export const serif = (x: number, y: number, left = HALF, right = HALF): Stroke =>
  bar(x - left, y, x + right, y);
/** The same on a small letter. */
export const foot = (x: number, y = 0, left = SMALL_HALF, right = SMALL_HALF): Stroke =>
  bar(x - left, y, x + right, y);
/** The slanting start of a small letter's stem, as a broad pen leaves it. */
export const flag = (x: number, y: number): Stroke => bar(x - 95, y - 55, x, y);
/** The upright tick at the end of an arm, down from it or up. */
export const tick = (x: number, y: number, by: number): Stroke => bar(x, y, x, y + by);
