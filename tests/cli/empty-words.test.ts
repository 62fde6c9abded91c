import { expect, test } from 'vitest';
import { burin, linesOf } from './burin.js';
import { cleanAfterAll, newFolder } from './folders.js';

cleanAfterAll();

test.each([
  [['new', ''], 'burin new: <dir>'],
  [['verify', '', '--key', 'k'], 'burin verify: <file>'],
  [['verify', 'c.json', '--key', ''], 'burin verify: --key'],
  [['readback', 'a.nc', ''], 'burin readback: <file>'],
  [['backup', ''], 'burin backup: <file>'],
  [['check', '--workshop', ''], 'burin check: --workshop'],
  [['--workshop', '', 'check'], 'burin check: --workshop'],
  [['export', '--jsonl', '--out', ''], 'burin export: --out'],
  [['cut', 'first', '--station', 's', '--out', ' '], 'burin cut: --out'],
  [['fit', ''], 'burin fit: <edition>'],
])('%j: one line says what is empty', async (words, head) => {
  const { code, stdout, stderr } = await burin(words, { cwd: newFolder() });
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(linesOf(stderr)).toEqual([`${head} is empty. Give it a value, or leave it out.`]);
});

test.each([
  [['--json', '--version'], 'version'],
  [['--json', '--help'], 'help'],
  [['cut', '--help', '--json'], 'help'],
])('%j answers as JSON', async (words, name) => {
  const { code, stdout, stderr } = await burin(words, { cwd: newFolder() });
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  const answer = JSON.parse(stdout) as Record<string, unknown>;
  expect(answer).toEqual({ ok: true, [name]: expect.stringMatching(/\S/) as unknown });
});
