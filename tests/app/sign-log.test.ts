import { chmodSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { burin, well } from '../cli/burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from '../cli/folders.js';

cleanAfterAll();

const ISSUE = ['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss'];

test('a key that cannot be used keeps no number from being issued; it is told after the entry', async () => {
  const cwd = newQuickBench();
  const keys = newFolder();
  const env = { BURIN_KEYS: keys };
  await well(['key', 'new'], { cwd, env });
  await well(ISSUE, { cwd, env });
  const key = join(keys, readdirSync(keys).find((name) => name.endsWith('.pem'))!);
  writeFileSync(key, 'not a key any more');
  const damaged = await burin(ISSUE, { cwd, env });
  expect([damaged.code, damaged.stdout]).toEqual([0, '02/90\n']);
  expect(damaged.stderr).toMatch(/^Not signed: .*\.pem: /);
  if (process.platform === 'win32') return;
  chmodSync(key, 0o644);
  const open = await burin(ISSUE, { cwd, env });
  expect([open.code, open.stdout]).toEqual([0, '03/90\n']);
  expect(open.stderr).toMatch(/^Not signed: .*600/);
});

test('where it cannot be told what was signed last, nothing is entered', async () => {
  const cwd = newQuickBench();
  const keys = newFolder();
  const env = { BURIN_KEYS: keys };
  await well(['key', 'new'], { cwd, env });
  // A folder stands where the note of it should.
  const key = readdirSync(keys).find((name) => name.endsWith('.pem'))!;
  mkdirSync(join(keys, key.replace(/pem$/, 'last')));
  const said = await burin(ISSUE, { cwd, env });
  expect([said.code, said.stdout, said.stderr.split('\n').length]).toEqual([3, '', 2]);
  expect(await well(['register', 'nine-lights'], { cwd, env })).not.toContain('issued');
});
