import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { amendTerms } from '../../src/app/amend.js';
import { closeEdition } from '../../src/app/close.js';
import { correctEvent, retractEvent } from '../../src/app/correct.js';
import { importPast } from '../../src/app/import.js';
import { issueNumbers } from '../../src/app/issue.js';
import { type OpenDocuments, openDocuments } from '../../src/app/open-documents.js';
import { recordEvents } from '../../src/app/record.js';
import { openWorkshop } from '../../src/app/workshop.js';
import { burin } from '../cli/burin.js';
import { onServer } from '../register/postgres-open.js';
import { eventsOf, STORES } from './either-store.js';
import { begun } from './resume-rules.js';
import { cleanAfterEach, newFolder, refusalOf } from './workshop.js';

cleanAfterEach();
const server = onServer();
const edition = 'nine-lights';
const who = { edition, by: 'A. Moss' };

/** Everything that enters something and signs the log after. */
const ENTRIES: Readonly<Record<string, (workshop: OpenDocuments) => Promise<unknown>>> = {
  issue: (workshop) => issueNumbers(workshop, { ...who, series: 'main', count: 1 }),
  record: (workshop) => recordEvents(workshop, { ...who, labels: ['02/90'], event: 'engraved' }),
  correct: (workshop) => correctEvent(workshop, { ...who, label: '01/90', day: '2026-11-01', why: 'slip' }),
  retract: (workshop) => retractEvent(workshop, { ...who, label: '01/90', why: 'slip' }),
  amend: (workshop) => amendTerms(workshop, { ...who, why: 'as it is now' }),
  import: async (workshop) => {
    const list = join(newFolder(), 'past.csv');
    writeFileSync(list, 'series,number,label,state\nmain,60,60/90,issued\n');
    return importPast(await openWorkshop(workshop.dir, workshop.environment), { ...who, file: list });
  },
  close: (workshop) => closeEdition(workshop, { ...who, leaveOpen: true, out: join(newFolder(), 's') }),
};

test.each(STORES)(
  'where the key would not sign what others entered, nothing is entered on %s',
  async (_name, store) => {
    const bench = await begun(store, server);
    const { workshop } = bench;
    // A bench without the key enters what the key has not signed yet; then its text is altered.
    const { dir, environment } = workshop;
    const other = await openDocuments(dir, { ...environment, keysFolder: join(newFolder(), 'keys') });
    await recordEvents(other, { ...who, labels: ['03/90'], event: 'engraved' });
    await bench.pastRules(async () => {
      await bench.sql("UPDATE event SET body = replace(body, '03/90', '30/90') WHERE seq = 5");
    });
    const before = await eventsOf(bench);
    for (const [name, enter] of Object.entries(ENTRIES)) {
      const { exit, problems } = await refusalOf(enter(workshop));
      expect([name, exit, problems.map(({ code }) => code)]).toEqual([name, 3, ['log.event-altered']]);
    }
    expect(await eventsOf(bench)).toEqual(before);
    const env = {
      BURIN_KEYS: environment.keysFolder,
      ...(environment.registerUrl !== undefined && { BURIN_REGISTER: environment.registerUrl }),
    };
    const said = await burin(
      ['--json', 'issue', edition, '--series', 'main', '--count', '1', '--by', 'A. Moss'],
      { cwd: dir, env },
    );
    expect([said.code, JSON.parse(said.stdout).problems[0].code]).toEqual([3, 'log.event-altered']);
    expect(await eventsOf(bench)).toEqual(before);
  },
);
