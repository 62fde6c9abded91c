import { spawnSync } from 'node:child_process';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { toLeaf } from '../../dist/register/event.js';
import { openRegister } from '../../dist/register/open.js';
import { spread } from './rounds.mjs';

const NUMBERS = 100_000;
const PER_SERIES = 50_000;
const command = fileURLToPath(new URL('../../dist/bin/burin.js', import.meta.url));
const template = fileURLToPath(new URL('../../templates/nine-lights', import.meta.url));

export const title = 'an edition of 100,000 numbers listed and searched, as started commands';

const SIDES = `Two series of 50,000 numbers, all of them issued; in the second table every fourth number was also engraved,
inspected and delivered. Each command is started, reads its documents and every event of the edition, verifies each, and
writes its answer to a pipe. Times by the clock, ms.`;

const LATER = [
  { type: 'engraved', why: 'cut on the small machine' },
  { type: 'inspected', why: 'read back under the glass' },
  { type: 'delivered', why: 'sold', to: 'the gallery at the harbour' },
];

function* events(delivered) {
  let seq = 0;
  const salt = Buffer.alloc(16);
  const leaf = (event) => {
    salt.writeUInt32LE(seq);
    const at = new Date(Date.UTC(2026, 0, 1) + seq++ * 1000).toISOString();
    return toLeaf({
      ...event,
      edition: 'nine-lights',
      by: 'A. Moss',
      at,
      salt: salt.toString('base64').slice(0, 22),
    });
  };
  for (let i = 0; i < NUMBERS; i++) {
    const n = 1 + (i % PER_SERIES);
    const series = i < PER_SERIES ? 'main' : 'second';
    const numbered = {
      series,
      number: n,
      label: `${series === 'main' ? '' : 'S '}${String(n).padStart(5, '0')}`,
    };
    yield leaf({ type: 'issued', ...numbered, parts: ['cap'], why: 'next free number' });
    if (delivered && i % 4 === 0)
      for (const event of LATER) {
        const to = event.to && i === 40_000 ? { to: 'R. Vane' } : {};
        yield leaf({ ...event, ...numbered, ...to });
      }
  }
}

/** A bench whose register is entered past its triggers and indexes, which would take half an hour. */
async function bigBench(delivered) {
  const dir = join(await mkdtemp(join(tmpdir(), 'bench-listing-')), 'bench');
  await cp(template, dir, { recursive: true });
  const file = join(dir, 'editions/nine-lights.yaml');
  const text = await readFile(file, 'utf8');
  const series = (id, before) =>
    `  - { id: ${id}, title: ${id}, to: ${PER_SERIES}, pad: 5${before && `, before: '${before}'`} }\n`;
  await writeFile(
    file,
    `${text.slice(0, text.indexOf('series:'))}series:\n${series('main', '')}${series('second', 'S ')}`,
  );
  const db = join(dir, 'register.db');
  const all = events(delivered);
  const register = await openRegister({ kind: 'sqlite', file: db }, { now: () => new Date() });
  await register.restore(
    (async function* () {
      yield { seq: 0, ...all.next().value };
    })(),
    [],
  );
  await register.close();
  const open = new Database(db);
  const against = open.prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger'").pluck().all();
  for (const name of against) open.exec(`DROP TRIGGER "${name}"`);
  open.pragma('ignore_check_constraints = ON');
  open.pragma('synchronous = OFF');
  const insert = open.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, ?)');
  let seq = 1;
  open.transaction(() => {
    for (const { body, leaf } of all) insert.run(seq++, body, leaf);
  })();
  open.close();
  return { dir, events: seq, clear: () => rm(join(dir, '..'), { recursive: true, force: true }) };
}

const COMMANDS = {
  listing: [],
  'one number': ['40001'],
  buyer: ['--to', 'r.vane'],
  search: ['--search', 'vane'],
};

export async function measure({ rounds }) {
  const parts = [SIDES];
  for (const delivered of [false, true]) {
    const { dir, events, clear } = await bigBench(delivered);
    try {
      const rows = Object.entries(COMMANDS).map(([name, words]) => {
        const times = [];
        let lines = 0;
        for (let i = 0; i < rounds; i++) {
          const start = performance.now();
          const said = spawnSync(
            process.execPath,
            [command, 'register', 'nine-lights', ...words, '--workshop', dir],
            {
              maxBuffer: 1 << 28,
            },
          );
          times.push(performance.now() - start);
          if (said.status !== 0) throw new Error(String(said.stderr));
          lines = said.stdout.toString().split('\n').length - 1;
        }
        return { command: name, lines, ...spread(times, 0) };
      });
      parts.push(`${events} events:`, rows);
    } finally {
      await clear();
    }
  }
  return parts;
}
