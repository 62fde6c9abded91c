import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { amendTerms } from '../../src/app/amend.js';
import { writeCertificates } from '../../src/app/certificate.js';
import { checkpointOf } from '../../src/app/checkpoint.js';
import { closeEdition } from '../../src/app/close.js';
import { correctEvent, retractEvent } from '../../src/app/correct.js';
import { requestFor } from '../../src/app/cosigned.js';
import { cutEdition } from '../../src/app/cut.js';
import { exportEvents } from '../../src/app/export.js';
import { importPast } from '../../src/app/import.js';
import { issueNumbers } from '../../src/app/issue.js';
import { registerOf } from '../../src/app/kept-register.js';
import { newKey } from '../../src/app/key.js';
import { type OpenDocuments, openDocuments } from '../../src/app/open-documents.js';
import { recordEvents } from '../../src/app/record.js';
import { restoreRegister } from '../../src/app/restore.js';
import { resumeRegister } from '../../src/app/resume.js';
import { addLog, cosignRequest, newWitness } from '../../src/app/witness.js';
import { openWorkshop } from '../../src/app/workshop.js';
import { cosignedAt, readWitness } from '../../src/register/log/cosignature.js';
import { readNote } from '../../src/register/log/note.js';
import { onServer } from '../register/postgres-open.js';
import { type Bench, eventsOf, putRows, STORES } from './either-store.js';
import { begun, issue } from './resume-rules.js';
import { BAD_ENTRIES, canonicalText } from './resume-ways.js';
import { cleanAfterEach, newEnvironment, newFolder, newWorkshopCopy, refusalOf } from './workshop.js';

cleanAfterEach();
afterEach(() => {
  vi.useRealTimers();
});
const server = onServer();
const edition = 'nine-lights';
const WHO = { edition, by: 'A. Moss', why: 'the clock was wrong' };
const HOUR_MS = 3_600_000;
const codes = async (work: Promise<unknown>) => (await refusalOf(work)).problems.map(({ code }) => code);

/** The clock of this machine, as it is; that of the database stays. */
const setClock = (to: Date | string): void => {
  vi.useFakeTimers({ toFake: ['Date'], now: new Date(to) });
};
const inDays = (days: number): Date => new Date(Date.now() + days * 24 * HOUR_MS);
const dayOf = (date: Date): string => date.toISOString().slice(0, 10);

/** Every command that enters something, each with something that it could enter. */
async function commands(bench: Bench): Promise<Record<string, () => Promise<unknown>>> {
  const { workshop: documents } = bench;
  const workshop = await openWorkshop(documents.dir, documents.environment);
  const folder = newFolder();
  const rows = join(folder, 'rows.csv');
  writeFileSync(rows, 'series,number,label,state,on,by\nmain,10,10/90,engraved,2026-01-02,B. Fern\n');
  const list = join(folder, 'list.csv');
  writeFileSync(list, `label,event,on\n02/90,withheld,${dayOf(inDays(0))}\n`);
  const file = join(workshop.dir, 'editions', `${edition}.yaml`);
  const label = '01/90';
  return {
    issue: () => issue(workshop, 1),
    record: () => recordEvents(workshop, { ...WHO, labels: ['02/90'], event: 'withheld' }),
    'record of a list': () => recordEvents(workshop, { ...WHO, list }),
    correct: () => correctEvent(workshop, { ...WHO, label, day: dayOf(inDays(0)) }),
    retract: () => retractEvent(workshop, { ...WHO, label }),
    import: () => importPast(workshop, { edition, by: 'B. Fern', file: rows }),
    certificate: () => writeCertificates(workshop, { ...WHO, labels: [label], out: join(folder, 'papers') }),
    cut: () =>
      cutEdition(workshop, {
        ...{ edition, wanted: { labels: ['02/90'] }, station: 'rotary-level', out: join(folder, 'out') },
      }),
    close: () => closeEdition(workshop, { ...WHO, leaveOpen: true, out: join(folder, 'statement') }),
    amend: async () => {
      const text = readFileSync(file, 'utf8');
      writeFileSync(file, text.replace('to: 9\n', 'to: 8\n'));
      const changed = await openDocuments(workshop.dir, workshop.environment);
      writeFileSync(file, text);
      return amendTerms(changed, WHO);
    },
  };
}

