import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import pg from 'pg';
import { plannedCount } from '../../dist/edition/labels.js';
import { openRegister } from '../../dist/register/open.js';
import { median, spread } from './rounds.mjs';

const TURNS = 200;

export const title = 'one number issued, on disk, against a bare insert of as many bytes';

const SIDES = `issue      one number of a series of 9,000: read, judged, hashed, entered past every trigger and index.
keyed      the same with a key, which is looked up first and has an index of its own.
insert     a table of place, text and 32 bytes, no index, no trigger; prepared; text of the same length.
Both: SQLite in a file beside the other, write-ahead log, synchronous FULL, one immediate transaction each, answered
after the commit. They take turns, one by one, so that a disturbance of the machine or the disk meets both alike.
On a server, too, with --server, or where BENCH_SERVER is the URL of an empty database: a table beside the register, each insert one
statement and so one transaction.`;

export async function measure({ rounds }) {
  const parts = [SIDES];
  const dir = await mkdtemp(join(tmpdir(), 'bench-issue-'));
  try {
    const file = join(dir, 'register.db');
    parts.push(...(await measureStore({ kind: 'sqlite', file }, openBare(join(dir, 'bare.db')), rounds)));
    const url = process.env.BENCH_SERVER;
    if (url)
      parts.push(
        'On a server:',
        ...(await measureStore({ kind: 'postgres', url }, await serverBare(url), rounds)),
      );
    return parts;
  } finally {
    await rm(dir, { recursive: true, force: true });
  }
}

async function measureStore(place, bare, rounds) {
  const register = await openRegister(place, deps());
  try {
    const planned = plannedCount({ id: 'main', from: 1, to: 9000, figures: 'arabic', pad: 4, exclude: [] });
    const issue = (key) =>
      register.issue({
        ...{ edition: 'nine-lights', series: 'main', planned, count: 1, by: 'A. Moss', key },
        parts: ['barrel', 'cap'],
      });
    await issue();
    let body = '';
    for await (const event of register.events()) body = event.body;
    const leaf = Buffer.alloc(32, 7);
    const sides = {
      issue: () => issue(),
      keyed: (i) => issue(`job-${i}`),
      insert: (i) => bare.insert(i, body, leaf),
    };
    const times = { issue: [], keyed: [], insert: [] };
    const names = Object.keys(sides);
    const turns = rounds * TURNS;
    // The first tenth is not counted, for code and caches to warm.
    for (let i = -turns / 10; i < turns; i++)
      for (const name of i % 2 === 0 ? names : names.toReversed()) {
        const start = performance.now();
        await sides[name](i);
        const taken = performance.now() - start;
        if (i >= 0) times[name].push(taken);
      }
    return [
      `${turns} turns, text of ${Buffer.byteLength(body)} bytes, ms:`,
      names.map((side) => ({ side, tenth: quickTenth(times[side]).toFixed(3), ...spread(times[side], 3) })),
      ...[
        ['medians', median],
        ['times that a tenth are quicker than', quickTenth],
      ].map(
        ([what, of]) =>
          `insert / issue, of the ${what}: ${ratio(times, 'issue', of)} (wanted: 0.5 or more); with a key ${ratio(times, 'keyed', of)}`,
      ),
    ];
  } finally {
    await register.close();
    await bare.close();
  }
}

const ratio = (times, side, of) => (of(times.insert) / of(times[side])).toFixed(2);

/** On a busy machine most turns wait for what others do, both sides alike; the quickest wait least. */
const quickTenth = (times) => times.toSorted((a, b) => a - b)[Math.floor(times.length / 10)];

const deps = () => ({
  now: () => new Date(),
  salt: (bytes) => crypto.getRandomValues(new Uint8Array(bytes)),
});

function openBare(file) {
  const db = new Database(file);
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  db.exec('CREATE TABLE kept (seq INTEGER PRIMARY KEY, body TEXT NOT NULL, leaf BLOB NOT NULL)');
  const put = db.prepare('INSERT INTO kept (body, leaf) VALUES (?, ?)');
  const once = db.transaction((body, leaf) => put.run(body, leaf));
  return { insert: (_, body, leaf) => once.immediate(body, leaf), close: () => db.close() };
}

async function serverBare(url) {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  await client.query('DROP SCHEMA IF EXISTS burin CASCADE; DROP TABLE IF EXISTS kept');
  await client.query(
    'CREATE TABLE kept (seq bigserial PRIMARY KEY, body text NOT NULL, leaf bytea NOT NULL)',
  );
  const text = 'INSERT INTO kept (body, leaf) VALUES ($1, $2)';
  return {
    insert: (_, body, leaf) => client.query({ name: 'keep', text, values: [body, leaf] }),
    close: async () => {
      await client.query('DROP SCHEMA IF EXISTS burin CASCADE; DROP TABLE kept');
      await client.end();
    },
  };
}
