import { generateKeyPairSync } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { audit } from '../../../src/register/audit/audit.js';
import { leafHash } from '../../../src/register/event.js';
import { historyOf } from '../../../src/register/log/key-history.js';
import { signCheckpoint, signerOf } from '../../../src/register/log/note.js';
import { openRegister } from '../../../src/register/open.js';
import { editionOf, nineLights } from '../../edition/nine-lights.js';
import { cleanAfterEach, newFile } from '../folder.js';
import {
  auditOf,
  changed,
  faultsOf,
  keptDay,
  listed,
  remade,
  remarksOf,
  rewrite,
  SIGNER,
  signed,
  tamper,
} from './kept.js';

cleanAfterEach();

describe('a checkpoint', () => {
  test('kept beside the events and altered', async () => {
    const { file, evening } = await keptDay();
    tamper(file, (db) => {
      const note = db.prepare<[], string>('SELECT note FROM checkpoint').pluck().get()!;
      const lines = note.split('\n');
      lines[2] = Buffer.alloc(32, 1).toString('base64');
      db.prepare('UPDATE checkpoint SET note = ?').run(lines.join('\n'));
    });
    const { findings } = await auditOf(file, { outside: [evening] });
    expect(findings.map(({ code }) => code)).toEqual(['audit.signature-wrong', 'audit.other-history']);
    // The evening's covers the morning's events, so it is the morning's note that is false.
    expect(findings[1]!.values).toEqual({ largest: 15 });
  });

  test('for another number of events than it is kept for', async () => {
    const { file } = await keptDay();
    tamper(file, (db) => db.exec('UPDATE checkpoint SET size = 6'));
    expect(await faultsOf(file)).toEqual(['checkpoint-size']);
  });

  test('with other subtrees', async () => {
    const { file } = await keptDay();
    tamper(file, (db) => db.exec('UPDATE checkpoint SET frontier = zeroblob(96)'));
    expect(await faultsOf(file)).toEqual(['frontier-differs']);
  });

  test('signed by another key is not the maker’s', async () => {
    const { file, evening } = await keptDay();
    const other = signerOf(SIGNER.name, generateKeyPairSync('ed25519').privateKey);
    const root = (await auditOf(file)).root;
    const note = signCheckpoint({ size: 15, root }, other);
    expect(await faultsOf(file, { outside: [{ from: 'x', note }] })).toEqual(['signature-wrong']);
    // Without a key nothing is said of signatures.
    const report = await auditOf(file, { keys: undefined, outside: [{ from: 'x', note }, evening] });
    expect([report.ok, report.checkpoints.map((c) => c.signed)]).toEqual([
      true,
      [undefined, undefined, undefined],
    ]);
  });

  test('that is none', async () => {
    const { file } = await keptDay();
    expect(await faultsOf(file, { outside: [{ from: 'x', note: 'never mind\n' }] })).toEqual([
      'checkpoint-unreadable',
    ]);
  });
});

describe('gaps and documents:', () => {
  test('excluded numbers with the reason, missing ones by number', async () => {
    const { file } = await keptDay();
    const register = await openRegister({ kind: 'sqlite', file }, { now: () => new Date('2021-04-01') });
    const past = (number: number) => ({
      ...{ edition: 'nine-lights', series: 'main', number, label: `${number}/90`, event: 'issued' as const },
      by: 'A. Moss',
    });
    await register.importEvents([past(7), past(20)]);
    await register.close();
    const edition = editionOf(
      {
        id: 'main',
        to: 90,
        total: { joiner: '/' },
        exclude: [{ numbers: [13, 4, 14], why: 'thought unlucky' }],
      },
      { id: 'proofs', to: 9, figures: 'roman', total: { joiner: '/' }, before: 'A.P. ' },
    );
    const report = await auditOf(file, { editions: new Map([['nine-lights', edition]]) });
    expect(report.gaps).toEqual([
      { edition: 'nine-lights', series: 'main', numbers: '3', why: 'void' },
      { edition: 'nine-lights', series: 'main', numbers: '13-14', why: 'thought unlucky' },
    ]);
    expect(report.findings.map(({ code, values }) => [code, values])).toEqual([
      ['audit.number-missing', { n: 12, numbers: '5-6, 8-12, 15-19' }],
      ['audit.excluded', { n: 1, numbers: '4', reasons: ['thought unlucky'] }],
    ]);
  });

  test('a changed document is a remark', async () => {
    const { file } = await keptDay();
    const edition = editionOf({ id: 'main', to: 80, total: { joiner: '/' } });
    const report = await auditOf(file, { editions: new Map([['nine-lights', edition]]) });
    expect(report.ok).toBe(true);
    expect(report.findings.map(({ code, values }) => [code, values])).toEqual([
      [
        'audit.label-changed',
        {
          changes: ['1/90 is now 1/80', '2/90 is now 2/80', '3/90 is now 3/80', '4/90 is now 4/80'],
          more: 0,
        },
      ],
      ['audit.series-not-planned', { n: 2 }],
    ]);
    expect(await remarksOf(file, { editions: new Map() })).toEqual(['no-document']);
  });
});

