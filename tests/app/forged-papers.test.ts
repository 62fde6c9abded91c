import { createPrivateKey } from 'node:crypto';
import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import canonicalizeModule from 'canonicalize';
import { beforeAll, describe, expect, test } from 'vitest';
import { writeCertificates } from '../../src/app/certificate.js';
import { checkpointOf } from '../../src/app/checkpoint.js';
import { exportEvents } from '../../src/app/export.js';
import { issueNumbers } from '../../src/app/issue.js';
import { registerOf } from '../../src/app/kept-register.js';
import { newKey, retireKeyOf } from '../../src/app/key.js';
import { type OpenDocuments, registerFile } from '../../src/app/open-documents.js';
import { recordEvents } from '../../src/app/record.js';
import { type RestoreOrder, restoreRegister } from '../../src/app/restore.js';
import { openWorkshop } from '../../src/app/workshop.js';
import { leafHash } from '../../src/register/event.js';
import { rootOf } from '../../src/register/log/merkle-accumulator.js';
import { signCheckpoint, signerOf } from '../../src/register/log/note.js';
import { cleanAfterAll, newFolder as newKeptFolder } from '../cli/folders.js';
import { onServer } from '../register/postgres-open.js';
import { type Bench, STORES } from './either-store.js';
import {
  cleanAfterEach,
  newDocumentsCopy,
  newFolder,
  newWorkshopCopy,
  onRegister,
  publicKeysOf,
  refusalOf,
} from './workshop.js';

cleanAfterAll();
cleanAfterEach();
const server = onServer();
const canonicalText = canonicalizeModule as unknown as (value: unknown) => string;
const edition = 'nine-lights';
const WHO = { edition, by: 'A. Moss' };
const ANSWER = { by: 'E. Marrow', why: 'the disk broke' };

interface Row {
  readonly seq: number;
  readonly leaf: string;
  readonly body: string;
}

/** What a maker has in a drawer, and what a forger has of it. */
interface Drawer {
  readonly key: string;
  readonly all: string;
  readonly certificate: string;
  readonly second: string;
}
let drawer: Drawer;

beforeAll(async () => {
  const folder = newKeptFolder();
  const at = (name: string) => join(folder, name);
  const workshop = await newWorkshopCopy();
  await newKey({ workshop: workshop.dir, environment: workshop.environment }, at('maker.pub'));
  await issueNumbers(workshop, { ...WHO, series: 'main', count: 3 });
  for (const label of ['01/90', '02/90'])
    await recordEvents(workshop, { ...WHO, labels: [label], event: 'engraved' });
  await writeCertificates(workshop, { ...WHO, labels: ['01/90', '02/90'], out: at('papers') });
  await exportEvents(registerOf(workshop), { form: 'jsonl', out: at('all.jsonl') });
  const paper = (n: number) => at(`papers/nine-lights-main-000${n}-1.json`);
  drawer = { key: at('maker.pub'), all: at('all.jsonl'), certificate: paper(1), second: paper(2) };
});

/** An export with other events at its end, which agrees with itself. */
function forgedExport(change: (rows: Row[]) => Row[], from = drawer.all): string {
  const lines = readFileSync(from, 'utf8').trimEnd().split('\n');
  const parsed = lines.map((line) => JSON.parse(line) as Partial<Row> & { note?: string; size?: number });
  const rows = change(parsed.filter((one) => one.body !== undefined) as Row[]);
  const root = rootOf(rows.map(({ leaf }) => Buffer.from(leaf, 'base64')));
  const file = join(newFolder(), 'forged.jsonl');
  const checkpoints = parsed.filter(({ note, size = 0 }) => note !== undefined && size <= rows.length);
  const end = { events: rows.length, root: root.toString('base64') };
  const all = [parsed[0], ...checkpoints, ...rows, end];
  writeFileSync(file, all.map((line) => `${JSON.stringify(line)}\n`).join(''));
  return file;
}

const rowOf = (seq: number, event: object): Row => {
  const body = canonicalText(event);
  return { seq, body, leaf: leafHash(body).toString('base64') };
};

