import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { checkpointOf } from '../../src/app/checkpoint.js';
import { closeEdition, rewriteStatement } from '../../src/app/close.js';
import { exportEvents } from '../../src/app/export.js';
import { registerOf } from '../../src/app/kept-register.js';
import { type OpenDocuments, openDocuments } from '../../src/app/open-documents.js';
import { sha256 } from '../../src/app/output-list.js';
import { recordEvents } from '../../src/app/record.js';
import { restoreRegister } from '../../src/app/restore.js';
import { resumeRegister } from '../../src/app/resume.js';
import { statementFile } from '../../src/app/statement-file.js';
import { leafHash } from '../../src/register/event.js';
import { statementDigest, statementOf } from '../../src/register/statement/statement.js';
import { STATED } from '../register/ask.js';
import { onServer } from '../register/postgres-open.js';
import { type Bench, eventsOf, putRows, STORES } from './either-store.js';
import { auditOf, begun, issue } from './resume-rules.js';
import { canonicalText } from './resume-ways.js';
import {
  cleanAfterEach,
  newEnvironment,
  newFolder,
  newWorkshopCopy,
  onRegister,
  publicKeysOf,
  refusalOf,
} from './workshop.js';

cleanAfterEach();
const server = onServer();
const edition = 'nine-lights';
const [ISSUED, ENGRAVED] = ['issued', 'engraved'] as const;
const WHO = { by: 'E. Marrow', witness: 'A. Moss', why: 'nobody here closed it' };
const CLOSE = { edition, by: 'E. Marrow', leaveOpen: true };
const codes = async (work: Promise<unknown>) => (await refusalOf(work)).problems.map(({ code }) => code);

/** A closing as somebody at the database makes it, who has no statement. */
async function forgedBody(bench: Bench, more: object = {}): Promise<{ seq: number; body: string }> {
  const last = (await eventsOf(bench)).at(-1)!;
  const { at } = JSON.parse(last.body) as { at: string };
  const members = { type: 'closed', edition, at, by: 'X. Hand', why: 'by hand', statement: 'ab'.repeat(32) };
  return { seq: last.seq + 1, body: canonicalText({ ...members, stated: STATED, ...more }) };
}

const insert = (bench: Bench, { seq, body }: { seq: number; body: string }) =>
  bench.sql('INSERT INTO event (seq, body, leaf) VALUES ($1, $2, $3)', [seq, body, leafHash(body)]);

