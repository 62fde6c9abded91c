import { rmSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { onServer } from '../register/postgres-open.js';
import { PASSWORD } from '../register/postgres-server.js';
import { burin, well } from './burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';
import { ISSUE, labelsOf } from './gate-ways.js';

cleanAfterAll();
const { fresh, unused, raw } = onServer();

const { PGPASSWORD } = process.env;
beforeEach(() => {
  process.env.PGPASSWORD = PASSWORD;
});
afterEach(() => {
  process.env.PGPASSWORD = PGPASSWORD ?? '';
});

/** A bench on a server with four numbers, entered by two machines in turn. */
async function twoMachines() {
  const url = await unused();
  const place = newFolder();
  const machines = ['one', 'two'].map((name) => {
    const cwd = newQuickBench(path.join(place, name, 'bench'));
    const env = { BURIN_KEYS: path.join(place, name, 'keys') };
    const on = (register: string | undefined) => ({ cwd, env: { ...env, BURIN_REGISTER: register } });
    return {
      cwd,
      issue: async () => labelsOf(await well(ISSUE, on(url))),
      ask: (register: string | undefined, ...more: string[]) => burin([...ISSUE, ...more], on(register)),
    };
  });
  const [one, two] = machines as [(typeof machines)[0], (typeof machines)[0]];
  for (const machine of [one, two, one, two]) await machine.issue();
  const database = await raw(url);
  return { url, one, two, sql: (text: string) => database.query(text) };
}

type Bench = Awaited<ReturnType<typeof twoMachines>>;

/** Each gives the register that is asked for the next number. */
const WAYS: Readonly<Record<string, (bench: Bench) => Promise<string | undefined>>> = {
  'the setting is left out, so that a new file would begin': async () => undefined,
  'the setting names another database, with nothing in it': () => fresh(),
  'the schema is dropped': async ({ url, sql }) => {
    await sql('DROP SCHEMA burin CASCADE');
    return url;
  },
  'an old dump is restored': async ({ url, sql }) => {
    await sql('ALTER TABLE burin.event DISABLE TRIGGER ALL; DELETE FROM burin.event WHERE seq > 1');
    await sql('ALTER TABLE burin.event ENABLE TRIGGER ALL');
    return url;
  },
  'the identity is deleted too': async ({ one, two }) => {
    for (const { cwd } of [one, two]) rmSync(path.join(cwd, 'workshop.id'));
    return fresh();
  },
  'the database of another workshop of this name': async () => {
    const other = await twoMachines();
    return other.url;
  },
};

test.each(Object.entries(WAYS))('on a server: %s: no number twice', async (_, way) => {
  const bench = await twoMachines();
  const register = await way(bench);
  for (const { ask } of [bench.one, bench.two])
    for (const more of [[], ['--json']]) {
      const said = await ask(register, ...more);
      expect({ code: said.code, stderr: said.stderr }).toMatchObject({ code: 3 });
      expect(labelsOf(said.stdout.replace(/"problems"[\s\S]*/, ''))).toEqual([]);
    }
});

test('two machines on one server go on in turn, each behind the other', async () => {
  const { one, two } = await twoMachines();
  expect([...(await one.issue()), ...(await one.issue()), ...(await two.issue())]).toEqual([
    '05/90',
    '06/90',
    '07/90',
  ]);
});

test('a connection that is less secure than it should be is told of by every command', async () => {
  const { url, one } = await twoMachines();
  // This machine under a name that is not known for it.
  const said = await one.ask(`${url.replace('127.0.0.1', '127.1')}?sslmode=disable`);
  expect(said).toMatchObject({ code: 0, stderr: expect.stringMatching(/^Not secure: .*sslmode=disable/m) });
});
