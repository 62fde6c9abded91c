import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { checkpointOf } from '../../src/app/checkpoint.js';
import { correctEvent, retractEvent } from '../../src/app/correct.js';
import { keepCosigned, newestCosigned, requestFor } from '../../src/app/cosigned.js';
import { issueNumbers } from '../../src/app/issue.js';
import { newKey, retireKeyOf, showHistory } from '../../src/app/key.js';
import type { OpenDocuments } from '../../src/app/open-documents.js';
import { recordEvents } from '../../src/app/record.js';
import { addLog, cosignRequest, newWitness } from '../../src/app/witness.js';
import { witnessesIn } from '../../src/app/witnesses.js';
import { makeWorkshopIdentity } from '../../src/app/workshop-identity.js';
import type { Problem } from '../../src/problem.js';
import { formatHistory, historyOf } from '../../src/register/log/key-history.js';
import { makeKey, readKey } from '../../src/register/log/keys.js';
import { signCheckpoint } from '../../src/register/log/note.js';
import { writeSeen } from '../../src/register/log/seen.js';
import {
  cleanAfterEach,
  newDocumentsCopy,
  newEnvironment,
  newFolder,
  refusalOf,
  sizeOf,
} from './workshop.js';

cleanAfterEach();

const ORIGIN = 'burin/lantern-coast';
const edition = 'nine-lights';
const WHO = { edition, by: 'A. Moss' };
const issue = (workshop: OpenDocuments, tell?: (found: Problem) => void) =>
  issueNumbers(workshop, { ...WHO, series: 'main', count: 1 }, tell);
const codes = async (work: Promise<unknown>) => (await refusalOf(work)).problems.map(({ code }) => code);

/** A workshop with its key, and where its keys are. */
async function keyed() {
  const workshop = await newDocumentsCopy();
  const owner = { workshop: workshop.dir, environment: workshop.environment };
  const kept = (ending: string) => join(owner.environment.keysFolder, `lantern-coast.${ending}`);
  const { line } = await newKey(owner);
  return { workshop, owner, kept, line, folder: owner.environment.keysFolder };
}

