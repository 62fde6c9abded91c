import { test } from 'vitest';
import { checkGoodPrograms } from './good-programs.js';

test('no good program is refused', () => checkGoodPrograms(200));
