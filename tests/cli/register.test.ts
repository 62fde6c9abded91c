import { renameSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { burin, linesOf, well } from './burin.js';
import { cleanAfterAll, edit, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const bench = newQuickBench();
const env = { BURIN_KEYS: newFolder() };
const WHO = ['--by', 'A. Moss'];
const does = (...words: string[]) => well(words, { cwd: bench, env });
const record = (label: string, ...words: string[]) => does('record', 'nine-lights', label, ...words, ...WHO);

beforeAll(async () => {
  await does('key', 'new', '--out', 'maker.pub');
  await does('issue', 'nine-lights', '--series', 'main', '--count', '2', ...WHO);
});

test('the parts of a piece stand each for itself, and a piece made again is the second of its number', async () => {
  expect(await record('01/90', 'engraved', '--part', 'cap')).toMatch(/^01\/90 is engraved: cap engraved$/m);
  const lineOf = async (label: string) =>
    linesOf(await does('register', 'nine-lights')).find((line) => line.startsWith(label))!;
  expect(await lineOf('01/90')).toMatch(/cap engraved/);
  await record('01/90', 'scrapped', '--part', 'cap', '--why', 'the 0 is closed up');
  await record('01/90', 'destroyed', '--part', 'cap', '--witness', 'H. Quill');
  await record('01/90', 'recut', '--part', 'cap');
  expect(await lineOf('01/90')).toMatch(/piece 2\b.*cap blank \(2\)$/);
  expect(await lineOf('02/90')).not.toContain('piece');
});

test('an event that nobody can record is refused with those that can be', async () => {
  const said = await burin(['record', 'nine-lights', '02/90', 'polished', ...WHO, '--json'], {
    cwd: bench,
    env,
  });
  expect(said.code).toBe(2);
  const [problem] = (JSON.parse(said.stdout) as { problems: { code: string; values: { known: string[] } }[] })
    .problems;
  expect(problem).toMatchObject({ code: 'record.event-unknown', values: { event: 'polished' } });
  expect(problem!.values.known).toContain('engraved');
});

test('what stands after -- is a name, whatever it looks like', async () => {
  const said = await burin(['verify', '--key', 'maker.pub', '--', '--json'], { cwd: bench, env });
  expect([said.code, said.stdout]).toEqual([2, '']);
  expect(said.stderr).toMatch(/^--json: /);
});

test('a number that no part carries is of the piece as a whole, and has no certificate to draw it on', async () => {
  edit(bench, 'editions/nine-lights.yaml', 'designs: [cap-number, barrel-title]', 'designs: [barrel-title]');
  edit(bench, 'editions/nine-lights.yaml', 'name: Nine Lights', 'name: Titles');
  const whole = path.join(bench, 'editions/titles.yaml');
  renameSync(path.join(bench, 'editions/nine-lights.yaml'), whole);
  await does('issue', 'titles', '--series', 'main', '--count', '1', ...WHO);
  await does('record', 'titles', '01/90', 'engraved', ...WHO);
  const [line] = linesOf(await does('register', 'titles'));
  expect(line!.trim().split(/\s+/)).toEqual(['01/90', 'main', 'engraved']);
  const said = await burin(['certificate', 'titles', '01/90', '--json'], { cwd: bench, env });
  expect(said.code).toBe(2);
  expect(JSON.parse(said.stdout)).toMatchObject({ problems: [{ code: 'app.no-number-mark' }] });
});
