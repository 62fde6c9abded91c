import { join } from 'node:path';
import { expect } from 'vitest';
import { auditRegister } from '../../src/app/audit.js';
import { backUpRegister } from '../../src/app/backup.js';
import { checkpointOf } from '../../src/app/checkpoint.js';
import { exportEvents } from '../../src/app/export.js';
import { issueNumbers } from '../../src/app/issue.js';
import { registerOf } from '../../src/app/kept-register.js';
import { newKey } from '../../src/app/key.js';
import { moveRegister } from '../../src/app/move.js';
import { type OpenDocuments, openDocuments } from '../../src/app/open-documents.js';
import { recordEvents } from '../../src/app/record.js';
import { registerOf as listNumbers } from '../../src/app/register.js';
import { restoreRegister } from '../../src/app/restore.js';
import { resumeRegister } from '../../src/app/resume.js';
import type { Problem } from '../../src/problem.js';
import type { OnServer } from '../register/postgres-open.js';
import { PASSWORD } from '../register/postgres-server.js';
import { type Bench, eventsOf, type Store } from './either-store.js';
import { BAD_ENTRIES } from './resume-ways.js';
import { newEnvironment, newFolder, newWorkshopCopy, publicKeysOf, refusalOf } from './workshop.js';

const edition = 'nine-lights';
const WHO = { by: 'E. Marrow', witness: 'A. Moss', why: 'it was found by the audit' };

export const issue = (workshop: OpenDocuments, count: number) =>
  issueNumbers(workshop, { edition, series: 'main', count, by: 'A. Moss' }, fail).then((numbers) =>
    numbers.map(({ label }) => label),
  );

const fail = (found: Problem): void => {
  throw new Error(`not signed: ${found.code}`);
};

/** Three numbers, one engraved, signed by a key. */
export async function begun(store: Store, server: OnServer, tables?: 'made' | 'none'): Promise<Bench> {
  const bench = await store(server, tables);
  const { workshop } = bench;
  const { environment, dir } = workshop;
  await newKey({ workshop: dir, environment });
  await issue(workshop, 3);
  await recordEvents(workshop, { edition, labels: ['01/90'], event: 'engraved', by: 'A. Moss' }, fail);
  return bench;
}

export async function auditOf(workshop: OpenDocuments) {
  const { report } = await auditRegister(registerOf(workshop), {});
  const codes = (grade: string) =>
    report.findings.filter((one) => one.grade === grade).map(({ code }) => code.replace('audit.', ''));
  return {
    ok: report.ok,
    faults: codes('fault'),
    remarks: codes('remark'),
    root: report.root.toString('hex'),
  };
}

/** Goes past one bad entry on a store, and does afterwards what a keeper does. */
export async function goesOn(what: string, store: Store, server: OnServer): Promise<Bench> {
  const bad = BAD_ENTRIES[what]!;
  const bench = await begun(store, server, 'made');
  const { workshop } = bench;
  const named = await bad.put(bench);
  const before = await eventsOf(bench);

  expect((await auditOf(workshop)).ok).toBe(false);
  if (bad.jams === 'issue') await refusalOf(issue(workshop, 1));
  if (bad.jams === 'statuses') await refusalOf(listNumbers(workshop, edition));
  // Where the key would not sign, nothing is entered either.
  if (bad.jams === 'signing')
    expect((await refusalOf(issue(workshop, 1))).problems[0]!.code).toMatch(/^log\./);
  const asked = await eventsOf(bench);

  const dry = await resumeRegister(workshop, { ...named, ...WHO, dryRun: true });
  expect(await eventsOf(bench)).toEqual(asked);
  const done = await resumeRegister(workshop, { ...named, ...WHO }, fail);
  // The clock went on meanwhile.
  const { at, reason, ...same } = dry;
  expect(done).toMatchObject({ ...same, reason: { code: reason?.code } });
  expect([done.fault, done.withheld.map(({ label }) => label)]).toEqual([bad.fault, bad.withheld ?? []]);
  expect((await refusalOf(resumeRegister(workshop, { ...named, ...WHO }))).problems[0]!.code).toBe(
    'register.resumed-before',
  );

  // As it was, with what says that it is gone past.
  const remark = bad.fault === 'checkpoint' ? 'checkpoint-passed-over' : 'passed-over';
  expect((await eventsOf(bench)).slice(0, before.length)).toEqual(before);
  expect(await auditOf(workshop)).toMatchObject({ faults: [], remarks: [remark] });

  expect(await issue(workshop, 2)).toEqual(bad.next ?? ['04/90', '05/90']);
  await recordEvents(workshop, { edition, labels: ['03/90'], event: 'engraved', by: 'A. Moss' }, fail);
  const made = await checkpointOf(workshop);
  expect(made.size).toBe((await eventsOf(bench)).length);
  const sound = await auditOf(workshop);
  expect(sound).toMatchObject({ faults: [], remarks: [remark] });

  await copies(workshop, server, sound.root);
  return bench;
}

/** Copies of all kinds are the same register, and take entries. */
async function copies(workshop: OpenDocuments, server: OnServer, root: string): Promise<void> {
  const folder = newFolder();
  const kept = registerOf(workshop);
  const events = join(folder, 'all.jsonl');
  await exportEvents(kept, { form: 'jsonl', out: events });
  await exportEvents(kept, { form: 'csv', out: join(folder, 'all.csv') });
  if (workshop.environment.registerUrl === undefined) await backUpRegister(kept, join(folder, 'copy.db'));

  const { dir } = await newWorkshopCopy();
  const other = await openDocuments(dir, newEnvironment());
  await restoreRegister(other, { files: [events], keys: [await publicKeysOf(workshop)] });
  expect((await auditOf(other)).root).toBe(root);
  const url = await server.unused();
  const { PGPASSWORD } = process.env;
  process.env.PGPASSWORD = PASSWORD;
  await moveRegister(other, url);
  process.env.PGPASSWORD = PGPASSWORD ?? '';
  const moved = {
    ...other,
    environment: { ...newEnvironment(), registerUrl: url.replace('@', `:${PASSWORD}@`) },
  };
  const there = await auditOf(moved);
  expect([there.root, there.faults]).toEqual([root, []]);
  await issueNumbers(moved, { edition, series: 'proofs', count: 1, by: 'A. Moss' });
}