describe.each(STORES)('on %s', (_name, store) => {
  test('a closing that nobody made is named, and gone past in the open; then the edition is closed', async () => {
    const bench = await begun(store, server, 'made');
    const { workshop } = bench;
    const row = await forgedBody(bench);
    // Within every rule of the tables.
    await insert(bench, row);
    expect(await auditOf(workshop)).toMatchObject({ faults: ['statement-differs'] });
    expect(await codes(issue(workshop, 1))).toEqual(['register.closed-to-issue']);
    expect(await codes(closeEdition(workshop, CLOSE))).toEqual(['close.closed-before']);
    expect(await codes(rewriteStatement(registerOf(workshop), workshop.dir, { edition }))).toEqual([
      'register.statement-differs',
    ]);

    const dry = await resumeRegister(workshop, { ...WHO, entry: row.seq, dryRun: true });
    expect([dry.fault, dry.reason?.code]).toEqual(['rule', 'register.statement-differs']);
    await resumeRegister(workshop, { ...WHO, entry: row.seq });
    expect(await auditOf(workshop)).toMatchObject({ faults: [], remarks: ['passed-over'] });
    expect(await issue(workshop, 2)).toEqual(['04/90', '05/90']);
    const { statement } = await closeEdition(workshop, CLOSE);
    expect(statement.series[0]!.issued).toBe(5);
    expect(statement.remarks).toContainEqual(expect.stringMatching(/^event 5: It is passed over/));
    expect(await auditOf(workshop)).toMatchObject({ faults: [], remarks: ['passed-over'] });
    expect(await codes(issue(workshop, 1))).toEqual(['register.closed-to-issue']);
    await sameElsewhere(workshop);
  });

  test('a statement of a smaller log, or of another root, is no statement of what there is', async () => {
    const bench = await begun(store, server, 'made');
    const { workshop } = bench;
    const { statement: made } = await closeEdition(workshop, CLOSE);
    const closing = (await eventsOf(bench)).at(-1)!;
    const { edition: id, by, stated } = JSON.parse(closing.body);
    const was = {
      ...{ terms: (await onRegister(workshop, (one) => one.terms(edition)))!, amendments: [] },
      numbersOf: (series: string) =>
        [1, 2, 3].flatMap((number) =>
          series === 'main' ? [{ number, state: number === 1 ? ENGRAVED : ISSUED, pieces: 1 }] : [],
        ),
    };
    const digestWith = (more: object) =>
      statementDigest(statementOf({ edition: id, by, stated: { ...stated, ...more } }, was));
    // So made it is that of the closing.
    expect(digestWith({})).toBe(JSON.parse(closing.body).statement);
    expect(made.log.size).toBe(closing.seq);
    const empty = createHash('sha256').digest('hex');
    for (const more of [{ size: 0, root: empty }, { root: 'e0'.repeat(32) }]) {
      await bench.pastRules(async () => {
        await bench.sql('DELETE FROM checkpoint');
        await bench.sql(`DELETE FROM event WHERE seq = ${closing.seq}`);
      });
      const body = canonicalText({
        ...JSON.parse(closing.body),
        ...{ stated: { ...stated, ...more }, statement: digestWith(more) },
      });
      await insert(bench, { seq: closing.seq, body });
      expect((await auditOf(workshop)).faults).toEqual(['statement-differs']);
      const found = await onRegister(workshop, (register) => register.closing(edition));
      expect(found?.agreement.is).toBe('differs');
    }
  });

  test('a closing without what its statement says is refused by the tables, and an old one can be gone past', async () => {
    const bench = await begun(store, server, 'made');
    const { workshop } = bench;
    const row = await forgedBody(bench, { stated: undefined });
    await expect(insert(bench, row)).rejects.toThrow(/a closing says what its statement was made from/);
    await putRows(bench, [row]);
    expect(await auditOf(workshop)).toMatchObject({ faults: [], remarks: ['statement-unknown'] });
    expect(await codes(rewriteStatement(registerOf(workshop), workshop.dir, { edition }))).toEqual([
      'register.statement-unknown',
    ]);
    await sameElsewhere(workshop);
    await resumeRegister(workshop, { ...WHO, entry: row.seq });
    expect(await auditOf(workshop)).toMatchObject({ faults: [], remarks: ['passed-over'] });
    expect(await issue(workshop, 1)).toEqual(['04/90']);
    await sameElsewhere(workshop);
  });

  test('an old closing whose statement is there stays', async () => {
    const bench = await begun(store, server, 'made');
    const { workshop } = bench;
    const file = statementFile(workshop.dir, edition);
    const old = '{\n  "kind": "statement of edition"\n}\n';
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, old);
    const row = await forgedBody(bench, { stated: undefined, statement: sha256(old) });
    await putRows(bench, [row]);
    expect(await codes(resumeRegister(workshop, { ...WHO, entry: row.seq }))).toEqual([
      'resume.statement-here',
    ]);
    expect(await auditOf(workshop)).toMatchObject({ faults: [], remarks: [] });
  });

  test('a sound closing stays, whoever says by hand to go past it', async () => {
    const bench = await begun(store, server, 'made');
    const { workshop } = bench;
    await closeEdition(workshop, CLOSE);
    const closing = (await eventsOf(bench)).at(-1)!;
    expect(await codes(resumeRegister(workshop, { ...WHO, entry: closing.seq }))).toEqual([
      'register.closing-sound',
    ]);
    const { at } = JSON.parse(closing.body) as { at: string };
    const body = canonicalText({
      ...{ type: 'resumed', edition, at, ...WHO, fault: 'rule' },
      ...{ corrects: closing.seq, digest: closing.leaf.toString('hex') },
    });
    await insert(bench, { seq: closing.seq + 1, body });
    expect(await auditOf(workshop)).toMatchObject({ faults: ['resumed-other'] });
    expect(await codes(issue(workshop, 1))).toEqual(['register.closed-to-issue']);
    expect(await codes(closeEdition(workshop, CLOSE))).toEqual(['close.closed-before']);
  });

  test('of a closing whose text was altered nobody opens the edition', async () => {
    const bench = await begun(store, server, 'made');
    const { workshop } = bench;
    await closeEdition(workshop, CLOSE);
    const { seq, leaf } = (await eventsOf(bench)).at(-1)!;
    await bench.pastRules(async () => {
      await bench.sql(`UPDATE event SET body = replace(body, 'Marrow', 'Barrow') WHERE seq = ${seq}`);
    });
    expect((await auditOf(workshop)).faults).toContain('text-and-hash-differ');
    const { at } = JSON.parse((await eventsOf(bench)).at(-1)!.body) as { at: string };
    // Somebody by hand calls it a fault that would open it.
    const digest = leaf.toString('hex');
    const body = canonicalText({
      type: 'resumed',
      edition,
      at,
      ...WHO,
      fault: 'rule',
      corrects: seq,
      digest,
    });
    await putRows(bench, [{ seq: seq + 1, body }]);
    expect(await codes(issue(workshop, 1))).toEqual(['log.register-other']);
    await resumeRegister(workshop, { ...WHO, entry: seq + 1 });
    await resumeRegister(workshop, { ...WHO, entry: seq });
    expect(await codes(issue(workshop, 1))).toEqual(['register.closed-to-issue']);
    expect((await auditOf(workshop)).faults).toEqual([]);
  });

  test('a lost statement is written again with the same bytes, whatever came after', async () => {
    const bench = await begun(store, server, 'made');
    const { workshop } = bench;
    const order = { edition, by: 'A. Moss' };
    await recordEvents(workshop, { ...order, labels: ['20/90'], event: 'void', why: 'flaw in the resin' });
    await recordEvents(workshop, { ...order, labels: ['20/90'], event: 'noted', why: 'it was the third' });
    await recordEvents(workshop, { ...order, labels: ['30/90'], event: 'withheld', why: 'for the museum' });
    expect(await codes(rewriteStatement(registerOf(workshop), workshop.dir, { edition }))).toEqual([
      'close.not-closed',
    ]);
    const done = await closeEdition(workshop, CLOSE);
    expect(done.statement.series[0]!.voids).toEqual([{ label: '20/90', why: 'flaw in the resin' }]);
    const [text, json] = [done.text, done.json].map((file) => readFileSync(file, 'utf8'));
    expect(sha256(json!)).toBe(done.sha256);
    await recordEvents(workshop, { ...order, labels: ['02/90'], event: 'engraved' });
    expect(await codes(closeEdition(workshop, CLOSE))).toEqual(['close.closed-before']);

    rmSync(dirname(done.json), { recursive: true });
    const out = join(newFolder(), 'again');
    const again = await rewriteStatement(registerOf(workshop), workshop.dir, { edition, out });
    expect([again.text, again.json].map((file) => readFileSync(file, 'utf8'))).toEqual([text, json]);
    // In its own place too, and over itself; never over another file.
    for (let i = 0; i < 2; i++) await rewriteStatement(registerOf(workshop), workshop.dir, { edition });
    expect([done.text, done.json].map((file) => readFileSync(file, 'utf8'))).toEqual([text, json]);
    writeFileSync(done.json, 'mine');
    expect(await codes(rewriteStatement(registerOf(workshop), workshop.dir, { edition }))).toEqual([
      'app.file-not-ours',
    ]);
    expect(readFileSync(done.json, 'utf8')).toBe('mine');
    expect(readdirSync(dirname(done.json))).toHaveLength(2);
    // With the register alone.
    const bare = { place: registerOf(workshop).place, documentFaults: [], documentsAbsent: true };
    const alone = await rewriteStatement(bare, newFolder(), { edition });
    expect(readFileSync(alone.json, 'utf8')).toBe(json);
    expect(await auditOf(workshop)).toMatchObject({ faults: [], remarks: [] });
  });
});

/** A copy of the register has the same root and findings. */
async function sameElsewhere(workshop: OpenDocuments): Promise<void> {
  const events = join(newFolder(), 'all.jsonl');
  await checkpointOf(workshop);
  await exportEvents(registerOf(workshop), { form: 'jsonl', out: events });
  const { dir } = await newWorkshopCopy();
  const other = await openDocuments(dir, newEnvironment());
  await restoreRegister(other, { files: [events], keys: [await publicKeysOf(workshop)] });
  expect(await auditOf(other)).toEqual(await auditOf(workshop));
}
