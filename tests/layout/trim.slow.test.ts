import { test } from 'vitest';
import { trimsAreas, trimsLines } from './trim-cases.js';

test('100 random parts: lines are trimmed to their half width', () => trimsLines(100));
test('250 random parts: areas are trimmed to their half width', () => trimsAreas(250));
