import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { auditRegister } from '../../src/app/audit.js';
import { environmentOf } from '../../src/app/environment.js';
import { registerOf } from '../../src/app/kept-register.js';
import { openDocuments } from '../../src/app/open-documents.js';
import { EVENT_MEMBERS } from '../../src/register/event.js';
import { removeFolders } from '../app/workshop.js';
import { mustBeBuilt } from '../register/issuing.js';
import { onServer } from '../register/postgres-open.js';
import { withPassword } from '../register/postgres-server.js';
import { keptIn, newBench, statementsIn } from './bench.js';
import { holdAgainst } from './hold-against.js';
import { PER_EDITION } from './request.mjs';
import { type Bench, chances, type Soak, soak } from './soak.js';

/** In all, half of them on each store. `npm run soak` makes it a thousand. */
const KILLS = Number(process.env.SOAK_KILLS ?? 50) / 2;
const NAMES = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'].map((letter) => `bench-${letter}`);
const LONGEST_MS = 60_000 + KILLS * 6000;
/** More than the workers come to: about three requests a life. */
const EDITIONS = 2 + Math.ceil((KILLS * 4) / NAMES.length / PER_EDITION);
/** All kinds of entry; what is wrong enough to be gone past, no worker enters. */
const KINDS = Object.keys(EVENT_MEMBERS).filter((type) => type !== 'resumed');

/** Nobody plans which proofs come in before an edition is closed, nor writes a new name into the document. */
const EXPECTED: Readonly<Record<string, RegExp>> = {
  'audit.number-missing': /series proofs$/,
  'audit.terms-differ': /edition own-/,
};

afterEach(removeFolders);
const onPostgres = onServer();
beforeAll(mustBeBuilt);

/**
 * No double, nothing acknowledged lost, nothing half done, the same answer to the same key, each statement what the log
 * says, and a clean audit.
 */
async function allIsWell({ folder, environment }: Bench, ran: Soak, what: string): Promise<void> {
  const workshop = await openDocuments(folder, environmentOf(environment));
  const kept = await keptIn(workshop);
  expect(kept.map(({ seq }) => seq)).toEqual(kept.map((_, place) => place));
  const files = statementsIn(folder);
  expect(holdAgainst(ran, kept, files)).toEqual({
    ...{ doubles: [], lost: [], halves: [], otherAnswers: [], statements: [] },
  });
  const { report } = await auditRegister(registerOf(workshop), {});
  const faults = report.findings.filter(({ grade }) => grade === 'fault');
  expect(faults.filter(({ code, where }) => !EXPECTED[code]?.test(where))).toEqual([]);
  expect(report.events).toBe(kept.length);

  const types = new Set(kept.map(({ event }) => event.type));
  if (KILLS >= 100) expect([...types].sort()).toEqual([...KINDS].sort());
  const sum = (of: (worker: Soak['workers'][number]) => number) =>
    ran.workers.map(of).reduce((a, b) => a + b, 0);
  const told = sum(({ answers }) => answers.size);
  const again = sum(({ answers }) => [...answers.values()].filter((all) => all.length > 1).length);
  const unanswered = sum((worker) => worker.unanswered);
  // A soak in which no kill met a request in the middle, or none was asked again, would have shown nothing.
  expect(unanswered).toBeGreaterThan(0);
  expect(again).toBeGreaterThan(0);
  console.log(
    `${what}: ${ran.kills} kills, ${unanswered} of them with a request unanswered; ${kept.length} events of ` +
      `${types.size} kinds, ${files.size} editions closed, ${told} answers acknowledged, ${again} asked again: ` +
      'all there, none twice, none by halves, each statement as the log',
  );
}

describe(`eight processes do all that a keeper does at once, killed ${KILLS} times on each store at random moments:`, () => {
  test(
    'SQLite',
    async () => {
      const bench = await newBench(NAMES, EDITIONS);
      await allIsWell(bench, await soak(bench, NAMES, KILLS), 'SQLite');
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
      const bench = await newBench(NAMES, EDITIONS, withPassword(url));
      const ran = await soak(bench, NAMES, KILLS).finally(async () => {
        over = true;
        await ending;
      });
      expect(ended).toBeGreaterThan(0);
      await allIsWell(bench, ran, `PostgreSQL (${ended} connections ended as well)`);
    },
    LONGEST_MS,
  );
});
