import { copyFileSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const bench = newQuickBench();
const WHO = ['--by', 'A. Moss'];

beforeAll(async () => {
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '2', ...WHO], { cwd: bench });
});

test('JSON about an export needs a file for the export itself', async () => {
  const said = await burin(['export', '--csv', '--json'], { cwd: bench });
  expect(said.code).toBe(2);
  expect(JSON.parse(said.stdout)).toMatchObject({ problems: [{ code: 'cli.json-needs-file' }] });
  const named = await burin(['export', '--csv', '--json', '--out', 'events.csv'], { cwd: bench });
  expect(JSON.parse(named.stdout)).toMatchObject({ ok: true, form: 'csv', events: 3 });
});

test('the events of one edition make a register of their own, which says that it is', async () => {
  writeFileSync(
    path.join(bench, 'editions/other.yaml'),
    'kind: edition\nversion: 1\nname: Other\ndesigns: [cap-number]\nseries: [{ id: main, title: O, to: 3, before: O }]\n',
  );
  await well(['issue', 'other', '--series', 'main', '--count', '3', ...WHO], { cwd: bench });
  const file = path.join(newFolder(), 'other.jsonl');
  await well(['export', 'other', '--jsonl', '--out', file], { cwd: bench });
  const fresh = newQuickBench();
  writeFileSync(
    path.join(fresh, 'editions/other.yaml'),
    'kind: edition\nversion: 1\nname: Other\ndesigns: [cap-number]\nseries: [{ id: main, title: O, to: 3, before: O }]\n',
  );
  const restored = await well(['restore', file, ...WHO, '--why', 'a bench of its own'], { cwd: fresh });
  expect(restored).toContain('edition other');
  const states = async (edition: string) =>
    linesOf(await well(['register', edition, '--csv'], { cwd: fresh })).filter((row) =>
      row.includes('issued'),
    );
  expect(await states('other')).toHaveLength(3);
  expect(await states('nine-lights')).toHaveLength(0);
});

test('a table of more events than are formatted at once has every one, in order', async () => {
  const many = newQuickBench();
  writeFileSync(
    path.join(many, 'editions/nine-lights.yaml'),
    'kind: edition\nversion: 1\nname: Many\ndesigns: [cap-number]\nseries: [{ id: main, title: M, to: 1200 }]\n',
  );
  for (const count of [499, 1, 700]) {
    await well(['issue', 'nine-lights', '--series', 'main', '--count', `${count}`, ...WHO], { cwd: many });
    const rows = linesOf(await well(['export', '--csv'], { cwd: many })).slice(1);
    expect(rows.map((row) => Number(row.split(',', 1)[0]))).toEqual([...rows.keys()]);
    expect(new Set(rows).size).toBe(rows.length);
  }
});

test.each(['--csv', '--jsonl'])(
  'an export %s is replaced by a later one of the same events alone',
  async (form) => {
    const place = newFolder();
    const [dir, other] = ['bench', 'other'].map((name) => newQuickBench(path.join(place, name)));
    const around = (cwd: string) => ({
      cwd,
      env: { BURIN_KEYS: path.join(place, 'keys', path.basename(cwd)) },
    });
    const issue = ['issue', 'nine-lights', '--series', 'main', '--count', '2', ...WHO];
    const file = path.join(place, 'events');
    const write = ['export', form, '--out', file];
    for (const cwd of [dir!, other!]) await well(issue, around(cwd));
    await well(write, around(dir!));
    copyFileSync(path.join(dir!, 'register.db'), path.join(place, 'early.db'));
    await well(issue, around(dir!));
    await well(write, around(dir!));
    await well(write, around(dir!));
    const whole = readFileSync(file);
    // Yesterday's register, and another one.
    rmSync(path.join(dir!, 'register.db'));
    copyFileSync(path.join(place, 'early.db'), path.join(dir!, 'register.db'));
    for (const cwd of [dir!, other!]) {
      const said = await burin([...write, '--json'], around(cwd));
      expect([said.code, JSON.parse(said.stdout)]).toMatchObject([
        3,
        { problems: [{ code: 'export.would-lose', values: { what: cwd === dir ? 'more' : 'other' } }] },
      ]);
      expect(readFileSync(file).equals(whole)).toBe(true);
    }
    expect(readdirSync(place).filter((name) => name.includes('partial'))).toEqual([]);
  },
);
