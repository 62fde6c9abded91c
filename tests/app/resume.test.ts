import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { issueNumbers } from '../../src/app/issue.js';
import { showHistory } from '../../src/app/key.js';
import { recordEvents } from '../../src/app/record.js';
import { resumeRegister } from '../../src/app/resume.js';
import { openWorkshop } from '../../src/app/workshop.js';
import { leafHash } from '../../src/register/event.js';
import { onServer } from '../register/postgres-open.js';
import { eventsOf, putRows, STORES } from './either-store.js';
import { auditOf, begun, goesOn, issue } from './resume-rules.js';
import { BAD_ENTRIES, canonicalText } from './resume-ways.js';
import { cleanAfterEach, newEnvironment, newFolder, recordEvent, refusalOf } from './workshop.js';

cleanAfterEach();
const server = onServer();
const [[, sqlite], [, postgres]] = STORES as [(typeof STORES)[0], (typeof STORES)[0]];
const WHO = { by: 'E. Marrow', witness: 'A. Moss', why: 'it was found by the audit' };
const codes = async (work: Promise<unknown>) => (await refusalOf(work)).problems.map(({ code }) => code);

// A few of each kind; `resume.slow.test.ts` tries them all on both stores.
test.each([
  ['a checkpoint of the largest size', sqlite],
  ['a clock of 2040, and what followed it', postgres],
  ['engraved and never issued', postgres],
])('a register goes on past %s', async (what, store) => {
  await goesOn(what, store, server);
});

describe('a register does not go past', () => {
  test('what is sound, is not there, or is confirmed by one person', async () => {
    const { workshop } = await begun(sqlite, server);
    const before = await auditOf(workshop);
    const resume = (order: object) => codes(resumeRegister(workshop, { ...WHO, ...order }));
    expect(await resume({ entry: 3 })).toEqual(['register.nothing-wrong']);
    expect(await resume({ checkpoint: 5 })).toEqual(['register.nothing-wrong']);
    expect(await resume({ entry: 99 })).toEqual(['register.no-such-entry']);
    expect(await resume({ checkpoint: 99 })).toEqual(['register.no-such-entry']);
    expect(await resume({ entry: 3, witness: 'e marrow' })).toEqual(['register.own-witness']);
    expect(await resume({})).toEqual(['resume.one-thing']);
    expect(await resume({ entry: 3, checkpoint: 5 })).toEqual(['resume.one-thing']);
    expect(await resume({ entry: 3, why: ' ' })).toEqual(['register.nothing-wrong']);
    expect(await auditOf(workshop)).toEqual(before);
  });

  test('a checkpoint that a key of the maker signed for more events than there are', async () => {
    const bench = await begun(sqlite, server);
    const { workshop } = bench;
    await bench.pastRules(async () => {
      await bench.sql('DELETE FROM event WHERE seq = 4');
    });
    // The gate stops it first; without what this machine remembers, the signature does.
    expect(await codes(resumeRegister(workshop, { ...WHO, checkpoint: 5 }))).toEqual(['log.register-behind']);
    const { dir, documents, digests } = workshop;
    const key = join(newFolder(), 'maker.keys');
    await showHistory({ workshop: dir, environment: workshop.environment }, key);
    rmSync(join(dir, 'workshop.id'));
    const elsewhere = { dir, documents, digests, environment: newEnvironment() };
    expect(await codes(resumeRegister(elsewhere, { ...WHO, checkpoint: 5 }))).toEqual([
      'register.key-needed',
    ]);
    expect(await codes(resumeRegister(elsewhere, { ...WHO, checkpoint: 5, key }))).toEqual([
      'register.checkpoint-signed',
    ]);
  });

  test('an event that was signed and is another now, but one whose text alone was altered', async () => {
    for (const column of ['leaf', 'body']) {
      const bench = await begun(sqlite, server);
      const { workshop } = bench;
      await bench.pastRules(async () => {
        if (column === 'body')
          await bench.sql("UPDATE event SET body = replace(body, '02/90', '20/90') WHERE seq = 2");
        else await bench.sql('UPDATE event SET leaf = zeroblob(32) WHERE seq = 2');
        // Nothing but the memory of the key says what was signed.
        await bench.sql('DELETE FROM checkpoint');
      });
      const resumed = resumeRegister(workshop, { ...WHO, entry: 2 });
      if (column === 'leaf') {
        expect(await codes(resumed)).toEqual(['log.register-other']);
        continue;
      }
      expect((await resumed).fault).toBe('text');
      expect((await auditOf(workshop)).faults).toEqual([]);
      // 02/90 was issued, and is never issued again.
      expect(await issue(workshop, 1)).toEqual(['04/90']);
    }
  });
});

