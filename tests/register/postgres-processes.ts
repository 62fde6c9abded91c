import type pg from 'pg';
import { beforeAll, expect, test } from 'vitest';
import { issuer, issuing, mustBeBuilt } from './issuing.js';
import { onServer } from './postgres-open.js';
import { withPassword } from './postgres-server.js';
import { until } from './until.js';

const upTo = (n: number) => Array.from({ length: n }, (_, i) => i + 1);

/** Number by key, and the sequence, as the server itself has them. */
async function keptBy(hand: pg.Client) {
  const { rows } = await hand.query<{ seq: number; key: string; number: number }>(
    'SELECT seq, key, number FROM burin.event ORDER BY seq',
  );
  return { byKey: new Map(rows.map(({ key, number }) => [key, number])), rows };
}

/** Processes that issue at once on one server, and others that are killed while they issue, and the server with them. */
export function issuingProcesses({ each, kills }: { readonly each: number; readonly kills: number }): void {
  const { unused, raw, server } = onServer();
  beforeAll(mustBeBuilt);
  const kept = async (url: string) => keptBy(await raw(url));

  test(`four processes, ${each} each, from one series that none of them made: no error shown`, async () => {
    const url = await unused();
    const names = ['a', 'b', 'c', 'd'];
    const all = await Promise.all(names.map((name) => issuer(withPassword(url), name, each)));
    for (const { errors, code } of all) expect({ errors, code }).toEqual({ errors: '', code: 0 });
    const given = all.flatMap((said) => [...said.given.values()]);
    expect(given.sort((a, b) => a - b)).toEqual(upTo(4 * each));
    const { rows, byKey } = await kept(url);
    expect(rows.map(({ seq }) => seq)).toEqual(upTo(4 * each).map((n) => n - 1));
    for (const said of all) for (const [key, n] of said.given) expect(byKey.get(key)).toBe(n);
  });

  test('processes killed, and the server with them: nothing given is lost, nothing is given twice', async () => {
    const url = await unused();
    const given = new Map<string, number>();
    for (const round of upTo(kills)) {
      const other = issuing(withPassword(url), `other-${round}`, 100_000);
      // A program soon gives up a server that it never reached: it is more likely misnamed.
      await until('the other is given a number', async () => other.given() > 0);
      const end = await issuer(withPassword(url), `killed-${round}`, 100_000, 5 + ((round * 7) % 12));
      expect(end.signal).toBe('SIGKILL');
      // Pulling the plug of the server: the one still running waits, and asks again with its keys.
      await server().stop();
      await server().start();
      const before = other.given();
      await until('the other goes on', async () => other.given() > before + 5);
      other.stop();
      const { errors, code, given: more } = await other.ended;
      expect({ errors, code }).toEqual({ errors: '', code: 0 });
      for (const [key, n] of [...end.given, ...more]) given.set(key, n);
    }
    const { rows, byKey } = await kept(url);
    for (const [key, n] of given) expect(byKey.get(key)).toBe(n);
    expect(new Set(byKey.values()).size).toBe(rows.length);
    expect(rows.map(({ number }) => number)).toEqual(upTo(rows.length));
    expect(rows.map(({ seq }) => seq)).toEqual(upTo(rows.length).map((n) => n - 1));
    // At most the requests cut off unanswered are there beside those answered.
    expect(rows.length - given.size).toBeLessThanOrEqual(kills);
  });
}
