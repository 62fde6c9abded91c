import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { burin } from './burin.js';
import { cleanAfterAll, hashes, newFolder } from './folders.js';

cleanAfterAll();

test('a second demo replaces the first, and gives the same', async () => {
  const place = newFolder();
  const out = path.join(place, 'out/nine-lights/out/nine-lights');
  const one = await burin(['demo'], { cwd: place });
  expect(one.code, one.stderr).toBe(0);
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
