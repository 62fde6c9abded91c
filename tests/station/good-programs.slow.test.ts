import { test } from 'vitest';
import { checkGoodPrograms } from './good-programs.js';

test('of 3,000 good programs none is refused', () => checkGoodPrograms(3000));
