import { cpSync, mkdirSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { startedWell, well } from './burin.js';
import { cleanAfterAll, hashes, newFolder, newQuickBench } from './folders.js';

cleanAfterAll();

const PIECES = ['--labels', '01/90', 'A.P. I/IX', '--station', 'rotary-level'];

/** The clock of the whole process set ahead, as far as the database follows it, before anything of burin is loaded. */
const LATER = `data:text/javascript,${encodeURIComponent(
  'const D = Date; globalThis.Date = class extends D { constructor(...a) { a.length ? super(...a) : super(D.now() + 8e7); } static now() { return D.now() + 8e7; } };',
)}`;

const issue = (series: string, bench: string) => [
  ...['issue', 'nine-lights', '--series', series, '--count', '1', '--by', 'E. Marrow', '--workshop', bench],
];

test('the same documents and pieces give the same bytes, whatever the place, the day, the tongue and the rights', async () => {
  const bench = newQuickBench();
  for (const series of ['main', 'proofs']) await well(issue(series, bench));
  await startedWell(['cut', 'nine-lights', ...PIECES], {
    cwd: bench,
    env: { TZ: 'UTC', LC_ALL: 'C', LANG: 'C' },
    sh: 'umask 022; exec "$@"',
  });
  const first = hashes(path.join(bench, 'out/nine-lights'));
  const names = Object.keys(first);
  expect(names.filter((n) => n.endsWith('.nc'))).toHaveLength(4);
  expect(names.filter((n) => n.endsWith('.svg'))).toHaveLength(7);
  expect(names).toContain('run-sheet.html');
  expect(names).toContain('proof.svg');

  const far = path.join(newFolder(), 'Überseekoffer – zwei');
  mkdirSync(path.dirname(far), { recursive: true });
  cpSync(bench, far, {
    recursive: true,
    filter: (from) => !/register\.db|workshop\.id|\/out(\/|$)/.test(from),
  });
  const env = {
    TZ: 'Pacific/Kiritimati',
    LC_ALL: 'tr_TR.UTF-8',
    LANG: 'tr_TR.UTF-8',
    LANGUAGE: 'tr',
    NODE_OPTIONS: `--import=${LATER}`,
  };
  for (const series of ['main', 'proofs']) await startedWell(issue(series, far), { env });
  const elsewhere = newFolder();
  await startedWell(
    ['--workshop', path.relative(elsewhere, far), 'cut', 'nine-lights', ...PIECES, '--out', 'Ausgabe'],
    {
      cwd: elsewhere,
      env,
      sh: 'umask 077; exec "$@"',
    },
  );
  expect(hashes(path.join(elsewhere, 'Ausgabe'))).toEqual(first);

  // Cut again over what is there, and within this process: nothing differs either.
  await well(['cut', 'nine-lights', ...PIECES], { cwd: bench });
  expect(hashes(path.join(bench, 'out/nine-lights'))).toEqual(first);
});
