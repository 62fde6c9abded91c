import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import pg from 'pg';
import { toLeaf } from '../../dist/register/event.js';
import { openRegister } from '../../dist/register/open.js';

const PIECES = 90;
const LIFE = [
  { type: 'issued', why: 'next free number', parts: ['barrel', 'cap'] },
  { type: 'engraved', why: 'cut on the small machine' },
  { type: 'inspected', why: 'read back under the glass' },
  { type: 'delivered', why: 'sold', to: 'the gallery at the harbour' },
];

/** Whole lives of the pieces of one edition after another, a second between two events; every request with a key. */
function* events(count) {
  const start = Date.UTC(2021, 0, 1);
  const salt = Buffer.alloc(16);
  for (let seq = 0; seq < count; seq++) {
    const edition = Math.floor(seq / (PIECES * LIFE.length));
    const place = seq % (PIECES * LIFE.length);
    const number = 1 + (place % PIECES);
    salt.writeUInt32LE(seq);
    yield toLeaf({
      ...LIFE[Math.floor(place / PIECES)],
      ...{
        edition: `lights-${edition}`,
        series: 'main',
        number,
        label: `${number}/${PIECES}`,
        by: 'A. Moss',
      },
      ...{ at: new Date(start + seq * 1000).toISOString(), key: `job-${seq}`, nth: 1 },
      salt: salt.toString('base64').slice(0, 22),
    });
  }
}

/**
 * A register of so many events in a file of its own. Entered past its triggers, which would take half an hour and which
 * reading does not use; the indexes are made again at the end. That nothing is wrong with it, the audit itself says.
 */
export async function bigRegister(count) {
  const dir = await mkdtemp(join(tmpdir(), 'bench-register-'));
  const file = join(dir, 'register.db');
  await beginRegister({ kind: 'sqlite', file });
  const db = new Database(file);
  const against = db
    .prepare(
      "SELECT type, name, sql FROM sqlite_schema WHERE type = 'trigger' OR (type = 'index' AND sql IS NOT NULL)",
    )
    .all();
  for (const { type, name } of against) db.exec(`DROP ${type} "${name}"`);
  db.pragma('ignore_check_constraints = ON');
  db.pragma('synchronous = OFF');
  const insert = db.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, ?)');
  let bytes = 0;
  db.transaction(() => {
    let seq = 0;
    for (const { body, leaf } of events(count)) {
      bytes += Buffer.byteLength(body);
      if (seq > 0) insert.run(seq, body, leaf);
      seq++;
    }
  })();
  for (const { type, sql } of against) if (type === 'index') db.exec(sql);
  db.close();
  return { place: { kind: 'sqlite', file }, bytes, clear: () => rm(dir, { recursive: true, force: true }) };
}

/** The first event, by the register itself. */
async function beginRegister(place) {
  const register = await openRegister(place, { now: () => new Date() });
  await register.restore(
    (async function* () {
      let seq = 0;
      for (const leaf of events(1)) yield { seq: seq++, ...leaf };
    })(),
    [],
  );
  await register.close();
}

/** The same in an empty database of a server. */
export async function bigServerRegister(url, count) {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  const clear = async () => {
    await client.query('DROP SCHEMA IF EXISTS burin CASCADE');
    await client.end();
  };
  await client.query('DROP SCHEMA IF EXISTS burin CASCADE');
  await beginRegister({ kind: 'postgres', url });
  await client.query('ALTER TABLE burin.event DISABLE TRIGGER USER');
  const { rows } = await client.query(
    "SELECT indexname, indexdef FROM pg_indexes WHERE schemaname = 'burin' AND tablename = 'event' AND indexname <> 'event_pkey'",
  );
  for (const { indexname } of rows) await client.query(`DROP INDEX burin."${indexname}"`);
  const { rows: checks } = await client.query(
    "SELECT conname FROM pg_constraint WHERE conrelid = 'burin.event'::regclass AND contype = 'c'",
  );
  for (const { conname } of checks)
    await client.query(`ALTER TABLE burin.event DROP CONSTRAINT "${conname}"`);
  let bytes = 0;
  let lot = { seqs: [], bodies: [], leaves: [] };
  const put = () =>
    client.query(
      'INSERT INTO burin.event (seq, body, leaf) SELECT * FROM unnest($1::bigint[], $2::text[], $3::bytea[])',
      [lot.seqs, lot.bodies, lot.leaves],
    );
  let seq = 0;
  for (const { body, leaf } of events(count)) {
    bytes += Buffer.byteLength(body);
    if (seq > 0) {
      lot.seqs.push(seq);
      lot.bodies.push(body);
      lot.leaves.push(leaf);
    }
    seq++;
    if (lot.seqs.length < 5000) continue;
    await put();
    lot = { seqs: [], bodies: [], leaves: [] };
  }
  await put();
  for (const { indexdef } of rows) await client.query(indexdef);
  await client.query('VACUUM ANALYZE burin.event');
  return { place: { kind: 'postgres', url }, bytes, clear };
}
