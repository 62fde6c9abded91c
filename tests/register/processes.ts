import Database from 'better-sqlite3';
import { beforeAll, expect, test } from 'vitest';
import { plannedCount } from '../../src/edition/labels.js';
import { seriesOf } from '../edition/nine-lights.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { issuer, mustBeBuilt } from './issuing.js';
import { ask } from './rules.js';

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

/** Processes that issue at once, and others that are killed while they issue. */
export function issuingProcesses({ each, kills }: { readonly each: number; readonly kills: number }): void {
  cleanAfterEach();
  beforeAll(mustBeBuilt);

  test(`four processes, ${each} each, from one series that none of them made: no error shown`, async () => {
    const file = newFile();
    const all = await Promise.all(['a', 'b', 'c', 'd'].map((name) => issuer(file, name, each)));
    for (const { errors, code } of all) expect({ errors, code }).toEqual({ errors: '', code: 0 });
    const given = all.flatMap(({ given }) => [...given.values()]);
    expect(given.sort((a, b) => a - b)).toEqual(upTo(4 * each));
    const { rows, byKey } = kept(file);
    expect(rows.map(({ seq }) => seq)).toEqual(upTo(4 * each).map((n) => n - 1));
    for (const said of all) for (const [key, n] of said.given) expect(byKey.get(key)).toBe(n);
  });

  test(`killed ${kills} times while issuing: nothing given is lost or given twice, asking again is safe`, async () => {
    const file = newFile();
    const planned = plannedCount(seriesOf({ id: 'main', to: 2000, pad: 4 }));
    const given = new Map<string, number>();
    for (let round = 1; round <= kills; round++) {
      // Two at once, so that one is killed while the other may hold or await the file.
      const [killed, other] = await Promise.all([
        issuer(file, `killed-${round}`, 100_000, 3 + ((round * 7) % 20)),
        issuer(file, `other-${round}`, 20),
      ]);
      expect(killed.signal).toBe('SIGKILL');
      expect({ errors: other.errors, code: other.code }).toEqual({ errors: '', code: 0 });
      for (const [key, n] of [...killed.given, ...other.given]) given.set(key, n);

      const last = killed.asked.at(-1)!;
      const before = kept(file).byKey.get(last);
      const register = await open(file, undefined, () => new Date());
      const request = { ...ask, planned, by: `killed-${round}`, key: last };
      const [numbered] = await register.issue(request);
      if (before !== undefined) expect(numbered!.number).toBe(before);
      expect(await register.issue(request)).toEqual([numbered]);
      given.set(last, numbered!.number);
    }

    const { rows, byKey } = kept(file);
    expect(byKey).toEqual(given);
    expect(new Set(given.values()).size).toBe(given.size);
    expect(rows.map(({ number }) => number)).toEqual(upTo(rows.length));
    expect(rows.map(({ seq }) => seq)).toEqual(upTo(rows.length).map((n) => n - 1));
  });
}
