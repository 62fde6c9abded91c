import { copyFileSync, mkdirSync, truncateSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { run } from '../../src/cli/run.js';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const WHO = ['--by', 'A. Moss'];
const ISSUE = ['issue', 'nine-lights', '--series', 'main', '--count', '1', ...WHO];
const bench = newQuickBench();
const keys = newFolder();
const around = { cwd: bench, env: { BURIN_KEYS: keys } };

beforeAll(async () => {
  await well(['key', 'new', '--out', 'maker.pub'], around);
  await well(ISSUE, around);
  await well(['checkpoint', '--out', 'kept.checkpoint'], around);
});

const checkpointIn = async (...words: string[]) => {
  const said = await burin(['audit', '--json', ...words], around);
  const { ok, checkpoints } = JSON.parse(said.stdout) as {
    ok: boolean;
    checkpoints: { from: string; agrees: boolean; signed?: boolean }[];
  };
  return { code: said.code, ok, last: checkpoints.at(-1)! };
};

test('a checkpoint kept elsewhere is held against the log: with a key its signature too', async () => {
  const kept = ['--checkpoint', 'kept.checkpoint'];
  expect(await checkpointIn(...kept)).toMatchObject({ code: 0, last: { agrees: true } });
  expect((await checkpointIn(...kept)).last.signed).toBeUndefined();
  expect(await checkpointIn(...kept, '--key', 'maker.pub')).toMatchObject({ last: { signed: true } });
  const lines = async (...words: string[]) => linesOf(await well(['audit', ...kept, ...words], around));
  expect(await lines()).not.toEqual(await lines('--key', 'maker.pub'));
});

test('a checkpoint of another history of the same name, or of another key, is a finding', async () => {
  const other = { cwd: newQuickBench(), env: { BURIN_KEYS: newFolder() } };
  await well(['key', 'new', '--out', 'maker.pub'], other);
  await well(ISSUE, other);
  await well(['checkpoint', '--out', 'kept.checkpoint'], other);
  copyFileSync(path.join(other.cwd, 'kept.checkpoint'), path.join(bench, 'foreign.checkpoint'));
  const foreign = ['--checkpoint', 'foreign.checkpoint'];
  expect(await checkpointIn(...foreign)).toMatchObject({ code: 1, ok: false, last: { agrees: false } });
  expect(await checkpointIn(...foreign, '--key', 'maker.pub')).toMatchObject({ last: { signed: false } });
  const said = await burin(['audit', ...foreign, '--key', 'maker.pub', '--csv'], around);
  const [head, ...rows] = linesOf(said.stdout);
  expect([said.code, head!.split(',', 2)]).toEqual([1, ['grade', 'code']]);
  expect(rows.length).toBeGreaterThan(0);
  expect(linesOf((await burin(['audit', ...foreign], around)).stdout).length).toBeGreaterThan(2);
});

test('the store itself is checked when that is asked, and one label that is there is counted as one', async () => {
  writeFileSync(path.join(bench, 'seen.csv'), 'label\n01/90\n');
  const said = await burin(['audit', 'nine-lights', '--seen', 'seen.csv', '--json'], around);
  expect([said.code, JSON.parse(said.stdout)]).toEqual([
    0,
    expect.objectContaining({ stocktake: expect.objectContaining({ seen: 1, agreeing: 1, findings: [] }) }),
  ]);
  expect(await well(['audit', 'nine-lights', '--seen', 'seen.csv'], around)).toMatch(
    /\b1 row seen, 1 label /,
  );
});

test('an audit that is interrupted says that it found nothing out, and leaves no hand on the key', async () => {
  // Others end the process, such as that of the tests' own server: only the one that the audit adds is told.
  const listeners = process.listeners('SIGINT');
  let err = '';
  let time = 0;
  const code = await run(['audit', '--workshop', bench], {
    input: () => Promise.resolve(''),
    out: () => expect.unreachable('an answer'),
    outPaced: () => Promise.resolve(),
    err: (text) => {
      // As Ctrl-C does while the line of progress is on the screen.
      if (err === '')
        for (const told of process.listeners('SIGINT')) if (!listeners.includes(told)) told('SIGINT');
      err += text;
    },
    watched: true,
    variables: { BURIN_KEYS: keys },
    now: () => {
      time += 3000;
      return time;
    },
  });
  expect([code, process.listeners('SIGINT')]).toEqual([2, listeners]);
  expect(err.split('\r').at(-1)).toMatch(/^audit: .*\n$/);
});

test('a file far too large for what it should be is refused like any other, and not read whole', async () => {
  mkdirSync(path.join(bench, 'large'));
  const large = path.join(bench, 'large/file');
  writeFileSync(large, 'label\n');
  truncateSync(large, 3 * 2 ** 30);
  for (const [words, codes] of [
    [
      ['audit', 'nine-lights', '--seen', large],
      [2, 'csv.too-large'],
    ],
    [
      ['import', 'nine-lights', large, ...WHO],
      [2, 'csv.too-large'],
    ],
    [
      ['audit', '--key', large],
      [2, 'log.key-not-readable'],
    ],
  ] as const) {
    const said = await burin([...words, '--json'], around);
    expect([said.code, JSON.parse(said.stdout).problems[0].code]).toEqual(codes);
    expect(said.stderr).not.toContain(' at ');
  }
  const read = await burin(['readback', large, '--json'], around);
  expect([read.code, JSON.parse(read.stdout).files[0].problems[0].code]).toEqual([
    1,
    'station.program-too-long',
  ]);
});