/** 01/90 is said to be destroyed, so that it can be cut a second time. */
const opened = (rows: Row[]): Row[] => {
  const { at } = JSON.parse(rows.at(-1)!.body) as { at: string };
  const common = { edition, series: 'main', number: 1, label: '01/90', by: 'A. Moss', why: 'slipped', at };
  const events = [{ type: 'scrapped' }, { type: 'destroyed', witness: 'J. Lind' }, { type: 'recut' }];
  return [...rows, ...events.map((one, i) => rowOf(rows.length + i, { ...common, ...one }))];
};

const restore = (workshop: OpenDocuments, files: readonly string[], more: Partial<RestoreOrder> = {}) =>
  restoreRegister(workshop, { files, keys: [drawer.key], ...more });
const codes = async (work: Promise<unknown>) => (await refusalOf(work)).problems.map(({ code }) => code);
const bodies = ({ workshop }: Pick<Bench, 'workshop'>) =>
  onRegister(workshop, async (register) => {
    const all: string[] = [];
    for await (const { body } of register.events()) all.push(body);
    return all;
  });

describe.each(STORES)('on %s', (_, store) => {
  test('events that nobody signed are not taken from an export, unless somebody answers for them', async () => {
    const bench = await store(server, 'made');
    const { workshop } = bench;
    const forged = forgedExport(opened);
    const whole = await restore(workshop, [drawer.all]);
    expect(whole).toMatchObject({ ok: true, answered: false, remarks: [] });
    const before = await bodies(bench);
    // The events before them are those that are here.
    for (const keys of [[drawer.key], []]) {
      const refused = await refusalOf(restore(workshop, [forged], { keys }));
      expect(refused.problems).toMatchObject([
        { code: 'restore.unsigned', exit: 3, where: forged, values: { n: 3 } },
      ]);
    }
    expect(await bodies(bench)).toEqual(before);
    // It is no proof of what this register lacks.
    await issueNumbers(workshop, { ...WHO, series: 'main', count: 1 });

    const other = await store(server, 'made');
    const { length } = before;
    expect(await codes(restore(other.workshop, [forged], { keys: [] }))).toEqual(['restore.unsigned']);
    const named = await refusalOf(restore(other.workshop, [forged]));
    expect(named.problems).toMatchObject([{ code: 'restore.unsigned', values: { n: 3 } }]);
    expect(await bodies(other)).toEqual([]);
    const shown = await restore(other.workshop, [forged], { dryRun: true });
    expect(shown.remarks.map(({ code }) => code)).toEqual(['restore.unsigned']);
    const answered = await restore(other.workshop, [forged], ANSWER);
    expect(answered).toMatchObject({ answered: true, events: length + 4, remarks: [{ values: { n: 3 } }] });
    expect((await bodies(other)).at(-1)).toContain('"type":"noted"');
  });

  test('an export whose past was changed is another history, whatever it ends with', async () => {
    const bench = await store(server, 'made');
    const changed = forgedExport((rows) =>
      rows.map((row) =>
        rowOf(row.seq, JSON.parse(row.body.replace('01/90', '07/90').replace('"number":1,', '"number":7,'))),
      ),
    );
    const { problems } = await refusalOf(restore(bench.workshop, [changed]));
    expect(problems.map(({ code }) => code)).toContain('restore.unsigned');
    expect(await bodies(bench)).toEqual([]);
  });

  test('a certificate under two names, and again, is one certificate', async () => {
    const bench = await store(server, 'made');
    const copy = join(newFolder(), 'copy.json');
    cpSync(drawer.certificate, copy);
    const done = await restore(bench.workshop, [copy, drawer.certificate], ANSWER);
    expect(done).toMatchObject({ ok: true, remarks: [] });
    expect(done.recovered).toMatchObject([{ label: '01/90', events: ['issued', 'engraved', 'certified'] }]);
    const again = await restore(bench.workshop, [drawer.certificate, copy], ANSWER);
    expect(again).toMatchObject({ recovered: [], remarks: [] });
  });
});