describe.each(STORES)('on %s', (_, store) => {
  test('a clock that is far off enters nothing by any command', async () => {
    const bench = await begun(store, server, 'made');
    const all = Object.entries(await commands(bench));
    const before = await eventsOf(bench);
    for (const [clock, code] of [
      [inDays(-60), 'register.clock-behind'],
      [inDays(-2), 'register.clock-behind'],
      [new Date('1970-01-01T00:00:09.000Z'), 'register.clock-too-early'],
      [inDays(800), 'register.clock-ahead'],
    ] as const) {
      setClock(clock);
      for (const [name, work] of all) expect(await codes(work()), `${name} at ${clock}`).toEqual([code]);
      // What enters nothing goes on.
      await checkpointOf(bench.workshop);
      vi.useRealTimers();
    }
    expect(await eventsOf(bench)).toEqual(before);
  });

  test('a restore after a loss is not dated by a clock that is wrong', async () => {
    const bench = await begun(store, server, 'made');
    const papers = join(newFolder(), 'all.jsonl');
    await exportEvents(registerOf(bench.workshop), { form: 'jsonl', out: papers });
    const other = await store(server, 'made');
    const answer = { files: [papers], by: 'E. Marrow', why: 'the disk broke' };
    const { workshop } = await begunElsewhere(other);
    const before = await eventsOf(other);
    for (const [clock, code] of [
      [inDays(-60), 'register.clock-behind'],
      [new Date('1970-01-01T00:00:09.000Z'), 'register.clock-too-early'],
      [inDays(800), 'register.clock-ahead'],
    ] as const) {
      setClock(clock);
      expect(await codes(restoreRegister(workshop, answer))).toEqual([code]);
      vi.useRealTimers();
    }
    expect(await eventsOf(other)).toEqual(before);
    await restoreRegister(workshop, answer);
    expect((await eventsOf(other)).length).toBeGreaterThan(before.length);
  });

  test('nothing follows a day that is still to come, until that day is corrected', async () => {
    const bench = await begun(store, server, 'made');
    const { workshop: documents } = bench;
    // Issued and engraved under a clock of 2040.
    const entry = await BAD_ENTRIES['a clock of 2040, and what followed it']!.put(bench);
    const { entry: issued } = entry as { entry: number };
    const workshop = await openWorkshop(documents.dir, documents.environment);
    await resumeRegister(workshop, { entry: issued, ...WHO, witness: 'E. Marrow' });
    const before = await eventsOf(bench);

    const label = '04/90';
    const today = dayOf(new Date());
    const inspect = (on?: string) =>
      recordEvents(workshop, { ...WHO, labels: [label], event: 'inspected', ...(on && { on }) });
    const correct = (event: number) => correctEvent(workshop, { ...WHO, label, event, day: today });
    const out = join(newFolder(), 'papers');
    const certify = () => writeCertificates(workshop, { ...WHO, labels: [label], out });
    const statement = join(newFolder(), 'statement');
    const close = () => closeEdition(workshop, { ...WHO, leaveOpen: true, out: statement });
    const works = [inspect, () => inspect(today), certify, close, () => correct(issued + 1)];
    for (const work of works) {
      const [found] = (await refusalOf(work())).problems;
      expect(found).toMatchObject({
        ...{ code: 'register.step-ahead', exit: 3, where: `label ${label}` },
        values: { seq: issued, event: 'issued', earliest: '2039-12-31' },
      });
    }
    expect(await eventsOf(bench)).toEqual(before);

    await correct(issued);
    expect((await refusalOf(certify())).problems[0]).toMatchObject({ values: { seq: issued + 1 } });
    await correct(issued + 1);
    await inspect(today);
    await certify();
    const file = readdirSync(out).find((name) => name.endsWith('.json'))!;
    expect(readFileSync(join(out, file), 'utf8')).not.toMatch(/"dates":[^}]*2040/);
    await close();
    expect(readFileSync(`${statement}.txt`, 'utf8')).not.toMatch(/since 2040/);
  });

  test('a number reserved under such a clock is released only after its day', async () => {
    const bench = await begun(store, server, 'made');
    const seq = (await eventsOf(bench)).length;
    const { workshop } = bench;
    const day = '2040-01-01T00:00:00.000Z';
    await putHeld(bench, seq, day);
    await resumeRegister(workshop, { entry: seq, ...WHO, witness: 'E. Marrow' });
    const chosen = () => issueNumbers(workshop, { ...WHO, labels: ['04/90'] });
    expect(await codes(chosen())).toEqual(['register.step-ahead']);
    await correctEvent(workshop, { ...WHO, label: '04/90', event: seq, day: dayOf(new Date()) });
    expect((await chosen()).map(({ label }) => label)).toEqual(['04/90']);
  });
});

