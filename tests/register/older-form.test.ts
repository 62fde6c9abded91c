import { copyFileSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { audit } from '../../src/register/audit/audit.js';
import { verifyCertificate } from '../../src/register/certificate/verify.js';
import { historyOf } from '../../src/register/log/key-history.js';
import { readVerifier, type Verifier } from '../../src/register/log/note.js';
import type { RawEvent, Register, StoredCheckpoint } from '../../src/register/register.js';
import { codesOf, refusal } from './ask.js';
import { cleanAfterEach, newFile, open } from './folder.js';
import { onServer } from './postgres-open.js';

// A register of 26 events and 12 checkpoints, its key and a certificate, as the program of the third form left them.
const fixture = (name: string) => fileURLToPath(new URL(`../fixtures/register/${name}`, import.meta.url));

cleanAfterEach();
const server = onServer();

const EDITION = 'nine-lights';
const STATES =
  '01/90 delivered, 02/90 recut, 03/90 withheld, 04/90 issued, 05/90 void, 06/90 issued, 07/90 issued, 08/90 issued, ' +
  '09/90 issued, 10/90 issued, 11/90 issued, 12/90 issued, 20/90 withheld, A.P. I/IX issued, A.P. II/IX issued, ' +
  'A.P. III/IX issued';

const left = new Database(fixture('form-3.db'), { readonly: true });
const EVENTS = left.prepare<[], RawEvent>('SELECT seq, body, leaf FROM event ORDER BY seq').all();
const CHECKPOINTS = left
  .prepare<[], { size: number; note: string; frontier: Buffer }>('SELECT * FROM checkpoint ORDER BY size')
  .all();
left.close();

function verifier(): Verifier {
  const read = readVerifier(readFileSync(fixture('form-3.pub'), 'utf8'));
  if (!read.ok) throw new Error('the key of the fixture cannot be read');
  return read.verifier;
}

async function onSqlite(): Promise<Register> {
  const file = newFile();
  copyFileSync(fixture('form-3.db'), file);
  return open(file);
}

async function onPostgres(): Promise<Register> {
  const url = await server.fresh();
  const hand = await server.raw(url);
  await hand.query(readFileSync(fixture('form-3.postgres.sql'), 'utf8'));
  await hand.query(`INSERT INTO burin.schema_version SELECT n, '2026-11-26' FROM generate_series(1, 3) AS n`);
  for (const { seq, body, leaf } of EVENTS) {
    await hand.query('INSERT INTO burin.event (seq, body, leaf) VALUES ($1, $2, $3)', [seq, body, leaf]);
  }
  for (const { size, note, frontier } of CHECKPOINTS) {
    await hand.query('INSERT INTO burin.checkpoint VALUES ($1, $2, $3)', [size, note, frontier]);
  }
  return server.open(url);
}

describe.each([
  ['SQLite', onSqlite],
  ['PostgreSQL', onPostgres],
])('a register of the third form on %s', (_store, older) => {
  test('is brought forward with every event, hash and checkpoint', async () => {
    const register = await older();
    const events: RawEvent[] = [];
    for await (const event of register.events()) events.push(event);
    expect(events).toEqual(EVENTS);
    const notes = (await register.checkpoints()).map(({ size, note }: StoredCheckpoint) => ({ size, note }));
    expect(notes).toEqual(CHECKPOINTS.map(({ size, note }) => ({ size, note })));
    const statuses = await register.statuses(EDITION);
    expect(
      statuses
        .map(({ label, state }) => `${label} ${state}`)
        .sort()
        .join(', '),
    ).toBe(STATES);
    // Signatures, roots and the life of every number.
    const report = await audit(register, { editions: new Map(), keys: historyOf(verifier()) });
    expect(report.findings.filter(({ grade }) => grade === 'fault')).toEqual([]);
    expect(report.events).toBe(26);
    const certificate = verifyCertificate(
      readFileSync(fixture('form-3.certificate.json')),
      readFileSync(fixture('form-3.pub'), 'utf8'),
    );
    expect(certificate.ok).toBe(true);
  });

  test('has the tables of a new one afterwards, and goes on by the same rules', async () => {
    const register = await older();
    const of = { edition: EDITION, series: 'main', number: 2, label: '02/90', by: 'A. Moss' };
    expect((await register.record({ ...of, event: 'engraved' })).state).toBe('engraved');
    expect(codesOf(await refusal(register.record({ ...of, event: 'engraved' })))).toEqual([
      'register.part-not-blank',
    ]);
    const planned = [1, 3, 5, 13, 20, 21].map((number) => ({
      ...{ series: 'main', number },
      label: `${String(number).padStart(2, '0')}/90`,
    }));
    const request = { edition: EDITION, series: 'main', planned, count: 2, by: 'A. Moss' };
    expect((await register.issue(request)).map(({ label }) => label)).toEqual(['13/90', '21/90']);
    // A request of that time, asked again with its key.
    const spring = { ...request, count: 12, key: 'spring-1' };
    expect((await register.issue(spring)).map(({ number }) => number)).toEqual(
      Array.from({ length: 12 }, (_, i) => i + 1),
    );
    expect(await register.faults()).toEqual([]);
  });
});
