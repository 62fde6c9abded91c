import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { beforeAll, expect, test } from 'vitest';
import { plannedOf } from '../../src/edition/labels.js';
import { seriesOf } from '../edition/nine-lights.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { ask } from './rules.js';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

cleanAfterEach();
beforeAll(() => {
  if (!existsSync(here('../../dist/register/open.js'))) throw new Error('Build first: npm run build.');
});

interface Said {
  readonly asked: string[];
  readonly given: Map<string, number>;
  readonly errors: string;
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
}

/** Runs one issuing process; `killAfter` kills it outright once it was given so many numbers. */
function issuer(
  file: string,
  name: string,
  count: number,
  killAfter = Number.POSITIVE_INFINITY,
): Promise<Said> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [here('./issuer.mjs'), file, name, String(count)]);
    let output = '';
    let errors = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      output += text;
      if (output.split('given').length > killAfter) child.kill('SIGKILL');
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      errors += text;
    });
    child.on('error', reject);
    child.on('close', (code, signal) => {
      // A line cut off by the kill was not said.
      const lines = output
        .split('\n')
        .slice(0, -1)
        .map((line) => line.split(' '));
      resolve({
        asked: lines.filter(([word]) => word === 'asked').map(([, key]) => key!),
        given: new Map(lines.filter(([word]) => word === 'given').map(([, key, n]) => [key!, Number(n)])),
        errors,
        code,
        signal,
      });
    });
  });
}

/** Number by key, and the sequence, as the file itself has them. */
function kept(file: string) {
  const db = new Database(file, { readonly: true });
  const rows = db
    .prepare<[], { seq: number; key: string; number: number }>(
      'SELECT seq, key, number FROM event ORDER BY seq',
    )
    .all();
  db.close();
  return { byKey: new Map(rows.map(({ key, number }) => [key, number])), rows };
}

const upTo = (n: number) => Array.from({ length: n }, (_, i) => i + 1);

test('four processes, 500 each, from one series that none of them made: 2,000 numbers, no error shown', async () => {
  const file = newFile();
  const all = await Promise.all(['a', 'b', 'c', 'd'].map((name) => issuer(file, name, 500)));
  for (const { errors, code } of all) expect({ errors, code }).toEqual({ errors: '', code: 0 });
  const given = all.flatMap(({ given }) => [...given.values()]);
  expect(given.sort((a, b) => a - b)).toEqual(upTo(2000));
  const { rows, byKey } = kept(file);
  expect(rows.map(({ seq }) => seq)).toEqual(upTo(2000).map((n) => n - 1));
  for (const said of all) for (const [key, n] of said.given) expect(byKey.get(key)).toBe(n);
});

test('killed ten times while issuing: nothing given is lost, nothing is given twice, and asking again is safe', async () => {
  const file = newFile();
  const planned = plannedOf(seriesOf({ id: 'main', to: 2000, pad: 4 }));
  const given = new Map<string, number>();
  let unanswered = 0;
  for (let round = 1; round <= 10; round++) {
    // Two at once, so that one is killed while the other may hold or await the file.
    const [killed, other] = await Promise.all([
      issuer(file, `killed-${round}`, 100_000, 3 + ((round * 7) % 20)),
      issuer(file, `other-${round}`, 20),
    ]);
    expect(killed.signal).toBe('SIGKILL');
    expect({ errors: other.errors, code: other.code }).toEqual({ errors: '', code: 0 });
    for (const [key, n] of [...killed.given, ...other.given]) given.set(key, n);

    const last = killed.asked.at(-1)!;
    if (killed.given.has(last)) continue;
    unanswered++;
    const before = kept(file).byKey.get(last);
    const register = await open(file);
    const request = { ...ask, planned, by: `killed-${round}`, key: last };
    const [numbered] = await register.issue(request);
    if (before !== undefined) expect(numbered!.number).toBe(before);
    expect(await register.issue(request)).toEqual([numbered]);
    given.set(last, numbered!.number);
  }
  expect(unanswered).toBeGreaterThan(0);

  const { rows, byKey } = kept(file);
  expect(byKey).toEqual(given);
  expect(new Set(given.values()).size).toBe(given.size);
  expect(rows.map(({ number }) => number)).toEqual(upTo(rows.length));
  expect(rows.map(({ seq }) => seq)).toEqual(upTo(rows.length).map((n) => n - 1));
});
