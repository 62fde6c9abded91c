import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { burin, well } from './burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const isWindows = process.platform === 'win32';
const BY = ['--by', 'A. Moss'];
const ISSUE = ['issue', 'nine-lights', '--series', 'main', '--count', '1', ...BY];
const rightsOf = (file: string): string => (statSync(file).mode & 0o777).toString(8);

function bench() {
  const place = newFolder();
  const cwd = newQuickBench(path.join(place, 'bench'));
  const env = { BURIN_KEYS: path.join(place, 'keys'), BURIN_TODAY: undefined };
  return {
    ...{ cwd, place, keys: env.BURIN_KEYS },
    does: (...words: string[]) => well(words, { cwd, env }),
    asks: (words: string[], more: NodeJS.ProcessEnv = {}) => burin(words, { cwd, env: { ...env, ...more } }),
  };
}

describe.skipIf(isWindows)('what has the names of people', () => {
  test('is made for its owner alone; a register that is there keeps its rights', async () => {
    const { cwd, place, does } = bench();
    await does('key', 'new');
    await does(...ISSUE);
    for (const event of ['engraved', 'inspected']) await does('record', 'nine-lights', '01/90', event, ...BY);
    await does('certificate', 'nine-lights', '01/90', '--out', path.join(place, 'papers'));
    await does('backup', path.join(place, 'copy.db'));
    await does('export', '--jsonl', '--out', path.join(place, 'all.jsonl'));
    await does('close', 'nine-lights', ...BY, '--leave-open');
    const closed = path.join(cwd, 'out/nine-lights');
    for (const file of [
      path.join(cwd, 'register.db'),
      path.join(place, 'copy.db'),
      path.join(place, 'all.jsonl'),
      path.join(place, 'papers/nine-lights-main-0001-1.json'),
      path.join(place, 'papers/nine-lights-main-0001-1.pdf'),
      path.join(closed, 'statement-of-edition.json'),
      path.join(closed, 'statement-of-edition.txt'),
    ])
      expect([file, rightsOf(file)]).toEqual([file, '600']);
    // Written again from the register, it is as private.
    rmSync(path.join(closed, 'statement-of-edition.txt'));
    await does('close', 'nine-lights', '--rewrite');
    expect(rightsOf(path.join(closed, 'statement-of-edition.txt'))).toBe('600');

    chmodSync(path.join(cwd, 'register.db'), 0o640);
    await does('record', 'nine-lights', '01/90', 'noted', '--why', 'seen', ...BY);
    expect(rightsOf(path.join(cwd, 'register.db'))).toBe('640');
  });

  test.each(['pipe', 'folder'])('a %s in the place of a file is named, and not waited for', async (kind) => {
    const { cwd, keys, does, asks } = bench();
    await does(...ISSUE);
    const put = (file: string) => {
      if (existsSync(file)) renameSync(file, `${file}.aside`);
      if (kind === 'pipe') execFileSync('mkfifo', [file]);
      else mkdirSync(file);
      return () => {
        rmSync(file, { recursive: true });
        if (existsSync(`${file}.aside`)) renameSync(`${file}.aside`, file);
      };
    };
    const memory = path.join(keys, 'workshops', readdirSync(path.join(keys, 'workshops'))[0]!);
    const register = path.join(cwd, 'register.db');
    for (const [file, ...commands] of [
      [memory, ISSUE],
      [path.join(cwd, 'workshop.id'), ISSUE],
      [register, ISSUE, ['register', 'nine-lights'], ['audit'], ['backup', '../b.db'], ['export', '--csv']],
    ] as [string, ...string[][]][]) {
      const back = put(file);
      for (const words of commands) {
        const said = await asks(words);
        const told = said.stdout + said.stderr;
        expect(told).toContain(path.basename(file));
        expect(told).not.toMatch(/^disk|disk fails|again with the same key/m);
        // An audit tells it among what it found.
        const codes = words[0] === 'audit' ? [1, 2, 3] : [2, 3];
        expect([words, codes.includes(said.code!)]).toEqual([words, true]);
      }
      back();
    }
    expect(await does(...ISSUE)).toBe('02/90\n');
  });
});

test('a statement does not lie beside a register as if it were of it', async () => {
  const { cwd, does, asks } = bench();
  await does(...ISSUE);
  const before = readdirSync(cwd);
  const close = ['close', 'nine-lights', ...BY, '--leave-open', '--out'];
  for (const more of [[], ['--dry-run']])
    expect((await asks([...close, path.join(cwd, 'register.db'), ...more])).code).toBe(3);
  expect(readdirSync(cwd)).toEqual(before);
  await does(...close, path.join(cwd, 'nine.json'));
  expect(
    (await asks(['close', 'nine-lights', '--rewrite', '--out', path.join(cwd, 'register.db')])).code,
  ).toBe(3);
});

test('a setting that is empty is an error, and so is a name that turns the direction of reading', async () => {
  const { does, asks } = bench();
  for (const setting of ['BURIN_KEYS', 'BURIN_TODAY'])
    for (const value of ['', ' ']) {
      const said = await asks(ISSUE, { [setting]: value });
      expect([said.code, said.stderr]).toEqual([
        2,
        `${setting}: It is set but empty. Give it a value, or unset it.\n`,
      ]);
    }
  await does(...ISSUE);
  const turned = 'Ann \u202etac';
  const record = ['record', 'nine-lights', '01/90'];
  for (const words of [
    [...ISSUE.slice(0, -1), turned],
    [...record, 'engraved', '--by', turned],
    ['amend', 'nine-lights', '--why', 'x', '--by', turned],
    ['close', 'nine-lights', '--leave-open', '--by', turned],
    ['resume', '1', '--why', 'x', '--by', 'A. Moss', '--witness', turned],
  ]) {
    const said = await asks(words);
    expect([words, said.code]).toEqual([words, 2]);
    expect(said.stderr).toContain('U+202E');
    expect(said.stderr).not.toContain('\u202e');
  }
  // What is there from before, or in a reason, is shown as it is written.
  await does(...record, 'noted', '--why', 'said \u202eyadot', ...BY);
  const life = await does('register', 'nine-lights', '01/90');
  expect(life).toContain('<U+202E>');
  expect(life).not.toContain('\u202e');
});

test('the first step that is missing is the one that is named', async () => {
  const { does, asks } = bench();
  await does(...ISSUE);
  const deliver = async () => (await asks(['record', 'nine-lights', '01/90', 'delivered', ...BY])).stderr;
  expect(await deliver()).toContain('Record it engraved first, then inspected.');
  await does('record', 'nine-lights', '01/90', 'engraved', ...BY);
  expect(await deliver()).toContain('Record it inspected first.');
  await does('record', 'nine-lights', '01/90', 'scrapped', '--why', 'slipped', ...BY);
  expect(await deliver()).toContain('Record it destroyed, with a witness, first.');
});
