import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { checkWorkshop } from '../../src/app/check.js';
import { newBench } from '../cli/folders.js';
import { cleanAfterEach, newEnvironment, newFolder, refusalOf } from './workshop.js';

cleanAfterEach();

// `tests/station/program-maker.test.ts` tries the same daily with a smaller bound: up to this one, 30 MB are written.
test('a program longer than a read-back takes, by its passes, is refused by check as by cut', async () => {
  const bench = newBench(join(newFolder(), 'bench'));
  rmSync(join(bench, 'stations/rotary-tilted.yaml'));
  const material = join(bench, 'materials/lantern-resin.yaml');
  const before = readFileSync(material, 'utf8');
  const after = before.replace(/^pass: .*$/m, 'pass: 0.001');
  expect(after).not.toBe(before);
  writeFileSync(material, after);
  const { problems } = await refusalOf(checkWorkshop(bench, newEnvironment()));
  expect(new Set(problems.map(({ code }) => code))).toEqual(new Set(['station.program-too-long']));
});
