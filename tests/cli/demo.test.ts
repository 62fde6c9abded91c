import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { plainly } from '../station/plain-parser.js';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, filesIn, hashes, newFolder } from './folders.js';

cleanAfterAll();

test('the demo does the whole job: 12 pieces and more, two surfaces of which one is a cone; a second run gives the same', async () => {
  const place = newFolder();
  const dir = path.join(place, 'out/nine-lights');
  const said = await burin(['demo'], { cwd: place });
  expect(said.code, said.stderr).toBe(0);
  expect(linesOf(said.stdout)[0]).toMatch(/^15 pieces over 2 surfaces, about \d+ minutes/);
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

  const first = hashes(out);
  writeFileSync(path.join(out, 'main-0001/left-over.nc'), 'G0 X0\n');
  const again = await burin(['--json', 'demo'], { cwd: place });
  expect(again.code, again.stderr).toBe(0);
  const answer = JSON.parse(again.stdout) as { ok: boolean; worstMm: number; cut: { pieces: unknown[] } };
  expect(answer.ok).toBe(true);
  expect(answer.cut.pieces).toHaveLength(15);
  expect(answer.worstMm).toBeLessThan(0.003);
  expect(hashes(out)).toEqual(first);
});

test('a folder the demo did not make is refused, and nothing in it is touched', async () => {
  const place = newFolder();
  mkdirSync(path.join(place, 'mine'));
  writeFileSync(path.join(place, 'mine/letter.txt'), 'Dear');
  const said = await burin(['demo', '--out', 'mine'], { cwd: place });
  expect({ code: said.code, stdout: said.stdout }).toEqual({ code: 2, stdout: '' });
  expect(linesOf(said.stderr)).toEqual([
    'mine: This folder has something in it. Name a new folder, or an empty one.',
  ]);
  expect(filesIn(place)).toEqual(['mine/letter.txt']);
});
