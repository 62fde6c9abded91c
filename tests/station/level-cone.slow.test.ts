import { describe, test } from 'vitest';
import { checkClearedShapes, checkTrimmedWaves } from './level-cone.js';

describe('on level cones read-back takes what is right, over 3 to 5 figures', () => {
  test('cleared shapes', () => checkClearedShapes(400));
  test('waves trimmed at a window', () => checkTrimmedWaves(400));
});
