import { generateKeyPairSync } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import Database from 'better-sqlite3';
import type { Edition } from '../../../src/documents/schema/edition.js';
import { audit } from '../../../src/register/audit/audit.js';
import { leafHash } from '../../../src/register/event.js';
import { historyOf, type KeyHistory } from '../../../src/register/log/key-history.js';
import { MerkleAccumulator } from '../../../src/register/log/merkle-accumulator.js';
import { signCheckpoint, signerOf } from '../../../src/register/log/note.js';
import { openRegister } from '../../../src/register/open.js';
import type { RawEvent, Register, StoredCheckpoint } from '../../../src/register/register.js';
import { nineLights } from '../../edition/nine-lights.js';
import { newFile, unusedFile } from '../folder.js';
import { PLAN } from '../rules.js';

export const SIGNER = signerOf('lantern-coast.example/register', generateKeyPairSync('ed25519').privateKey);

/** A register's file, a day in the life of the bench in it, and the checkpoint that was given away in the evening. */
export interface Kept {
  readonly file: string;
  readonly evening: { readonly from: string; readonly note: string };
}

let day: { readonly bytes: Buffer; readonly evening: Kept['evening'] } | undefined;

/** A file of the day; it was lived once, and is copied. */
export async function keptDay(): Promise<Kept> {
  day ??= await liveDay();
  const file = newFile();
  writeFileSync(file, day.bytes);
  return { file, evening: day.evening };
}

async function liveDay() {
  const file = unusedFile();
  let minute = 0;
  const now = () => new Date(Date.UTC(2021, 2, 1, 9, minute++));
  const register = await openRegister({ kind: 'sqlite', file }, { now });
  const edition = 'nine-lights';
  const parts = ['barrel', 'cap'];
  const whole = { edition, planned: PLAN, parts, by: 'A. Moss' };
  await register.issue({ ...whole, series: 'main', count: 4, key: 'job-1' });
  await register.issue({ ...whole, series: 'proofs', count: 2 });
  const of = (number: number) => ({ edition, ...PLAN[number - 1]!, by: 'A. Moss' });
  await register.record({ ...of(1), event: 'engraved', key: 'cut 1' });
  await register.addCheckpoint(await signed(register));
  await register.record({ ...of(1), event: 'inspected' });
  await register.record({ ...of(1), event: 'delivered', to: 'the Harbour Museum', on: '2021-03-01' });
  await register.record({ ...of(2), event: 'engraved', part: 'barrel' });
  await register.record({ ...of(2), event: 'scrapped', part: 'barrel', why: 'slip of the cutter' });
  await register.record({ ...of(2), event: 'destroyed', part: 'barrel', witness: 'E. Marrow' });
  await register.record({ ...of(2), event: 'recut', part: 'barrel' });
  await register.record({ ...of(2), event: 'engraved' });
  await register.record({ ...of(3), event: 'void', why: 'flaw in the resin' });
  const { note } = await signed(register);
  await register.close();
  return { bytes: readFileSync(file), evening: { from: 'evening.checkpoint', note } };
}

export async function signed(register: Register): Promise<StoredCheckpoint> {
  const tree = new MerkleAccumulator();
  for await (const { leaf } of register.events()) tree.add(leaf);
  const note = signCheckpoint({ size: tree.size, root: tree.root() }, SIGNER);
  return { size: tree.size, note, frontier: tree.roots() };
}

/** Does to the file what its owner could: without the triggers, indexes and checks that stand against it. */
export function tamper(file: string, work: (db: Database.Database) => void): void {
  const db = new Database(file);
  const things = db
    .prepare<[], { type: string; name: string }>(
      "SELECT type, name FROM sqlite_schema WHERE type = 'trigger' OR (type = 'index' AND sql IS NOT NULL)",
    )
    .all();
  for (const { type, name } of things) db.exec(`DROP ${type} "${name}"`);
  db.pragma('ignore_check_constraints = ON');
  work(db);
  db.close();
}

export type Row = { seq: number; body: string; leaf: Buffer };

/** Writes the events anew, as changed. */
export const rewrite = (file: string, change: (rows: Row[]) => Row[]): void =>
  tamper(file, (db) => {
    const rows = db.prepare<[], Row>('SELECT seq, body, leaf FROM event ORDER BY seq').all();
    db.exec('DELETE FROM event');
    const insert = db.prepare('INSERT INTO event (seq, body, leaf) VALUES (?, ?, ?)');
    for (const { seq, body, leaf } of change(rows)) insert.run(seq, body, leaf);
  });

/** In the order given, with places and hashes as an honest writer would have made them. */
export const remade = (bodies: readonly string[]): Row[] =>
  bodies.map((body, seq) => ({ seq, body, leaf: leafHash(body) }));

export const changed = (body: string, members: Record<string, unknown>): string => {
  const all = Object.entries({ ...(JSON.parse(body) as object), ...members });
  return JSON.stringify(Object.fromEntries(all.sort(([a], [b]) => (a < b ? -1 : 1))));
};

export const shortCode = (code: string): string => code.replace(/^audit\./, '');

interface Asked {
  readonly edition?: string;
  readonly outside?: readonly { from: string; note: string }[];
  readonly editions?: ReadonlyMap<string, Edition>;
  readonly keys?: KeyHistory;
  readonly signal?: AbortSignal;
  readonly progress?: (done: number, of: number) => void;
}

export async function auditOf(file: string, asked: Asked = {}) {
  const register = await openRegister({ kind: 'sqlite', file }, { now: () => new Date() });
  const editions = asked.editions ?? new Map([['nine-lights', nineLights()]]);
  try {
    return await audit(register, { editions, keys: historyOf(SIGNER), eventsOnly: true, ...asked });
  } finally {
    await register.close();
  }
}

/** Codes of findings without `audit.`, with the event; faults only. */
export async function faultsOf(file: string, asked: Asked = {}): Promise<string[]> {
  const { findings, ok } = await auditOf(file, asked);
  const faults = findings.filter(({ grade }) => grade === 'fault');
  if (ok !== (faults.length === 0)) throw new Error('the report is not sure of itself');
  return faults.map(({ code, seq }) => `${shortCode(code)}${seq === undefined ? '' : ` ${seq}`}`);
}

export const remarksOf = async (file: string, asked: Asked = {}): Promise<string[]> =>
  (await auditOf(file, asked)).findings
    .filter(({ grade }) => grade === 'remark')
    .map(({ code }) => shortCode(code));

/** A register that is only a list, for what no store would hold. */
export const listed = (
  rows: readonly RawEvent[],
  kept: readonly StoredCheckpoint[] = [],
): Pick<Register, 'size' | 'events' | 'checkpoints'> => ({
  size: async () => rows.length,
  checkpoints: async () => [...kept],
  async *events(from = 0) {
    yield* rows.filter(({ seq }) => seq >= from);
  },
});
