import path from 'node:path';
import { expect, test } from 'vitest';
import { onServer } from '../register/postgres-open.js';
import { withPassword } from '../register/postgres-server.js';
import { burin, well } from './burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const { fresh } = onServer();
const WHO = ['--by', 'E. Marrow'];

test('a register on a server is witnessed across a change of key', async () => {
  const env = { BURIN_KEYS: newFolder(), BURIN_REGISTER: withPassword(await fresh()) };
  const cwd = newQuickBench();
  const does = (...words: string[]) => well(words, { cwd, env });
  const mail = newFolder();
  const letter = (name: string) => path.join(mail, name);
  const outside = { cwd: newFolder(), env: { BURIN_KEYS: newFolder() } };
  const witness = (...words: string[]) => well(['witness', ...words], outside);
  const issue = () => does('issue', 'nine-lights', '--series', 'main', '--count', '2', ...WHO);

  await does('key', 'new', '--out', letter('maker.pub'));
  await witness('new', '--name', 'harbour', '--out', letter('harbour.pub'));
  await witness('add', letter('maker.pub'));
  await issue();
  await does('checkpoint', '--for-witness', '--out', letter('first'));
  await witness('cosign', letter('first'), '--out', letter('first.note'));
  await does('key', 'retire', '--reason', 'planned');
  await does('key', 'new');
  await does('key', 'show', '--history', '--out', letter('maker.keys'));
  await witness('add', letter('maker.keys'));
  await issue();
  await does('checkpoint', '--for-witness', letter('first.note'), '--out', letter('second'));
  await witness('cosign', letter('second'), '--out', letter('second.note'));
  for (const note of ['first.note', 'second.note'])
    await does('checkpoint', '--cosigned', letter(note), '--witness', letter('harbour.pub'));
  await issue();
  const audited = await burin(
    [
      ...['audit', '--key', letter('maker.keys'), '--witness', letter('harbour.pub')],
      ...['--checkpoint', letter('first.note'), letter('second.note')],
    ],
    { cwd, env },
  );
  expect(audited.code, audited.stdout).toBe(0);
  expect(audited.stdout).toContain('\n2 events are covered by no outside checkpoint\n');
  expect(audited.stdout.match(/agrees; signed by the key; seen by burin-witness\/harbour/g)).toHaveLength(2);
});
