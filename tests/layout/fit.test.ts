import { test } from 'vitest';
import { fitsOnRandomParts } from './fit-cases.js';

test('20 random parts: fitted marks overlap keep-outs by zero area; half a per cent larger fails', () =>
  fitsOnRandomParts(20, 9));