test('what is gone past with no need is a fault of the audit, and can be gone past itself', async () => {
  const bench = await begun(sqlite, server);
  const { workshop } = bench;
  const named = await BAD_ENTRIES['a sound entry gone past']!.put(bench);
  expect(await auditOf(workshop)).toMatchObject({ faults: ['resumed-other'] });
  await resumeRegister(workshop, { ...named, ...WHO });
  expect(await auditOf(workshop)).toMatchObject({ faults: [], remarks: ['passed-over'] });
  // The same of a digest that is another: it counts for nothing from the first.
  const last = (await eventsOf(bench)).at(-1)!;
  const body = last.body
    .replace(/"digest":"\w+"/, `"digest":"${'ab'.repeat(32)}"`)
    .replace(/"corrects":\d+/, '"corrects":1');
  await putRows(bench, [{ seq: last.seq + 1, body, leaf: leafHash(body) }]);
  expect((await auditOf(workshop)).faults).toEqual(['resumed-other']);
});

test('a sound entry that somebody by hand says to go past stands all the same', async () => {
  const bench = await begun(sqlite, server);
  const { workshop } = bench;
  const full = await openWorkshop(workshop.dir, workshop.environment);
  const of = (label: string) => ({ edition: 'nine-lights', label, by: 'A. Moss' });
  await recordEvent(full, { ...of('20/90'), event: 'void', why: 'flaw in the resin' });
  const events = await eventsOf(bench);
  for (const row of [events.at(-1)!, events.find(({ body }) => body.includes('"engraved"'))!]) {
    const { edition, at } = JSON.parse(events.at(-1)!.body);
    const members = { type: 'resumed', edition, corrects: row.seq, digest: row.leaf.toString('hex'), at };
    const body = canonicalText({
      ...members,
      ...{ fault: 'rule', by: 'X. Hand', witness: 'Y. Hand', why: 'by hand' },
    });
    await putRows(bench, [{ seq: (await eventsOf(bench)).length, body, leaf: leafHash(body) }]);
  }
  const why = 'it is wanted';
  expect(
    await codes(issueNumbers(workshop, { edition: 'nine-lights', labels: ['20/90'], why, by: 'A. Moss' })),
  ).toEqual(['register.number-void']);
  expect(await codes(recordEvent(full, { ...of('01/90'), event: 'engraved' }))).toEqual([
    'register.part-not-blank',
  ]);
  expect((await auditOf(workshop)).faults).toEqual(['resumed-other', 'resumed-other']);
});

test.each(STORES)('two altered texts on %s are gone past one after the other', async (_name, store) => {
  const bench = await begun(store, server, 'made');
  const { workshop } = bench;
  await bench.pastRules(async () => {
    for (const seq of [2, 3])
      await bench.sql(`UPDATE event SET body = replace(body, '0${seq}/90', '2${seq}/90') WHERE seq = ${seq}`);
  });
  expect(await codes(issue(workshop, 1))).toEqual(['log.register-other']);
  for (const entry of [2, 3]) await resumeRegister(workshop, { ...WHO, entry });
  expect((await auditOf(workshop)).faults).toEqual([]);
  expect(await issue(workshop, 1)).toEqual(['04/90']);
});

test.each(STORES)(
  'a number that a passed-over entry calls issued is refused as that on %s',
  async (_name, store) => {
    const bench = await begun(store, server, 'made');
    const { workshop } = bench;
    const named = await BAD_ENTRIES['the same of a free number']!.put(bench);
    await resumeRegister(workshop, { ...named, ...WHO });
    const of = { edition: 'nine-lights', labels: ['04/90'], by: 'A. Moss' };
    await recordEvents(workshop, { ...of, event: 'released', why: 'nothing bears it' });
    const refused = (await refusalOf(issueNumbers(workshop, { ...of, why: 'it is wanted' }))).problems;
    const entry = 'entry' in named && named.entry;
    expect(refused).toMatchObject([{ code: 'register.called-issued', values: { entry } }]);
    expect(await issue(workshop, 1)).toEqual(['05/90']);
  },
);

test('an entry hours ahead before one of 2040: the times after are those of the former', async () => {
  const bench = await begun(sqlite, server);
  const { workshop } = bench;
  const { body } = (await eventsOf(bench)).at(-1)!;
  const noted = (at: string) =>
    canonicalText({ ...JSON.parse(body), type: 'noted', key: undefined, nth: undefined, at });
  const seq = (await eventsOf(bench)).length;
  const soon = new Date(Date.now() + 10 * 3_600_000).toISOString();
  await bench.pastRules(async () => {
    for (const [i, at] of [soon, '2040-01-01T00:00:00.000Z', '2041-01-01T00:00:00.000Z'].entries())
      await putRows(bench, [{ seq: seq + i, body: noted(at), leaf: leafHash(noted(at)) }]);
  });
  await resumeRegister(workshop, { ...WHO, entry: seq + 1 });
  const after = (await eventsOf(bench)).at(-1)!;
  expect(JSON.parse(after.body).at >= soon).toBe(true);
  expect((await auditOf(workshop)).faults).toEqual([]);
  expect(await issue(workshop, 1)).toEqual(['04/90']);
});
