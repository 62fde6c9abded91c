import { spawnSync } from 'node:child_process';
import Database from 'better-sqlite3';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { environmentOf } from '../../src/app/environment.js';
import { openDocuments, registerFile } from '../../src/app/open-documents.js';
import type { Refusal } from '../../src/problem.js';
import { openFile } from '../../src/register/sqlite/connect.js';
import { toRefusal } from '../../src/register/sqlite/errors.js';
import { removeFolders } from '../app/workshop.js';
import { keptIn, newBench, statementsIn } from '../soak/bench.js';
import { holdAgainst } from '../soak/hold-against.js';
import { hear, silent, WORKER } from '../soak/soak.js';
import { linesOf } from '../words-of.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { mustBeBuilt } from './issuing.js';
import { ask, labels, NOON, refusal } from './rules.js';

cleanAfterEach();
afterEach(removeFolders);
beforeAll(mustBeBuilt);

// `ulimit -f` of POSIX (sh, XCU): no file may grow beyond so many blocks. The disk itself is left alone.
test.skipIf(process.platform === 'win32')(
  'no room for the next entry: told in words, nothing half done, same key same numbers once there is room',
  async () => {
    const worker = silent('bench-a');
    const { folder, environment } = await newBench([worker.name], 20);
    const run = (room: string, count: number) => {
      const order = [process.execPath, WORKER, folder, worker.name, String(worker.lastAsked), String(count)];
      const { stdout, stderr, status } = spawnSync(
        'bash',
        ['-c', `ulimit -f ${room}; exec "$@"`, 'bash', ...order],
        { encoding: 'utf8', env: { ...process.env, ...environment } },
      );
      for (const line of stdout.split('\n')) hear(worker, line);
      return { stderr, status };
    };
    for (const room of ['400', '700']) {
      const { stderr, status } = run(room, 1000);
      expect(status).not.toBe(0);
      expect(stderr).toMatch(/Refusal: .*: register\.disk-(full|failed)$/m);
    }
    const stopped = worker.lastAsked;
    expect(run('unlimited', 3)).toEqual({ stderr: '', status: 0 });
    expect(worker.lastAsked).toBe(stopped + 2);

    const kept = await keptIn(await openDocuments(folder, environmentOf(environment)));
    expect(kept.length).toBeGreaterThan(10);
    expect(holdAgainst({ workers: [worker], kills: 0 }, kept, statementsIn(folder))).toEqual({
      ...{ doubles: [], lost: [], halves: [], otherAnswers: [], statements: [] },
    });
    const db = new Database(registerFile(folder), { readonly: true });
    expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    db.close();
  },
);

test('full, as the database itself says it: exit 2, and what to do', () => {
  const { db } = openFile(newFile(), () => NOON);
  db.pragma(`max_page_count = ${db.pragma('page_count', { simple: true })}`);
  let error: unknown;
  try {
    // As large as no page can take.
    db.prepare('INSERT INTO checkpoint (size, note, frontier) VALUES (0, ?, ?)').run(
      `x\n0\n${'x'.repeat(1e5)}`,
      Buffer.alloc(0),
    );
  } catch (thrown) {
    error = toRefusal(thrown, 'register.db');
  }
  expect(db.prepare('SELECT count(*) FROM checkpoint').pluck().get()).toBe(0);
  db.close();
  expect(error).toMatchObject({ exit: 2 });
  expect(linesOf(error as Refusal)).toMatch(/disk is full\. Nothing was written.*same key/s);
});

test('full where only what readers share has no room: the same', () => {
  const error = new Database.SqliteError('disk I/O error', 'SQLITE_IOERR_SHMSIZE');
  expect(toRefusal(error, 'register.db')).toMatchObject({ problems: [{ code: 'register.disk-full' }] });
});

test('kept by another connection for too long: refused, and the same key gets its numbers after', async () => {
  const file = newFile();
  const register = await open(file, 400);
  await register.issue(ask);
  const other = new Database(file);
  other.exec('BEGIN IMMEDIATE');
  const request = { ...ask, count: 3, key: 'job-7' };
  expect(linesOf(await refusal(register.issue(request)))).toMatch(/locked.*Nothing was written/);
  other.exec('ROLLBACK');
  other.close();
  const got = await register.issue(request);
  expect(labels(got)).toEqual(['2/90', '3/90', '4/90']);
  expect(await register.issue(request)).toEqual(got);
});