describe('names', () => {
  test('that read like another are shown', async () => {
    const { file } = await keptDay();
    rewrite(file, (rows) =>
      remade(rows.map((r) => (r.seq === 11 ? changed(r.body, { witness: 'A. \u039coss' }) : r.body))),
    );
    const { findings } = await auditOf(file);
    expect(findings.map(({ code, seq }) => [code, seq])).toEqual([
      ['audit.name-mixed-scripts', 11],
      ['audit.name-alike', 11],
    ]);
    expect(findings[0]!.values).toMatchObject({ script: 'Greek', character: 'U+039C' });
    expect(findings[1]!.values).toMatchObject({ other: 'A. Moss' });
  });
});

describe('an audit', () => {
  test('of what is no database says so', async () => {
    const file = newFile();
    writeFileSync(file, 'numbers: none\n'.repeat(100));
    const report = await auditOf(file);
    expect(report.ok).toBe(false);
    // Met once for each thing that was read, and reported once.
    expect(report.findings).toHaveLength(1);
    expect(report.findings[0]).toMatchObject({ grade: 'fault', where: file });
    expect(report.replayable).toBe(false);
  });

  test('tells how far it is, and can be called off', async () => {
    const { file } = await keptDay();
    const rows = Array.from({ length: 20_000 }, (_, seq) => {
      const body = `{"at":"2021-03-01T12:00:00.000Z","by":"A","edition":"e","label":"${seq + 1}","number":${seq + 1},"series":"s","type":"issued","why":"w"}`;
      return { seq, body, leaf: leafHash(body) };
    });
    const told: number[] = [];
    const order = { editions: new Map(), progress: (done: number) => told.push(done) };
    expect((await audit(listed(rows), order)).ok).toBe(true);
    expect(told).toEqual([5000, 10_000, 15_000, 20_000, 20_000]);
    const stop = new AbortController();
    const progress = (done: number) => done === 10_000 && stop.abort();
    await expect(audit(listed(rows), { ...order, progress, signal: stop.signal })).rejects.toThrow(/abort/);
    expect(await faultsOf(file)).toEqual([]);
  });

  test('of one edition looks at the whole log all the same', async () => {
    const { file } = await keptDay();
    const register = await openRegister({ kind: 'sqlite', file }, { now: () => new Date('2021-04-01') });
    await register.importEvents([
      { edition: 'other', series: 's', number: 1, label: '1', event: 'issued', by: 'E. Marrow' },
    ]);
    const after = await signed(register);
    await register.close();
    const order = {
      editions: new Map([['nine-lights', nineLights()]]),
      edition: 'nine-lights',
      keys: historyOf(SIGNER),
    };
    const again = await openRegister({ kind: 'sqlite', file }, { now: () => new Date() });
    const report = await audit(again, { ...order, outside: [{ from: 'x', note: after.note }] });
    await again.close();
    expect([report.findings, report.numbers, report.events]).toEqual([[], 6, 16]);
  });

  test('does not drown in findings', async () => {
    const rows = Array.from({ length: 3000 }, (_, seq) => ({ seq, body: '{}', leaf: Buffer.alloc(32) }));
    const { findings } = await audit(listed(rows), { editions: new Map() });
    expect(findings).toHaveLength(1001);
    expect(findings.at(-1)).toMatchObject({ code: 'audit.too-many', values: { n: 5000 } });
  });
});
