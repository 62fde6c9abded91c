import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { plainly } from '../station/plain-parser.js';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, filesIn, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

test('the demo does the whole job: 12 pieces and more, two surfaces of which one is a cone; the register of the environment is left alone', async () => {
  const place = newFolder();
  const dir = path.join(place, 'out/nine-lights');
  // A bench of the same name on this machine, whose key has signed: the demo is another one.
  const keys = path.join(newFolder(), 'keys');
  const own = { cwd: newQuickBench(), env: { BURIN_KEYS: keys } };
  await well(['key', 'new'], own);
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '2', '--by', 'A. Moss'], own);
  // A register that cannot be reached: asked for anything, it would be in the way.
  const env = { BURIN_REGISTER: 'postgres://keeper@127.0.0.1:1/none', BURIN_KEYS: keys };
  const said = await burin(['demo'], { cwd: place, env });
  expect(said.code, said.stderr).toBe(0);
  expect(linesOf(said.stdout)[0]).toMatch(/^15 pieces over 2 surfaces, about \d+ minutes/);
  expect(filesIn(dir)).toContain('register.db');
  const out = path.join(dir, 'out/nine-lights');
  const files = filesIn(out);
  const pieces = new Set(files.filter((f) => f.includes('/')).map((f) => f.split('/')[0]));
  expect(pieces.size).toBeGreaterThanOrEqual(12);
  for (const piece of pieces) {
    const own = files.filter((f) => f.startsWith(`${piece}/`));
    expect(own.filter((f) => f.endsWith('.svg'))).toHaveLength(2);
    expect(own.filter((f) => f.endsWith('.nc'))).toHaveLength(2);
  }
  expect(files).toEqual(expect.arrayContaining(['proof.svg', 'run-sheet.html']));
  // One barrel narrows along its length: depth is reached at different heights at its two ends.
  const unrolled = await well(['unroll', 'barrel', '--surface', 'taper', '--workshop', dir], {
    input: '10,90\n60,90\n',
  });
  const [low, high] = linesOf(unrolled).map((l) => Number(l.split(',')[0]));
  expect(low! - high!).toBeGreaterThan(1);
  for (const file of files.filter((f) => f.endsWith('.nc')))
    expect(plainly(readFileSync(path.join(out, file), 'latin1')).moves.length).toBeGreaterThan(20);
});

test('a folder the demo did not make is refused, and nothing in it is touched', async () => {
  const place = newFolder();
  mkdirSync(path.join(place, 'mine'));
  writeFileSync(path.join(place, 'mine/letter.txt'), 'Dear');
  const said = await burin(['demo', '--out', 'mine'], { cwd: place });
  expect({ code: said.code, stdout: said.stdout }).toEqual({ code: 2, stdout: '' });
  expect(linesOf(said.stderr)).toEqual([
    'mine: This folder is not empty. Name a new folder, or an empty one.',
  ]);
  expect(filesIn(place)).toEqual(['mine/letter.txt']);
});
