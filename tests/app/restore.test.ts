import { readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { backUpRegister } from '../../src/app/backup.js';
import { writeCertificates } from '../../src/app/certificate.js';
import { checkpointOf } from '../../src/app/checkpoint.js';
import { closeEdition } from '../../src/app/close.js';
import { exportEvents } from '../../src/app/export.js';
import { issueNumbers } from '../../src/app/issue.js';
import { registerOf } from '../../src/app/kept-register.js';
import { newKey } from '../../src/app/key.js';
import { type OpenDocuments, registerFile } from '../../src/app/open-documents.js';
import { recordEvents } from '../../src/app/record.js';
import { type RestoreOrder, restoreRegister } from '../../src/app/restore.js';
import { codeOf } from '../../src/register/certificate/code.js';
import { cleanAfterAll, newFolder as newKeptFolder } from '../cli/folders.js';
import {
  cleanAfterEach,
  newDocumentsCopy,
  newFolder,
  newWorkshopCopy,
  onRegister,
  refusalOf,
  sizeOf,
} from './workshop.js';

cleanAfterAll();
cleanAfterEach();

const edition = 'nine-lights';
const WHO = { edition, by: 'A. Moss' };
const ANSWER = { by: 'E. Marrow', why: 'the disk broke' };
const SMALL = '  - { id: main, title: small, to: 9 }\n';

/** What a bench had before its disk broke: a copy of its register after two numbers, and papers of three. */
interface Lost {
  readonly copy: string;
  readonly old: string;
  readonly whole: string;
  readonly key: string;
  readonly otherKey: string;
  readonly certificate: string;
  readonly checkpoint: string;
  readonly size: number;
}
let lost: Lost;

const issue = (workshop: OpenDocuments, count: number) =>
  issueNumbers(workshop, { ...WHO, series: 'main', count });
const record = (workshop: OpenDocuments, label: string, event: string) =>
  recordEvents(workshop, { ...WHO, labels: [label], event });
const exported = (workshop: OpenDocuments, out: string) =>
  exportEvents(registerOf(workshop), { form: 'jsonl', out });

beforeAll(async () => {
  const folder = newKeptFolder();
  const at = (name: string) => join(folder, name);
  const workshop = await newWorkshopCopy({ small: SMALL });
  const owner = { workshop: workshop.dir, environment: workshop.environment };
  await newKey(owner, at('maker.pub'));
  await newKey({ ...owner, name: 'Salt Lamp' }, at('other.pub'));
  await issue(workshop, 2);
  await backUpRegister(registerOf(workshop), at('old.db'));
  await exported(workshop, at('old.jsonl'));
  await issue(workshop, 1);
  await record(workshop, '03/90', 'engraved');
  await writeCertificates(workshop, { ...WHO, labels: ['03/90'], out: at('papers') });
  await checkpointOf(workshop, at('newest.checkpoint'));
  await exported(workshop, at('whole.jsonl'));
  lost = {
    ...{ copy: at('old.db'), old: at('old.jsonl'), whole: at('whole.jsonl') },
    ...{ key: at('maker.pub'), otherKey: at('other.pub'), checkpoint: at('newest.checkpoint') },
    ...{ certificate: at('papers/nine-lights-main-0003-1.json'), size: await sizeOf(workshop) },
  };
});

/** A new machine, with nothing or with the copy. */
async function machine(copy?: string): Promise<OpenDocuments> {
  const workshop = await newDocumentsCopy({ small: SMALL });
  if (copy !== undefined) writeFileSync(registerFile(workshop.dir), readFileSync(copy));
  return workshop;
}

const restore = (workshop: OpenDocuments, files: readonly string[], more: Partial<RestoreOrder> = {}) =>
  restoreRegister(workshop, { files, keys: [lost.key], ...more });
const states = (workshop: OpenDocuments) =>
  onRegister(workshop, async (register) =>
    Object.fromEntries((await register.statuses(edition)).map(({ label, state }) => [label, state])),
  );

describe('papers that cannot be taken', () => {
  const written = (name: string, text: string): string => {
    const file = join(newFolder(), name);
    writeFileSync(file, text);
    return file;
  };
  const sheet = (name: string, label: string) =>
    written(
      'sheet.html',
      `<!DOCTYPE html>\n<title>Run sheet: x</title><h1>${name}</h1>\n<tr class="again"><th colspan="5">job, 1 piece in this order</th></tr>\n<tr data-label="${label}"><td class="done">\n</html>\n`,
    );

  test('are refused each by its name, and nothing is entered', async () => {
    const workshop = await machine(lost.copy);
    const before = await sizeOf(workshop);
    const altered = readFileSync(lost.certificate, 'utf8').replace('A. Moss', 'A. Mess');
    const tried: readonly (readonly [code: string, files: string[], more?: Partial<RestoreOrder>])[] = [
      ['verify.page-given', [written('page.pdf', '%PDF-1.7\n')]],
      ['restore.not-an-export', [written('list.txt', '05/90\n')]],
      ['restore.key-missing', [lost.certificate], { keys: [] }],
      ['restore.key-missing', [lost.checkpoint], { keys: [] }],
      ['log.other-signer', [lost.checkpoint], { keys: [lost.otherKey] }],
      ['certificate.other-signer', [lost.certificate], { keys: [lost.otherKey] }],
      ['certificate.signature-wrong', [written('altered.json', altered)]],
      ['certificate.code-line', [written('code.txt', codeOf(Buffer.from('{}')).join('\n').slice(0, -4))]],
      ['restore.edition-unknown', [sheet('Ten Lights', '04/90')]],
      [
        'restore.sheet-altered',
        [written('rows.html', readFileSync(sheet('Nine Lights', '04/90'), 'utf8').replace(/<tr data.*/, ''))],
      ],
      ['edition.label-outside-series', [sheet('Nine Lights', '400/90')]],
    ];
    for (const [code, files, more] of tried) {
      const { problems } = await refusalOf(restore(workshop, files, { ...ANSWER, ...more }));
      expect([code, problems.map((one) => one.code)]).toEqual([code, expect.arrayContaining([code])]);
      expect(problems[0]!.where).toContain(basename(files[0]!));
    }
    const noKey = await refusalOf(restore(workshop, [lost.certificate], { keys: [lost.old] }));
    expect(noKey.problems[0]).toMatchObject({ where: lost.old });
    expect(await sizeOf(workshop)).toBe(before);
  });

  test('of an edition that the workshop has no document of', async () => {
    const workshop = await machine();
    const documents = {
      ...workshop.documents,
      editions: new Map([...workshop.documents.editions].filter(([id]) => id === 'small')),
    };
    const without = { ...workshop, documents };
    const { problems } = await refusalOf(restore(without, [lost.certificate], ANSWER));
    expect(problems).toMatchObject([
      { code: 'restore.edition-unknown', where: basename(lost.certificate), values: { edition } },
    ]);
  });
});

describe('a register that went on by itself', () => {
  test('takes no export of other events, unless somebody answers; then each number is held back', async () => {
    const workshop = await machine(lost.copy);
    await issue(workshop, 1);
    const before = await sizeOf(workshop);
    const refused = await refusalOf(restore(workshop, [lost.whole]));
    expect([refused.exit, refused.problems.map(({ code }) => code)]).toEqual([3, ['restore.not-empty']]);
    expect(await sizeOf(workshop)).toBe(before);
    const done = await restore(workshop, [lost.whole, lost.certificate], ANSWER);
    expect(done).toMatchObject({ ok: false, twice: [{ edition, label: '03/90' }], answered: true });
    expect(await states(workshop)).toMatchObject({ '03/90': 'withheld' });
  });

  test('takes what papers say once, in the order of the events, whatever paper says it', async () => {
    const workshop = await machine(lost.copy);
    const certificate = readFileSync(lost.certificate);
    const code = join(newFolder(), 'code.txt');
    writeFileSync(code, codeOf(certificate).join('\n'));
    const done = await restore(workshop, [code, lost.certificate, lost.checkpoint], ANSWER);
    expect(done).toMatchObject({ ok: true, twice: [], recovered: [{ label: '03/90' }] });
    expect(await states(workshop)).toMatchObject({ '01/90': 'issued', '03/90': 'engraved' });
    expect((await issue(workshop, 1)).map(({ label }) => label)).toEqual(['04/90']);
  });
});

describe('an export of the whole', () => {
  test('comes back on a machine that remembers nothing, word for word', async () => {
    const workshop = await machine();
    const forgetful = { ...workshop, environment: { ...workshop.environment, keepsMemory: false as const } };
    const done = await restore(forgetful, [lost.whole]);
    expect(done).toMatchObject({
      ok: true,
      events: lost.size,
      restored: lost.size,
      missing: 0,
      answered: false,
    });
    expect(await states(forgetful)).toEqual({ '01/90': 'issued', '02/90': 'issued', '03/90': 'engraved' });
  });

  test('of a closed edition takes papers of it, and leaves it closed', async () => {
    const workshop = await machine();
    await restore(workshop, [lost.whole]);
    const own = join(newFolder(), 'own.pub');
    await newKey({ workshop: workshop.dir, environment: workshop.environment }, own);
    await closeEdition(workshop, { ...WHO, leaveOpen: true, out: join(newFolder(), 'statement') });
    const closed = join(newFolder(), 'closed.jsonl');
    await exported(workshop, closed);
    const again = await machine();
    const done = await restore(again, [closed, lost.certificate], { keys: [lost.key, own] });
    expect(done).toMatchObject({ ok: true, recovered: [], answered: false });
    await onRegister(again, async (register) => expect(await register.isClosed(edition)).toBe(true));
  });

  test('that lacks events is noted on its last number where somebody answers for them', async () => {
    const workshop = await machine();
    const done = await restore(workshop, [lost.old, lost.checkpoint], ANSWER);
    expect(done).toMatchObject({ ok: true, answered: true, recovered: [] });
    expect(done.missing).toBeGreaterThan(0);
    const noted = await onRegister(workshop, (register) => register.history(edition, '02/90'));
    expect(noted.at(-1)!.event).toMatchObject({ type: 'noted', by: ANSWER.by, missing: done.missing });
    expect(await restore(await machine(lost.copy), [lost.checkpoint], ANSWER)).toMatchObject({
      missing: done.missing,
    });
  });

  test('a loss of everything is noted on the first number that is planned', async () => {
    const workshop = await machine();
    const done = await restore(workshop, [lost.checkpoint], ANSWER);
    expect(done).toMatchObject({ ok: true, answered: true, missing: lost.size });
    const noted = await onRegister(workshop, (register) => register.history(edition, '01/90'));
    expect(noted.map(({ event }) => event.type)).toEqual(['noted']);
  });
});