/** Another register, with a key of its own, that has an entry. */
async function begunElsewhere(bench: Bench): Promise<Bench> {
  await newKey({ workshop: bench.workshop.dir, environment: bench.workshop.environment });
  await issueNumbers(bench.workshop, { edition, series: 'proofs', count: 1, by: 'B. Fern' });
  return bench;
}

async function putHeld(bench: Bench, seq: number, at: string): Promise<void> {
  const body = canonicalText({
    ...{
      type: 'withheld',
      edition,
      series: 'main',
      number: 4,
      label: '04/90',
      by: 'B. Fern',
      why: 'kept',
      at,
    },
  });
  await putRows(bench, [{ seq, body }]);
}

test('a statement is not dated before what it states, where the clock is a little behind', async () => {
  const { dir } = await newWorkshopCopy();
  const workshop = await openDocuments(dir, newEnvironment());
  await issueNumbers(workshop, { edition, series: 'main', count: 1, by: 'B. Fern' });
  const entered = new Date().toISOString();
  setClock(inDays(-0.9));
  const done = await closeEdition(workshop, { ...WHO, leaveOpen: true });
  expect(done.statement.at > entered.slice(0, 10)).toBe(true);
  vi.useRealTimers();
  expect(Date.parse(done.statement.at)).toBeGreaterThanOrEqual(Date.parse(entered) - 60_000);
});

test('a day that has begun somewhere can be given in a list as it can by itself', async () => {
  for (const [moment, on] of [
    // At 10:30 UTC the day after has begun at UTC+14, and at 09:30 nowhere.
    ['T10:30:00.000Z', 'taken'],
    ['T09:30:00.000Z', 'refused'],
  ] as const) {
    const { dir } = await newWorkshopCopy();
    const workshop = await openDocuments(dir, newEnvironment());
    const today = dayOf(inDays(0));
    const now = new Date(`${today}${moment}`);
    const tomorrow = dayOf(new Date(now.getTime() + 24 * HOUR_MS));
    setClock(new Date(now.getTime() - 48 * HOUR_MS));
    await issueNumbers(workshop, { edition, series: 'main', count: 2, by: 'B. Fern' });
    const [rows, list] = ['rows.csv', 'list.csv'].map((name) => join(newFolder(), name));
    const day = dayOf(new Date(Date.parse(tomorrow) - 48 * HOUR_MS));
    writeFileSync(rows!, `series,number,label,state,on,by\nmain,9,09/90,engraved,${day},A. Moss\n`);
    writeFileSync(list!, `label,event,on\n01/90,engraved,${day}\n`);
    const works = [
      () => recordEvents(workshop, { ...WHO, labels: ['02/90'], event: 'engraved', on: day }),
      () => recordEvents(workshop, { ...WHO, list: list! }),
      () => importPast(workshop, { edition, by: 'B. Fern', file: rows! }),
    ];
    for (const work of works) {
      if (on === 'taken') await work();
      else expect((await codes(work())).some((code) => /day-to-come|date-in-future/.test(code))).toBe(true);
    }
    vi.useRealTimers();
  }
});

