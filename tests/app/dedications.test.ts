import { test } from 'vitest';
import { cleanAfterAll } from '../cli/folders.js';
import { cutDedications } from './many-dedications.js';

cleanAfterAll();

// Seven shares no factor with the lists of names: all of them come.
test('143 dedications in the letters of Latin Europe are fitted, the narrow ones listed, and cut', () =>
  cutDedications(7));
