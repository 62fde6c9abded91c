import { existsSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { exportEvents } from '../../src/app/export.js';
import { registerOf } from '../../src/app/kept-register.js';
import { registerFile } from '../../src/app/open-documents.js';
import { restoreRegister } from '../../src/app/restore.js';
import { burin, well } from '../cli/burin.js';
import { onServer } from '../register/postgres-open.js';
import { STORES } from './either-store.js';
import { auditOf, begun, issue } from './resume-rules.js';
import { cleanAfterEach, newFolder, refusalOf } from './workshop.js';

cleanAfterEach();
const server = onServer();
const [[, sqlite]] = STORES as [(typeof STORES)[0]];
const TABLE = 'schema_version';

describe.each(STORES)('a row in the table of versions on %s', (name, store) => {
  test.each(['99', '12', '1000'])(
    'of version %s keeps nobody from going on, and is named',
    async (version) => {
      const bench = await begun(store, server);
      const { workshop } = bench;
      const put = `INSERT INTO ${TABLE} (version, at) VALUES (${version}, 'by hand')`;
      if (name === 'SQLite') {
        await expect(bench.sql(put)).rejects.toThrow(/burin enters the version/);
        await expect(bench.sql(`DELETE FROM ${TABLE}`)).rejects.toThrow(/never deleted/);
        await expect(bench.sql(`UPDATE ${TABLE} SET version = 12 WHERE version = 11`)).rejects.toThrow(
          /never changed/,
        );
      }
      // On a server the next version alone may be that of a newer burin: only its owner puts it there.
      if (name !== 'SQLite' && version === '12') return;
      await bench.pastRules(async () => {
        await bench.sql(put);
      });
      expect(await issue(workshop, 1)).toEqual(['04/90']);
      expect((await auditOf(workshop)).faults).toEqual(['register.store-version-stray']);
    },
  );
});

test('a file that is marked as moved is read whole, and goes on elsewhere', async () => {
  const bench = await begun(sqlite, server);
  const { workshop } = bench;
  const { dir, environment } = workshop;
  await bench.sql(`INSERT INTO moved (one, register, at) VALUES (1, 'nowhere/register', 'by hand')`);
  expect((await refusalOf(issue(workshop, 1))).problems[0]!.code).toBe('register.moved');
  const { faults, root } = await auditOf(workshop);
  expect(faults).toEqual(['register.moved']);
  const env = { BURIN_KEYS: environment.keysFolder };
  const said = await burin(['export', '--csv'], { cwd: dir, env });
  expect([said.code, said.stderr.match(/^Moved away: /gm)]).toEqual([0, ['Moved away: ']]);

  const events = join(newFolder(), 'all.jsonl');
  await exportEvents(registerOf(workshop), { form: 'jsonl', out: events });
  for (const end of ['', '-wal', '-shm'])
    if (existsSync(registerFile(dir) + end))
      renameSync(registerFile(dir) + end, join(newFolder(), `away${end}`));
  await restoreRegister(workshop, { files: [events] });
  expect(await auditOf(workshop)).toMatchObject({ faults: [], root });
  expect(
    await well(['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss'], {
      cwd: dir,
      env,
    }),
  ).toBe('04/90\n');
});