test('what this machine saw does not vouch for what was before it', async () => {
  const workshop = await newDocumentsCopy();
  await issueNumbers(workshop, { ...WHO, series: 'main', count: 2 });
  await recordEvents(workshop, { ...WHO, labels: ['01/90'], event: 'engraved' });
  const all = join(newFolder(), 'own.jsonl');
  await exportEvents(registerOf(workshop), { form: 'jsonl', out: all });
  for (const end of ['', '-wal', '-shm']) rmSync(registerFile(workshop.dir) + end, { force: true });
  // 01/90 was issued to somebody else; the first event and the last one are as they were.
  const forged = forgedExport(
    (rows) =>
      rows.map((row, i) =>
        i === 1 ? rowOf(row.seq, { ...(JSON.parse(row.body) as object), by: 'Mallory' }) : row,
      ),
    all,
  );
  expect(await codes(restore(workshop, [forged], { keys: [] }))).toEqual(['restore.unsigned']);
});

test('a run sheet is of the edition that the register knows by its name, not of a copy of the document', async () => {
  const workshop = await newDocumentsCopy();
  await issueNumbers(workshop, { ...WHO, series: 'main', count: 1 });
  const { editions } = workshop.documents;
  const copied = {
    ...workshop,
    documents: {
      ...workshop.documents,
      editions: new Map([['a-copy', editions.get(edition)!], ...editions]),
    },
  };
  const sheet = join(newFolder(), 'run-sheet.html');
  writeFileSync(
    sheet,
    '<!DOCTYPE html>\n<title>Run sheet: x</title><h1>Nine Lights</h1>\n' +
      '<tr class="again"><th colspan="5">job, 1 piece in this order</th></tr>\n' +
      '<tr data-label="01/90"><td class="done">\n</html>\n',
  );
  const done = await restoreRegister(copied, { files: [sheet], ...ANSWER });
  expect(done.recovered).toEqual([{ edition, label: '01/90', events: ['withheld'] }]);
});

test('a key counts as far as the history of keys says, also where only its public part is given', async () => {
  const workshop = await newWorkshopCopy();
  const owner = { workshop: workshop.dir, environment: workshop.environment };
  const early = join(newFolder(), 'early.pub');
  await newKey(owner, early);
  await issueNumbers(workshop, { ...WHO, series: 'main', count: 2 });
  await recordEvents(workshop, { ...WHO, labels: ['01/90'], event: 'engraved' });
  const papers = join(newFolder(), 'papers');
  const reread = await openWorkshop(workshop.dir, workshop.environment);
  await writeCertificates(reread, { ...WHO, labels: ['01/90'], out: papers });
  const certificate = join(papers, 'nine-lights-main-0001-1.json');
  const before = join(newFolder(), 'early.note');
  await checkpointOf(workshop, before);
  // A thief has the key from now on.
  const pem = readFileSync(join(workshop.environment.keysFolder, 'lantern-coast.pem'), 'utf8');
  await retireKeyOf(owner, { reason: 'stolen' });
  await newKey(owner);
  await issueNumbers(workshop, { ...WHO, series: 'main', count: 1 });
  const history = await publicKeysOf(workshop);
  const all = join(newFolder(), 'all.jsonl');
  await exportEvents(registerOf(workshop), { form: 'jsonl', out: all });
  const thief = signerOf('burin/lantern-coast', createPrivateKey(pem));
  const stolen = join(newFolder(), 'stolen.note');
  writeFileSync(stolen, signCheckpoint({ size: 4000, root: Buffer.alloc(32, 9) }, thief));

  // On a machine that knows nothing, and on the one that retired it.
  const { dir } = await newWorkshopCopy();
  const other = await openWorkshop(dir, { registerUrl: undefined, keysFolder: join(newFolder(), 'keys') });
  const named = (on: OpenDocuments, keys: readonly string[]) =>
    codes(restoreRegister(on, { files: [stolen], keys, ...ANSWER }));
  expect(await named(other, [history])).toEqual(['log.key-ended']);
  expect(await named(workshop, [early])).toEqual(['log.key-ended']);
  expect(await named(workshop, [])).toEqual(['log.key-ended']);
  // What it signed before its end counts, beside what the next one signed.
  const done = await restoreRegister(other, { files: [all, certificate, before], keys: [history] });
  expect(done).toMatchObject({ ok: true, answered: false, missing: 0, remarks: [] });
});
