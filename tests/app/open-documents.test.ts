import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { burin } from '../cli/burin.js';
import { cleanAfterAll, edit, newQuickBench } from '../cli/folders.js';

cleanAfterAll();

const ISSUE = ['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss', '--json'];

const refused = async (cwd: string, words: readonly string[]) => {
  const said = await burin(words, { cwd });
  return [said.code, (JSON.parse(said.stdout) as { problems: { code: string }[] }).problems[0]!.code];
};

test('a register is not opened for an edition that gives one label to two numbers', async () => {
  const bench = newQuickBench();
  edit(
    bench,
    'editions/nine-lights.yaml',
    "    figures: roman\n    before: 'A.P. '\n    total: { joiner: / }",
    '    pad: 2\n    total: { joiner: /, of: 90 }',
  );
  const [code, problem] = await refused(bench, ISSUE);
  expect([code, problem]).toEqual([2, expect.stringMatching(/^edition\./)]);
});

test('where there is no edition at all, that is said, and not that this one is unknown', async () => {
  const bench = newQuickBench();
  expect(await refused(bench, ['register', 'eight-lights', '--json'])).toEqual([2, 'workshop.unknown-name']);
  rmSync(join(bench, 'editions/nine-lights.yaml'));
  expect(await refused(bench, ['register', 'nine-lights', '--json'])).toEqual([2, 'workshop.none-of-kind']);
});

test('files are not written through a file, nor over a folder; what was there stays', async () => {
  const bench = newQuickBench();
  writeFileSync(join(bench, 'taken'), 'mine');
  const to = (out: string) => ['export', '--csv', '--json', '--out', join(bench, out)];
  expect(await refused(bench, to('taken'))).toEqual([3, 'app.file-not-ours']);
  expect(await refused(bench, to('taken/events.csv'))).toEqual([2, 'app.not-a-folder']);
  expect(await refused(bench, to('editions'))).toEqual([2, 'app.is-a-folder']);
  expect(await refused(bench, ['restore', join(bench, 'none.jsonl'), '--json'])).toEqual([
    2,
    'app.not-on-disk',
  ]);
  expect(await refused(bench, ['restore', join(bench, 'editions'), '--json'])).toEqual([
    2,
    'app.is-a-folder',
  ]);
});

test('the text of codes that was copied wrongly is no certificate', async () => {
  const bench = newQuickBench();
  writeFileSync(join(bench, 'codes.txt'), 'BURIN1:1/2:ABC.\n');
  writeFileSync(join(bench, 'maker.pub'), 'x');
  const [code, problem] = await refused(bench, [
    ...['verify', join(bench, 'codes.txt'), '--key', join(bench, 'maker.pub'), '--json'],
  ]);
  expect([code, problem]).toEqual([1, 'certificate.code-missing']);
});
