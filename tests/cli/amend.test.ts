import { beforeAll, expect, test } from 'vitest';
import { burin, linesOf, UNSIGNED, well } from './burin.js';
import { cleanAfterAll, edit, newQuickBench } from './folders.js';

cleanAfterAll();

const bench = newQuickBench();
const ORDER = ['amend', 'nine-lights', '--by', 'E. Marrow', '--why', 'agreed with the owner'];

beforeAll(async () => {
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss'], { cwd: bench });
  edit(bench, 'editions/nine-lights.yaml', 'to: 9\n', 'to: 7\n');
});

test('a dry run lists what changes and enters nothing; the amendment enters it, once', async () => {
  const events = async () => linesOf(await well(['export', '--csv'], { cwd: bench })).length;
  const before = await events();
  const dry = await burin([...ORDER, '--dry-run'], { cwd: bench });
  expect([dry.code, dry.stderr]).toEqual([0, '']);
  expect(await events()).toBe(before);

  const done = await burin([...ORDER, '--json'], { cwd: bench });
  expect([done.code, done.stderr]).toEqual([0, UNSIGNED]);
  const { changes, ...rest } = JSON.parse(done.stdout) as { changes: { what: string }[] };
  expect(rest).toEqual({ ok: true, edition: 'nine-lights', dryRun: false });
  expect(await events()).toBe(before + 1);
  // A line for each change, and one that says whether it was entered.
  const told = linesOf(dry.stdout);
  expect(told).toHaveLength(changes.length + 1);
  expect(changes.every(({ what }, k) => told[k]!.startsWith(`${what}: `))).toBe(true);

  expect(await burin(ORDER, { cwd: bench })).toMatchObject({ code: 2, stdout: '' });
  edit(bench, 'editions/nine-lights.yaml', 'to: 7\n', 'to: 8\n');
  const again = linesOf(await well(ORDER, { cwd: bench }));
  expect(again.at(-1)).not.toBe(told.at(-1));
});

test('what the check of the workshop refuses is not entered as terms', async () => {
  const fresh = newQuickBench();
  await well(['issue', 'nine-lights', '--series', 'main', '--count', '1', '--by', 'A. Moss'], { cwd: fresh });
  // A series of which nothing is issued: its terms may be amended, to labels that the font has; here in Cyrillic.
  edit(fresh, 'editions/nine-lights.yaml', "before: 'A.P. '", "before: '\u0410.\u0420. '");
  const events = () => well(['export', '--csv'], { cwd: fresh });
  const before = await events();
  const check = await burin(['check', '--json'], { cwd: fresh });
  const refused = JSON.parse(check.stdout).problems as { code: string }[];
  expect(check.code).not.toBe(0);
  for (const dry of [[], ['--dry-run']]) {
    const said = await burin([...ORDER, ...dry, '--json'], { cwd: fresh });
    expect(said.code).toBe(check.code);
    expect(JSON.parse(said.stdout).problems[0].code).toBe(refused[0]!.code);
  }
  expect(await events()).toBe(before);
});