test('a zone of this machine changes no time and no day', async () => {
  const { TZ } = process.env;
  try {
    for (const zone of ['Pacific/Kiritimati', 'Etc/GMT+12', 'America/New_York']) {
      process.env.TZ = zone;
      const { dir } = await newWorkshopCopy();
      const workshop = await openDocuments(dir, newEnvironment());
      await issueNumbers(workshop, { edition, series: 'main', count: 1, by: 'B. Fern' });
      await recordEvents(workshop, { ...WHO, labels: ['01/90'], event: 'engraved', on: dayOf(new Date()) });
      const to = join(newFolder(), 'all.jsonl');
      await exportEvents(registerOf(workshop), { form: 'jsonl', out: to });
      const times = [...readFileSync(to, 'utf8').matchAll(/\\"at\\":\\"([^"\\]+)/g)].map(([, at]) => at!);
      expect(times.length).toBe(3);
      for (const at of times) expect(Math.abs(Date.parse(at) - Date.now())).toBeLessThan(HOUR_MS);
    }
  } finally {
    if (TZ === undefined) delete process.env.TZ;
    else process.env.TZ = TZ;
  }
});

describe('a witness', () => {
  async function asked(): Promise<{
    cosign: (at: Date | string, today?: string) => Promise<{ seconds: number }>;
    next: () => Promise<void>;
  }> {
    const { dir } = await newWorkshopCopy();
    const workshop: OpenDocuments = await openDocuments(dir, newEnvironment());
    const folder = newFolder();
    const [maker, request, note] = ['maker.pub', 'request', 'note'].map((name) => join(folder, name));
    await newKey({ workshop: dir, environment: workshop.environment }, maker);
    const environment = newEnvironment();
    const { line } = await newWitness(environment, 'harbour');
    const read = readWitness(line);
    if (!read.ok) throw new Error('no line of a witness');
    await addLog(environment, maker!);
    let last: string | undefined;
    const next = async () => {
      await issue(workshop, 1);
      await requestFor(workshop, last, request!);
    };
    return {
      next,
      cosign: async (at, today) => {
        const made = await cosignRequest(
          { ...environment, ...(today && { today }) },
          request!,
          note!,
          () => new Date(at),
        );
        last = note;
        const opened = readNote(made.note);
        const found = opened.ok ? cosignedAt(opened.note, read.witness) : undefined;
        if (!found?.ok) throw new Error('not cosigned');
        return { seconds: found.seconds };
      },
    };
  }

  test('cosigns with no time that is asked about, unless its day is confirmed', async () => {
    const { cosign, next } = await asked();
    await next();
    for (const today of [undefined, '1970-01-01'])
      expect(await codes(cosign('1970-01-01T00:00:00.000Z', today))).toEqual(['witness.clock-too-early']);
    expect(await codes(cosign('2036-01-02T00:00:00.000Z'))).toEqual(['witness.clock-far']);
    expect(await codes(cosign('2036-01-02T00:00:00.000Z', '2035-01-02'))).toEqual([
      'register.clock-not-today',
    ]);
    const first = Date.parse('2031-03-01T12:00:00.000Z') / 1000;
    expect(await cosign('2031-03-01T12:00:00.000Z')).toEqual({ seconds: first });
    // The same again has the time of the first, whatever the clock says.
    expect(await cosign('1970-01-01T00:00:00.000Z')).toEqual({ seconds: first });

    await next();
    expect(await codes(cosign('2032-03-03T00:00:00.000Z'))).toEqual(['witness.clock-far']);
    expect(await codes(cosign('2031-02-28T12:00:00.000Z'))).toEqual(['witness.clock-behind']);
    // The first time was wrong: no witness waits until it comes.
    const right = Date.parse('2031-02-28T12:00:00.000Z') / 1000;
    expect(await cosign('2031-02-28T12:00:00.000Z', '2031-02-28')).toEqual({ seconds: right });
  });
});
