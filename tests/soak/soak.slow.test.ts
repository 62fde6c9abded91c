import { beforeAll, describe, expect, test } from 'vitest';
import { audit } from '../../src/register/audit/audit.js';
import { fromLeaf } from '../../src/register/event.js';
import type { Register, StoredEvent } from '../../src/register/register.js';
import { cleanAfterEach, newFile, open } from '../register/folder.js';
import { mustBeBuilt } from '../register/issuing.js';
import { onServer } from '../register/postgres-open.js';
import { withPassword } from '../register/postgres-server.js';
import { holdAgainst } from './hold-against.js';
import { chances, type Soak, soak } from './soak.js';

/** In all, half of them on each store. `npm run soak` makes it a thousand. */
const KILLS = Number(process.env.SOAK_KILLS ?? 50) / 2;
const NAMES = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'].map((letter) => `bench-${letter}`);
const LONGEST_MS = 60_000 + KILLS * 4000;

cleanAfterEach();
const onPostgres = onServer();
beforeAll(mustBeBuilt);

/** No double, nothing acknowledged lost, nothing half done, the same answer to the same key, and a clean audit. */
async function allIsWell(register: Register, ran: Soak, what: string): Promise<void> {
  const kept: StoredEvent[] = [];
  for await (const raw of register.events()) kept.push({ ...raw, event: fromLeaf(raw.seq, raw) });
  expect(kept.map(({ seq }) => seq)).toEqual(kept.map((_, place) => place));
  expect(holdAgainst(ran, kept)).toEqual({ doubles: [], lost: [], halves: [], otherAnswers: [] });
  const report = await audit(register, { editions: new Map() });
  expect(report.findings.filter(({ grade }) => grade === 'fault')).toEqual([]);
  expect(report.events).toBe(kept.length);

  const sum = (of: (worker: Soak['workers'][number]) => number) =>
    ran.workers.map(of).reduce((a, b) => a + b, 0);
  const told = sum(({ given, stood }) => given.size + stood.size);
  const again = sum(({ given }) => [...given.values()].filter((answers) => answers.length > 1).length);
  const unanswered = sum((worker) => worker.unanswered);
  // A soak in which no kill met a request in the middle, or none was asked again, would have shown nothing.
  expect(unanswered).toBeGreaterThan(0);
  expect(again).toBeGreaterThan(0);
  console.log(
    `${what}: ${ran.kills} kills, ${unanswered} of them with a request unanswered; ${kept.length} events, ` +
      `${told} answers acknowledged, ${again} requests asked again: all there, none twice, none by halves`,
  );
}

describe(`eight processes issue and record at once, killed ${KILLS} times on each store at random moments:`, () => {
  test(
    'SQLite',
    async () => {
      const file = newFile();
      const ran = await soak(file, NAMES, KILLS);
      await allIsWell(await open(file), ran, 'SQLite');
    },
    LONGEST_MS,
  );

  test(
    'PostgreSQL, whose server ends connections meanwhile',
    async () => {
      const url = await onPostgres.fresh();
      const ender = await onPostgres.raw(url);
      const chance = chances(25);
      let over = false;
      let ended = 0;
      const ending = (async () => {
        while (!over) {
          await new Promise((resolve) => setTimeout(resolve, 50 + chance() * 400));
          const { rowCount } = await ender.query(
            `SELECT pg_terminate_backend(pid) FROM pg_stat_activity
               WHERE application_name = 'burin' AND datname = current_database() ORDER BY random() LIMIT 1`,
          );
          ended += rowCount ?? 0;
        }
      })();
      const ran = await soak(withPassword(url), NAMES, KILLS);
      over = true;
      await ending;
      expect(ended).toBeGreaterThan(0);
      await allIsWell(await onPostgres.open(url), ran, `PostgreSQL (${ended} connections ended as well)`);
    },
    LONGEST_MS,
  );
});