describe('a key', () => {
  test('that nothing was signed with ends at no event, whether the history or only the key is here', async () => {
    const { owner, kept, line } = await keyed();
    rmSync(kept('keys'));
    expect((await showHistory(owner)).history.keys).toMatchObject([{ first: 0 }]);
    expect(await retireKeyOf(owner, { reason: 'stolen' })).toMatchObject({ last: 0, line, origin: ORIGIN });
    expect((await showHistory(owner)).text).toBe(`keys of ${ORIGIN}\n${line} 0 0 stolen\n`);
  });

  test('that is gone cannot end as planned, and is not shown', async () => {
    const { owner, kept } = await keyed();
    rmSync(kept('pem'));
    expect(await codes(retireKeyOf(owner, { reason: 'planned' }))).toEqual(['key.gone']);
    rmSync(kept('keys'));
    expect(await codes(showHistory(owner))).toEqual(['key.none']);
    expect(await codes(retireKeyOf(owner, { reason: 'lost' }))).toEqual(['key.unknown-before']);
  });

  test('ends by a published history of its own log alone, which goes on from the one that is here', async () => {
    const { owner, kept, line } = await keyed();
    rmSync(kept('pem'));
    const other = await makeKey(join(newFolder(), 'keys'), 'burin/salt-lamp');
    const another = await makeKey(join(newFolder(), 'keys'), ORIGIN);
    const file = join(newFolder(), 'maker.keys');
    for (const signer of [other, another]) {
      writeFileSync(file, formatHistory(historyOf(signer)));
      expect(await codes(retireKeyOf(owner, { reason: 'lost', key: file }))).toEqual(['key.other-history']);
    }
    writeFileSync(file, `${line}\n`);
    expect(await retireKeyOf(owner, { reason: 'lost', key: file })).toMatchObject({ line, reason: 'lost' });
  });

  test('hands over only the log that it signed last', async () => {
    const { workshop, owner, kept } = await keyed();
    await issue(workshop);
    const early = readFileSync(kept('last'));
    await issue(workshop);
    await retireKeyOf(owner, { reason: 'planned' });
    writeFileSync(kept('last'), early);
    const { exit, problems } = await refusalOf(newKey(owner));
    expect([exit, problems]).toMatchObject([
      3,
      [{ code: 'key.handover-unsigned', values: { what: 'last' } }],
    ]);
    expect(readdirSync(owner.environment.keysFolder)).not.toContain('lantern-coast.pem');
  });

  test('that is not the one in use signs nothing; entries stand, and whoever wants to know is told', async () => {
    const { workshop, kept, folder } = await keyed();
    await issue(workshop);
    renameSync(kept('pem'), kept('away.pem'));
    await makeKey(folder, ORIGIN);
    expect(await codes(checkpointOf(workshop))).toEqual(['sign.key-not-in-use']);
    const told: string[] = [];
    await issue(workshop, ({ code }) => told.push(code));
    expect(told).toEqual(['sign.key-not-in-use']);
    // Nobody asked to be told of these.
    for (const event of ['engraved', 'inspected', 'delivered'])
      await recordEvents(workshop, {
        ...WHO,
        labels: ['01/90'],
        event,
        ...(event === 'delivered' && { to: 'Ann' }),
      });
    const of = { ...WHO, label: '01/90', why: 'slip of the pen', witness: 'E. Marrow' };
    const size = await sizeOf(workshop);
    expect(await correctEvent(workshop, { ...of, to: 'Bea' })).toMatchObject({ after: { to: 'Bea' } });
    expect(await retractEvent(workshop, of)).toMatchObject({ event: 'delivered' });
    expect(await sizeOf(workshop)).toBe(size + 2);
  });
});

describe('what a witness cosigned', () => {
  /** A log of two events and its cosigned note. */
  async function cosigned() {
    const { workshop, owner, kept, line, folder } = await keyed();
    const outside = newFolder();
    const letter = (name: string) => join(outside, name);
    writeFileSync(letter('maker.pub'), `${line}\n`);
    const witness = newEnvironment();
    await newWitness(witness, 'harbour', letter('harbour.pub'));
    await addLog(witness, letter('maker.pub'));
    await issue(workshop);
    await requestFor(workshop, undefined, letter('request'));
    await cosignRequest(witness, letter('request'), letter('note'));
    const witnesses = await witnessesIn([letter('harbour.pub')]);
    const signer = (await readKey(folder, ORIGIN))!;
    const keep = (text: string) => {
      writeFileSync(letter('given'), text);
      return keepCosigned(workshop, letter('given'), witnesses);
    };
    const newest = (lastSeq = 0, longest = 4096) => newestCosigned(workshop, signer, lastSeq, longest);
    return { ...{ workshop, owner, kept, signer, witnesses, letter, keep, newest }, dir: workshop.dir };
  }

  test('is kept once it is of this log, of its events and of its key', async () => {
    const { workshop, keep, letter, signer, kept } = await cosigned();
    const note = readFileSync(letter('note'), 'utf8');
    const [size] = [await sizeOf(workshop)];
    const strange = await makeKey(join(newFolder(), 'keys'), 'burin/salt-lamp');
    const double = await makeKey(join(newFolder(), 'keys'), ORIGIN);
    const root = Buffer.from(note.split('\n')[2]!, 'base64');
    const of = { size, root };
    expect(await codes(keep('never mind\n'))).toEqual(['log.note-no-blank-line']);
    expect(await codes(keep(note.replace(`\n${size}\n`, '\nmany\n')))).toEqual(['log.checkpoint-size']);
    expect(await codes(keep(signCheckpoint(of, strange)))).toEqual(['witness.not-ours']);
    expect(await codes(keep(signCheckpoint(of, double)))).toEqual(['log.other-signer']);
    expect(await codes(keep(signCheckpoint(of, signer)))).toEqual(['witness.not-cosigned']);
    writeFileSync(letter('other'), signCheckpoint(of, strange));
    expect(await codes(requestFor(workshop, letter('other')))).toEqual(['witness.note-of-other-log']);
    expect(await keep(note)).toMatchObject({
      origin: ORIGIN,
      size,
      file: join('cosigned', `${size}.checkpoint`),
    });
    for (const ending of ['pem', 'keys']) rmSync(kept(ending));
    expect(await codes(keep(note))).toEqual(['key.none']);
  });

  test('carries a certificate where it covers its events and fits into it', async () => {
    const { workshop, keep, letter, newest, dir } = await cosigned();
    const size = await sizeOf(workshop);
    const folder = join(dir, 'cosigned');
    expect(await newest()).toBeUndefined();
    await keep(readFileSync(letter('note'), 'utf8'));
    expect(await newest()).toMatchObject({ size, origin: ORIGIN });
    expect(await newest(size)).toBeUndefined();
    expect(await newest(0, 100)).toBeUndefined();
    // Other files are passed over, and a note under the size of another.
    writeFileSync(join(folder, 'read me.txt'), 'of the witnesses\n');
    writeFileSync(join(folder, '7.checkpoint'), readFileSync(join(folder, `${size}.checkpoint`)));
    expect(await newest()).toMatchObject({ size });
    writeFileSync(join(folder, '8.checkpoint'), 'never mind\n');
    expect(await codes(newest())).toEqual(['witness.kept-unreadable']);
    rmSync(folder, { recursive: true });
    writeFileSync(folder, 'a file in its place');
    await expect(newest()).rejects.toThrow(/ENOTDIR/);
  });
});

