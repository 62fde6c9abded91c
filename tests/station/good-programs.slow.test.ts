import { test } from 'vitest';
import { checkGoodPrograms } from './good-programs.js';

test('of 1,000 good programs none is refused', () => checkGoodPrograms(1000));
