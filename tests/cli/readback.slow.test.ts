import { expect, test } from 'vitest';
import { cleanAfterAll, newBench } from './folders.js';
import { answerTo, cutPrograms, findAlterations } from './readback-programs.js';

cleanAfterAll();

test('programs of grooves as of lines are accepted untouched, and with one figure altered or one line gone are not', async () => {
  const cut = await cutPrograms(newBench());
  expect((await answerTo(cut.bench, cut.programs, 0)).ok).toBe(true);
  await findAlterations(cut, 20, 1);
});
