import { createServer, connect as dial, type Server, type Socket } from 'node:net';
import { afterEach, describe, expect, test } from 'vitest';
import { plannedCount } from '../../src/edition/labels.js';
import { seriesOf } from '../edition/nine-lights.js';
import { linesOf } from '../words-of.js';
import { ask, refusal } from './ask.js';
import { onServer } from './postgres-open.js';
import { until } from './until.js';

const planned = plannedCount(seriesOf({ id: 'main', to: 9000, pad: 4 }));
type Cut = 'before the server hears of it' | 'before the answer';

/** A server that goes away while numbers are issued: so many wires cut, so many connections ended. */
export function lostConnections({ cuts, ends }: { readonly cuts: number; readonly ends: number }): void {
  const { unused, open, raw, server } = onServer();
  const wires: { close(): void }[] = [];
  afterEach(() => {
    for (const wire of wires.splice(0)) wire.close();
  });

  /** A wire to the server that may be cut at the moment of a commit: the one moment when not all is known. */
  async function wireTo(
    url: string,
  ): Promise<{ url: string; cutNext(how: Cut, forGood?: boolean): void; cuts(): number }> {
    let next: Cut | undefined;
    let cuts = 0;
    let closing = false;
    const open = new Set<Socket>();
    const wire: Server = createServer((near) => {
      const far = dial(server().port, '127.0.0.1');
      let swallow = false;
      for (const end of [near, far]) {
        open.add(end);
        end.on('error', () => undefined);
        end.on('close', () => {
          open.delete(end);
          near.destroy();
          far.destroy();
        });
      }
      near.on('data', (chunk) => {
        // A name of a statement ends with this byte, as all texts of the protocol do.
        if (next && chunk.includes('COMMIT\0')) {
          cuts++;
          if (closing) wire.close();
          const how = next;
          next = undefined;
          if (how === 'before the server hears of it') return near.destroy();
          swallow = true;
        }
        return far.write(chunk);
      });
      // Rows and commit are sent together; the server would not commit if it saw the wire cut at the answer to the rows.
      far.on('data', (chunk) => {
        if (!swallow) near.write(chunk);
        else if (chunk.includes('COMMIT')) near.destroy();
      });
    });
    await new Promise<void>((resolve) => wire.listen(0, '127.0.0.1', resolve));
    const address = wire.address();
    if (typeof address !== 'object' || !address) throw new Error('no port');
    wires.push({
      close: () => {
        for (const end of open) end.destroy();
        wire.close();
      },
    });
    return {
      url: url.replace(`:${server().port}/`, `:${address.port}/`),
      cutNext: (how, forGood = false) => {
        next = how;
        closing = forGood;
      },
      cuts: () => cuts,
    };
  }

  const numbersOf = async (url: string): Promise<{ key: string | null; number: number }[]> =>
    (await (await raw(url)).query('SELECT key, number FROM burin.event ORDER BY seq')).rows;

  describe('the wire is cut in mid-commit', () => {
    const CUTS: Cut[] = ['before the server hears of it', 'before the answer'];

    test.each(CUTS)('%s: with a key the request is carried out once, and nobody is told', async (how) => {
      const url = await unused();
      const wire = await wireTo(url);
      const register = await open(wire.url);
      await register.issue({ ...ask, planned, key: 'first' });
      for (let i = 1; i <= cuts; i++) {
        wire.cutNext(how);
        const request = { ...ask, planned, count: 2, key: `job-${i}` };
        const got = await register.issue(request);
        expect(got.map(({ number }) => number)).toEqual([2 * i, 2 * i + 1]);
        expect(await register.issue(request)).toEqual(got);
      }
      expect(wire.cuts()).toBe(cuts);
      expect((await numbersOf(url)).map(({ number }) => number)).toEqual(
        Array.from({ length: 2 * cuts + 1 }, (_, i) => i + 1),
      );
    });

    test.each(CUTS)('%s: without a key the entry is found again, or made again', async (how) => {
      const url = await unused();
      const wire = await wireTo(url);
      const register = await open(wire.url);
      await register.issue(ask);
      for (let i = 1; i <= cuts; i++) {
        wire.cutNext(how);
        const got = await register.issue({ ...ask, planned, count: 2 });
        expect(got.map(({ number }) => number)).toEqual([2 * i, 2 * i + 1]);
      }
      expect(wire.cuts()).toBe(cuts);
      expect(await numbersOf(url)).toHaveLength(2 * cuts + 1);
    });

    test.each(CUTS)(
      '%s, while another enters: what was not made takes no place that was taken',
      async (how) => {
        const url = await unused();
        const wire = await wireTo(url);
        const [register, other] = [await open(wire.url), await open(url)];
        await register.issue({ ...ask, planned });
        const given: number[] = [];
        for (let i = 0; i < cuts; i++) {
          wire.cutNext(how);
          const both = await Promise.all([
            register.issue({ ...ask, planned }),
            other.issue({ ...ask, planned, by: 'B. Fern' }),
          ]);
          given.push(...both.flat().map(({ number }) => number));
        }
        expect(given.sort((a, b) => a - b)).toEqual(Array.from({ length: 2 * cuts }, (_, i) => i + 2));
        expect(await numbersOf(url)).toHaveLength(2 * cuts + 1);
      },
    );

    test('and the server stays away: without a key it is told that the outcome is not known', async () => {
      const url = await unused();
      const wire = await wireTo(url);
      const register = await open(wire.url, { retryForMs: 700 });
      await register.issue(ask);
      wire.cutNext('before the answer', true);
      const refused = await refusal(register.issue(ask));
      expect(refused.exit).toBe(2);
      expect(linesOf(refused)).toMatch(/before the answer came.*may or may not.*key/);
      expect(await numbersOf(url)).toHaveLength(2);
    });

    test('and the server stays away: with a key, asking again with it is advised', async () => {
      const url = await unused();
      const wire = await wireTo(url);
      const register = await open(wire.url, { retryForMs: 700 });
      const request = { ...ask, key: 'job-7' };
      await register.issue({ ...ask, key: 'first' });
      wire.cutNext('before the answer', true);
      const refused = await refusal(register.issue(request));
      expect(wire.cuts()).toBe(1);
      expect(linesOf(refused)).toMatch(/before the answer came.*Ask again with the same key/);
      const again = await (await open(url)).issue(request);
      expect(again[0]!.number).toBe(2);
      expect(await numbersOf(url)).toHaveLength(2);
    });
  });

  test(`connections ended by the server ${ends} times at any moment: no double, nothing lost, same key same numbers`, async () => {
    const url = await unused();
    const killer = await raw(url);
    const register = await open(url);
    const bare = await open(url);
    const given = new Map<string, number[]>();
    const bareGiven: number[] = [];
    let over = false;
    const keyed = async () => {
      for (let i = 1; !over; i++) {
        const key = `job-${i}`;
        const got = await register.issue({ ...ask, planned, count: 1 + (i % 3), key });
        given.set(
          key,
          got.map(({ number }) => number),
        );
      }
    };
    const withoutKey = async () => {
      while (!over) {
        const [got] = await bare.issue({ ...ask, planned, by: 'B. Fern' });
        bareGiven.push(got!.number);
      }
    };
    const work = Promise.all([keyed(), withoutKey()]);
    let ended = 0;
    await until('so many connections were ended', async () => {
      await new Promise((resolve) => setTimeout(resolve, Math.random() * 30));
      const { rowCount } = await killer.query(
        `SELECT pg_terminate_backend(pid) FROM pg_stat_activity
         WHERE application_name = 'burin' AND datname = current_database()`,
      );
      ended += rowCount ?? 0;
      return ended >= ends;
    });
    over = true;
    await work;

    const rows = await numbersOf(url);
    expect(rows.map(({ number }) => number)).toEqual(Array.from({ length: rows.length }, (_, i) => i + 1));
    for (const [key, numbers] of given) {
      expect(rows.filter((row) => row.key === key).map(({ number }) => number)).toEqual(numbers);
    }
    const withKey = [...given.values()].flat().length;
    expect(rows.filter(({ key }) => key !== null)).toHaveLength(withKey);
    expect(rows.filter(({ key }) => key === null).map(({ number }) => number)).toEqual(bareGiven);
    const [key, numbers] = [...given].at(-1)!;
    const again = await register.issue({ ...ask, planned, count: numbers.length, key });
    expect(again.map(({ number }) => number)).toEqual(numbers);
  });

  test('the server stops as if its plug were pulled, and comes back: what was given is there, nobody is told', async () => {
    const url = await unused();
    // Coming back may take its time on a busy machine.
    const register = await open(url, { retryForMs: 120_000 });
    const given: number[] = [];
    let over = false;
    const work = (async () => {
      for (let i = 1; !over; i++)
        given.push((await register.issue({ ...ask, planned, key: `job-${i}` }))[0]!.number);
    })();
    for (let i = 0; i < 3; i++) {
      await new Promise((resolve) => setTimeout(resolve, 150));
      await server().stop();
      await server().start();
    }
    const far = given.length;
    await until('five more numbers were given', async () => given.length >= far + 5);
    over = true;
    await work;
    expect(given).toEqual(Array.from({ length: given.length }, (_, i) => i + 1));
    expect((await numbersOf(url)).map(({ number }) => number)).toEqual(given);
  });
}
