import { test } from 'vitest';
import { fitsOnRandomParts } from './fit-cases.js';

test.each([9, 10])(
  '500 random parts from seed %i: marks overlap keep-outs by zero area; larger fails',
  (seed) => fitsOnRandomParts(500, seed),
);
