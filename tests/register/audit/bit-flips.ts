import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import Database from 'better-sqlite3';
import { beforeAll, describe, expect, test } from 'vitest';
import { audit } from '../../../src/register/audit/audit.js';
import { historyOf } from '../../../src/register/log/key-history.js';
import { openRegister } from '../../../src/register/open.js';
import type { PastEvent } from '../../../src/register/register.js';
import { nineLights } from '../../edition/nine-lights.js';
import { chances } from '../../soak/soak.js';
import { describeProblem } from '../../words-of.js';
import { cleanAfterEach, newFile, unusedFile } from '../folder.js';
import { PLAN } from '../rules.js';
import { SIGNER, signed } from './kept.js';

/** 297 events of 99 numbers; a checkpoint kept after the issue, and one given away at the end. */
async function keptEdition(file: string): Promise<string> {
  let second = 0;
  const now = () => new Date(Date.UTC(2021, 2, 1, 9, 0, second++));
  const register = await openRegister(
    { kind: 'sqlite', file },
    { now, salt: (bytes) => new Uint8Array(bytes) },
  );
  const of = { edition: 'nine-lights', by: 'A. Moss' };
  await register.issue({ ...of, planned: PLAN, series: 'main', count: 90, key: 'job-1' });
  await register.issue({ ...of, planned: PLAN, series: 'proofs', count: 9 });
  await register.addCheckpoint(await signed(register));
  const life = ['engraved', 'inspected'] as const;
  await register.importEvents(
    PLAN.flatMap((numbered) => life.map((event): PastEvent => ({ ...of, ...numbered, event }))),
  );
  const { note } = await signed(register);
  await register.close();
  return note;
}

let whole: Buffer;
let evening: { from: string; note: string };

/** What the audit finds, as code and event. It may refuse, with a problem; any other error is a failure of the test. */
async function found(file: string, eventsOnly = false): Promise<string[]> {
  const register = await openRegister({ kind: 'sqlite', file }, { now: () => new Date() });
  try {
    const editions = new Map([['nine-lights', nineLights()]]);
    const order = { editions, keys: historyOf(SIGNER), outside: [evening] };
    const { findings, ok } = await audit(register, { ...order, eventsOnly });
    const faults = findings.filter(({ grade }) => grade === 'fault');
    expect(ok).toBe(faults.length === 0);
    for (const { where, message, hint } of faults.map(describeProblem))
      expect([where, message, hint].every((text) => text.length > 0)).toBe(true);
    return faults.map(({ code, seq }) => (seq === undefined ? code : `${code} ${seq}`));
  } finally {
    await register.close();
  }
}

/** Everything the file says, read without the register's code: each table's rows, and how the tables are made. */
function everything(file: string): Record<string, unknown[]> {
  const db = new Database(file, { readonly: true });
  try {
    const rows = (sql: string) => db.prepare(sql).raw().all();
    return {
      schema: rows('SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name'),
      event: rows('SELECT seq, CAST(body AS BLOB), leaf FROM event ORDER BY seq'),
      checkpoint: rows('SELECT size, CAST(note AS BLOB), frontier FROM checkpoint ORDER BY size'),
      moved: rows('SELECT * FROM moved'),
      forms: rows('SELECT version FROM schema_version ORDER BY version'),
      madeAt: rows('SELECT at FROM schema_version ORDER BY version'),
      sound: rows('PRAGMA integrity_check'),
    };
  } finally {
    db.close();
  }
}

const placed = (bytes: Buffer): string => {
  const file = newFile();
  writeFileSync(file, bytes);
  return file;
};

function replace(file: string, bytes: Buffer): void {
  for (const end of ['', '-wal', '-shm']) rmSync(file + end, { force: true });
  writeFileSync(file, bytes);
}

/** An audit of a register in which one bit was flipped, so many times over at random. */
export function bitFlips(flips: number): void {
  cleanAfterEach();
  beforeAll(async () => {
    const file = unusedFile();
    evening = { from: 'evening.checkpoint', note: await keptEdition(file) };
    const db = new Database(file);
    db.pragma('journal_mode = DELETE');
    db.close();
    whole = readFileSync(file);
  });

  test('unaltered, nothing is found', async () => {
    expect(await found(placed(whole))).toEqual([]);
  });

  describe(`one bit flipped, at ${flips} random places`, () => {
    test('of the texts and hashes of events: named every time, with its event', async () => {
      // In the file itself: SQL takes no text that is not JSON, triggers or not. Text and hash lie side by side there.
      // Packed first, so that an old copy of a cell is left only in the first page, from when it was the only one.
      const file = newFile();
      writeFileSync(file, whole);
      const db = new Database(file);
      db.exec('VACUUM');
      const packed = readFileSync(file);
      const rows = db
        .prepare<[], { seq: number; cell: Buffer }>(
          'SELECT seq, CAST(CAST(body AS BLOB) || leaf AS BLOB) AS cell FROM event ORDER BY seq',
        )
        .all();
      db.close();
      const chance = chances(1);
      const missed: string[] = [];
      for (let i = 0; i < flips; i++) {
        const { seq, cell } = rows[Math.floor(chance() * rows.length)]!;
        const from = packed.lastIndexOf(cell);
        if (from < 0) throw new Error(`event ${seq} is not in one piece`);
        const flipped = Buffer.from(packed);
        const at = Math.floor(chance() * cell.length);
        flipped[from + at]! ^= 1 << Math.floor(chance() * 8);
        replace(file, flipped);
        const faults = await found(file, true);
        if (!faults.includes(`audit.text-and-hash-differ ${seq}`))
          missed.push(`event ${seq}, byte ${at}: ${faults}`);
      }
      expect(missed).toEqual([]);
    });

    test('of the file: found or refused, wherever the file then says anything else than before', async () => {
      const before = everything(placed(whole));
      const chance = chances(2);
      const file = newFile();
      const missed: string[] = [];
      const counts = { refused: 0, named: 0, dead: 0, madeAt: 0 };
      for (let i = 0; i < flips; i++) {
        const flipped = Buffer.from(whole);
        const at = Math.floor(chance() * flipped.length);
        flipped[at]! ^= 1 << Math.floor(chance() * 8);
        replace(file, flipped);
        const faults = await found(file);
        if (faults.length > 0) {
          // What the store itself refuses has no code of the audit.
          if (faults.some((fault) => !fault.startsWith('audit.'))) counts.refused++;
          else counts.named++;
          continue;
        }
        // Nothing was found: then nothing may be other than before, whichever way the file is read.
        replace(file, flipped);
        const { madeAt, ...rest } = everything(file);
        const { madeAt: as, ...wanted } = before;
        if (JSON.stringify(rest) !== JSON.stringify(wanted)) missed.push(`byte ${at}`);
        // When the tables were made is noted beside their form; nothing rests on it.
        else if (JSON.stringify(madeAt) !== JSON.stringify(as)) counts.madeAt++;
        else counts.dead++;
      }
      console.log(`${whole.length} bytes; of ${flips} flips: ${JSON.stringify(counts)}`);
      expect(missed).toEqual([]);
      expect(counts.named + counts.refused).toBeGreaterThan(flips / 2);
    });
  });
}
