import { test } from 'vitest';
import { cleanAfterAll } from '../cli/folders.js';
import { cutDedications } from './many-dedications.js';

cleanAfterAll();

test('a thousand dedications in the letters of Latin Europe are fitted, the narrow ones listed, and cut', () =>
  cutDedications(1));
