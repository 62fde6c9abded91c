import { beforeAll, test } from 'vitest';
import { cleanAfterAll } from './folders.js';
import { cutPrograms, findAlterations } from './readback-programs.js';

cleanAfterAll();
beforeAll(cutPrograms);

test('one figure altered anywhere, or one line gone, is found in every program', () =>
  findAlterations(12, 1));
