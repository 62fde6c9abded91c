// One process of a keeper, from the built program: FOLDER NAME FROM COUNT. It issues, records, imports, amends and closes.
// It is killed and begun again at FROM, the request it last asked: it asks the one before again too, so that an
// answer given twice can be compared. Each line is written only once what it says has happened.
import { writeSync } from 'node:fs';
import { join } from 'node:path';
import { closeEdition } from '../../dist/app/close.js';
import { currentTerms, numberedParts } from '../../dist/app/current-terms.js';
import { environmentOf } from '../../dist/app/environment.js';
import { openDocuments } from '../../dist/app/open-documents.js';
import { openForEntry } from '../../dist/app/open-for-entry.js';
import { plannedNumbers } from '../../dist/edition/labels.js';
import { countOf, editionOf, IMPORTED, importedBy, kindOf, lifeOf, ownEditionOf } from './request.mjs';

const [folder, name, from, count] = process.argv.slice(2);
const workshop = await openDocuments(folder, environmentOf(process.env));
const register = await openForEntry(workshop);
const DIGEST = 'ab'.repeat(32);

const say = (line) => writeSync(1, `${line}\n`);
const answer = (request, text) => say(`answer ${request} ${text}`);
const documentOf = (edition) => workshop.documents.editions.get(edition);
const termsOf = (edition) => currentTerms(workshop, documentOf(edition));
/** The code of what an import refuses is inside the problem that names the row. */
const codeOf = (error) => {
  const problem = error?.problems?.[0];
  return problem?.values?.fault?.code ?? problem?.code;
};

async function issue(i) {
  const edition = editionOf(i);
  const document = documentOf(edition);
  try {
    return await register.issue({
      ...{ edition, series: 'main', planned: plannedNumbers(document), count: countOf(i), by: name },
      ...{ key: `${name}-${i}`, parts: numberedParts(workshop, document), terms: termsOf(edition) },
    });
  } catch (error) {
    if (codeOf(error) !== 'register.closed-to-issue') throw error;
    return undefined;
  }
}

async function step(i, edition, numbers, nth, type) {
  const key = `${name}-${i} ${nth}`;
  const base = { edition, by: name, why: 'as it happened' };
  say(`doing ${i}.${nth}`);
  if (type === 'both') {
    const both = numbers.slice(0, 2).map((number) => ({ ...base, ...number, event: 'engraved' }));
    const stood = await register.recordAll(both, { key, terms: termsOf(edition) });
    return answer(`${i}.${nth}`, stood.map(({ state }) => state).join(','));
  }
  const corrects = async (wrong) =>
    (await register.history(edition, numbers[0].label)).findLast(
      ({ event }) => event.type === wrong && event.key?.startsWith(`${name}-${i} `),
    ).seq;
  const { state } = await register.record({
    ...{ ...base, ...numbers[0], event: type, key, terms: termsOf(edition) },
    ...(['destroyed', 'corrected'].includes(type) && { witness: 'E. Marrow' }),
    ...(type === 'delivered' && { to: `C. Lark of ${name}` }),
    ...(type === 'corrected' && { to: 'C. Larch', corrects: await corrects('delivered') }),
    ...(type === 'retracted' && { corrects: await engravedFirst(edition, numbers[0].label) }),
    ...(type === 'programmed' && { station: 'bench-two', digest: DIGEST }),
    ...(type === 'certified' && { serial: 1, digest: DIGEST }),
  });
  return answer(`${i}.${nth}`, state);
}

/** The engraving that a life takes back is the first of its number. */
const engravedFirst = async (edition, label) =>
  (await register.history(edition, label)).find(({ event }) => event.type === 'engraved').seq;

async function live(i) {
  const edition = editionOf(i);
  const got = await issue(i);
  if (!got) return answer(i, 'refused');
  answer(i, got.map(({ number }) => number).join(','));
  for (const [nth, type] of lifeOf(i).entries()) await step(i, edition, got, nth, type);
}

async function bringIn(i) {
  const edition = editionOf(i);
  const planned = plannedNumbers(documentOf(edition)).filter(({ series }) => series === 'proofs');
  const events = importedBy(name).flatMap((number) =>
    IMPORTED.map((event) => ({
      ...{ edition, ...planned.find((one) => one.number === number), event, by: name, why: 'old register' },
      ...(event === 'issued' && { parts: numberedParts(workshop, documentOf(edition)) }),
    })),
  );
  try {
    await register.importEvents(events, { terms: termsOf(edition) });
  } catch (error) {
    // No key: what was entered before the kill is there, and refused now.
    if (codeOf(error) === 'register.edition-closed' || codeOf(error) === 'register.closed-to-issue') {
      const there = await register.history(edition, events[0].label);
      return answer(i, there.length > 0 ? 'imported' : 'refused');
    }
    if (codeOf(error) !== 'register.issued-before') throw error;
  }
  answer(i, 'imported');
}

async function amend(i) {
  const edition = ownEditionOf(name);
  const document = documentOf(edition);
  const terms = termsOf(edition);
  await register.issue({
    ...{ edition, series: 'main', planned: plannedNumbers(document), count: 1, by: name, key: `${name} own` },
    ...{ parts: numberedParts(workshop, document), ...(!(await register.terms(edition)) && { terms }) },
  });
  const renamed = { ...terms, name: `${terms.name} ${i}` };
  const changes = await register.amend({
    ...{ edition, terms: renamed, by: name, why: 'a new name', key: `${name}-${i}` },
  });
  answer(i, changes.length > 0 ? 'amended' : 'unchanged');
}

async function close(i) {
  const edition = editionOf(i);
  const out = join(folder, 'out', edition, 'statement');
  for (;;) {
    try {
      return answer(i, (await closeEdition(workshop, { edition, by: name, leaveOpen: true, out })).sha256);
    } catch (error) {
      // Somebody entered something while it counted: it is asked again, as a keeper would.
      if (codeOf(error) === 'register.edition-moved-on') continue;
      // Another may close it just before, or while this one counts.
      if (!['close.closed-before', 'register.closed-before'].includes(codeOf(error))) throw error;
      const closing = (await register.editionHistory(edition)).find(({ event }) => event.type === 'closed');
      return answer(i, closing.event.statement);
    }
  }
}

say('open');
const last = Number(from) + Number(count);
const doing = { issue: live, import: bringIn, amend, close };
for (let i = Math.max(1, Number(from) - 1); i < last; i++) {
  say(`asked ${i}`);
  say(`doing ${i}`);
  await doing[kindOf(i)](i);
}
await register.close();