describe('what this machine remembers', () => {
  test('a workshop has one identity, however many give it one at once', async () => {
    const dir = newFolder();
    const made = await Promise.all(Array.from({ length: 6 }, () => makeWorkshopIdentity(dir)));
    expect(new Set(made).size).toBe(1);
    expect(await makeWorkshopIdentity(dir)).toBe(made[0]);
    expect(readdirSync(dir)).toEqual(['workshop.id']);
  });

  test('is kept outside the workshop, else nothing is and that is told; the entry stands', async () => {
    const { dir, documents, digests, ...rest } = await newDocumentsCopy();
    const told: string[] = [];
    const environment = {
      registerUrl: undefined,
      keysFolder: join(dir, 'keys'),
      tell: ({ code }: Problem) => void told.push(code),
    };
    const workshop = { ...rest, dir, documents, digests, environment };
    expect((await issue(workshop)).map(({ label }) => label)).toEqual(['01/90']);
    expect(told).toEqual(['log.keys-in-workshop']);
    expect(readdirSync(dir)).not.toContain('keys');
  });

  test('of others of its name: the one in this very folder counts before those elsewhere', async () => {
    const workshop = await newDocumentsCopy();
    const { keysFolder } = workshop.environment;
    mkdirSync(keysFolder, { recursive: true, mode: 0o700 });
    const seenBefore = (id: string, folder: string) =>
      writeSeen(keysFolder, {
        ...{ id: id.repeat(32), origin: ORIGIN, folder, place: join(folder, 'register.db'), size: 3 },
        ...{ first: Buffer.alloc(32, 1), last: Buffer.alloc(32, 3) },
      });
    await seenBefore('a', '/elsewhere/bench');
    expect(await codes(issue(workshop))).toEqual(['gate.name-of-another']);
    await seenBefore('b', workshop.dir);
    await seenBefore('c', '/elsewhere/other');
    expect(await codes(issue(workshop))).toEqual(['gate.identity-gone']);
    expect(await sizeOf(workshop)).toBe(0);
  });
});
