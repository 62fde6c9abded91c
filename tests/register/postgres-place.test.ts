import { appendFileSync, existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { burin } from '../cli/burin.js';
import { cleanAfterAll, newQuickBench } from '../cli/folders.js';
import { onServer } from './postgres-open.js';
import { PASSWORD, withPassword } from './postgres-server.js';

cleanAfterAll();
const { fresh, open } = onServer();

const issue = (dir: string, count: number, env: NodeJS.ProcessEnv) =>
  burin(
    [
      ...['--workshop', dir, 'issue', 'nine-lights', '--series', 'main', '--count', String(count)],
      ...['--by', 'A. Moss'],
    ],
    { env: { ...process.env, BURIN_REGISTER: undefined, PGPASSWORD: undefined, ...env } },
  );

test('from the file to the server, as a person goes', async () => {
  const dir = newQuickBench();
  const url = await fresh();
  expect((await issue(dir, 2, {})).stdout).toBe('01/90\n02/90\n');
  const env = { ...process.env, BURIN_REGISTER: undefined, PGPASSWORD: PASSWORD };
  const moved = await burin(['--workshop', dir, 'move', '--to', url], { env });
  expect({ code: moved.code, stderr: moved.stderr }).toEqual({ code: 0, stderr: '' });
  expect(moved.stdout).toMatch(/^3 events and 0 checkpoints are at 127\.0\.0\.1:\d+\/bench_\d/);
  const late = await issue(dir, 1, {});
  expect(late.code).toBe(3);
  expect(late.stderr).toContain('was moved to');

  appendFileSync(join(dir, 'workshop.yaml'), `register: ${url}\n`);
  expect((await issue(dir, 1, { PGPASSWORD: PASSWORD })).stdout).toBe('03/90\n');
  expect(await (await open(url)).size()).toBe(4);
});

test('a setting that is empty is an error, and no other register is used in its place', async () => {
  const dir = newQuickBench();
  for (const empty of ['', ' ']) {
    const said = await issue(dir, 1, { BURIN_REGISTER: empty });
    expect([said.code, said.stdout]).toEqual([2, '']);
    expect(said.stderr).toBe(
      'BURIN_REGISTER: It is set but empty, so it names no register. Set it to the URL of the register, or unset it.\n',
    );
  }
  expect(existsSync(join(dir, 'register.db'))).toBe(false);
});

test('the environment wins over the document', async () => {
  const dir = newQuickBench();
  const [ours, theirs] = [await fresh(), await fresh()];
  appendFileSync(join(dir, 'workshop.yaml'), `register: ${theirs}\n`);
  expect((await issue(dir, 1, { BURIN_REGISTER: withPassword(ours) })).stdout).toBe('01/90\n');
  expect(await (await open(ours)).size()).toBe(2);
  expect(await (await open(theirs)).size()).toBe(0);
  expect(existsSync(join(dir, 'register.db'))).toBe(false);
});

test.each([
  ['a wrong password', (url: string) => url.replace('@', ':wrong-word@')],
  ['another kind of database', (url: string) => withPassword(url).replace('postgres:', 'mysql:')],
  ['no URL', () => 'wrong-word'],
  ['a broken %', (url: string) => url.replace('@', ':wrong-word%@')],
])('%s in the environment is told without repeating it', async (_what, spoil) => {
  const said = await issue(newQuickBench(), 1, { BURIN_REGISTER: spoil(await fresh()) });
  expect(said.code).toBe(2);
  expect(said.stderr.trim().split('\n')).toHaveLength(1);
  expect(`${said.stderr}${said.stdout}`).not.toMatch(/wrong-word|not-for-anyone/);
});
