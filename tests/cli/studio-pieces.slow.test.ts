import path from 'node:path';
import { expect, test } from 'vitest';
import { well } from './burin.js';
import { cleanAfterAll, newBench } from './folders.js';

cleanAfterAll();

const bench = newBench(undefined, 'studio-pieces');

test('the studio pieces pass every check', async () => {
  const said = JSON.parse(await well(['check', '--json'], { cwd: bench }));
  expect(said.ok).toBe(true);
});

test('the program of a title band, cut at changing depths, is read back', async () => {
  await well(['issue', 'title-band', '--series', 'studio', '--count', '1', '--by', 'E. Marrow'], {
    cwd: bench,
  });
  const out = path.join(bench, 'out');
  const words = ['--series', 'studio', '--numbers', '1', '--station', 'rotary-tilted', '--out', out];
  await well(['cut', 'title-band', ...words], { cwd: bench });
  const program = path.join(out, 'studio-0001/barrel-taper-cone-40.nc');
  const said = JSON.parse(await well(['readback', '--json', program], { cwd: bench }));
  expect(said.ok).toBe(true);
});
